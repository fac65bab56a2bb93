/** What goes out with an aircraft and comes in with it (rules X1 to X4), apart from files and from the database. */
import type { ChainedText } from '#shared/archive/entry-tables.ts';
import type { Manifest } from '#shared/archive/manifest.ts';
import type { Refusal } from '#shared/problem/registry.ts';

/** The files of an archive by their name. */
export type ArchiveFiles = ReadonlyMap<string, Uint8Array>;

export type CarriedProposal = {
  readonly proposalId: string;
  readonly revision: number;
  readonly id: string;
  readonly by: string;
  readonly recordedAt: string;
  /** JSON texts, character by character. */
  readonly sent: string;
  readonly content: string;
};

export type CarriedBrief = {
  readonly briefId: string;
  readonly fromSeq: number;
  readonly toSeq: number;
  readonly by: string;
  readonly recordedAt: string;
  /** JSON texts, character by character. */
  readonly sent: string;
  readonly content: string;
};

export type CarriedBriefStatement = {
  readonly briefId: string;
  readonly revision: number;
  readonly id: string;
  readonly act: 'remark' | 'issue' | 'drop';
  readonly by: string;
  readonly recordedAt: string;
  readonly sent: string;
  readonly remarks: string;
  /** Of an issue: they follow from the order of all issues, and from content and remarks. */
  readonly number: number | undefined;
  readonly hash: string | undefined;
};

export type CarriedPhoto = {
  readonly id: string;
  readonly partId: string | undefined;
  readonly entryId: string | undefined;
  readonly by: string;
  readonly recordedAt: string;
  readonly remark: string | undefined;
  readonly widthPx: number;
  readonly heightPx: number;
  /** SHA-256 of `bytes`. */
  readonly sha256: string;
  readonly bytes: Uint8Array;
  readonly smallBytes: Uint8Array;
  readonly removal: { readonly by: string; readonly recordedAt: string; readonly reason: string } | undefined;
};

export type CarriedAircraft = {
  readonly aircraft: Manifest['aircraft'];
  readonly entries: readonly ChainedText[];
  readonly proposals: readonly CarriedProposal[];
  readonly briefs: readonly CarriedBrief[];
  /** In the order in which they were stated. */
  readonly briefStatements: readonly CarriedBriefStatement[];
  readonly photos: readonly CarriedPhoto[];
};

export type ReadArchive = CarriedAircraft & {
  readonly headHash: string;
  /** Where the rules of another version come to another headline than when it was carried out. */
  readonly isHeadlineOtherwise: boolean;
};

/** `line` and `column` count from 1; 0 means the file, or a line, as a whole. */
export type ArchiveProblem = {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly heading: string;
  readonly refusal: Refusal;
};

export function ofWhole(file: string, refusal: Refusal, line = 0): ArchiveProblem {
  return { file, line, column: 0, heading: '', refusal };
}

export type Answer<Value> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly problems: readonly ArchiveProblem[] };
