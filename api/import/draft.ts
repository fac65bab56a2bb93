/** What the worker is asked and what it answers: plain data, since it goes from one thread to another. */
import type { ListPreview, SentList } from '#shared/contract/import.ts';
import type { AircraftId } from '#shared/ledger/entry.ts';
import type { ImportKind, ListProblem } from '#shared/table/lists.ts';

export type RecordedText = { readonly seq: number; readonly recordedAt: string; readonly content: string };

export type DraftQuestion = {
  readonly aircraftId: AircraftId;
  /** What the ledger has beyond what the worker holds of this aircraft; `from` is where that ends. */
  readonly from: number;
  readonly added: readonly RecordedText[];
  readonly lists: Partial<Record<ImportKind, SentList>>;
  readonly revise: boolean;
  readonly today: string;
  readonly by: string;
};

export type DraftAnswer = {
  readonly headSeq: number;
  /** Over the entries' texts and the doubts about them: the same draft has the same. */
  readonly digest: string;
  readonly contents: readonly string[];
  readonly kinds: Readonly<Record<string, number>>;
  readonly lists: Partial<Record<ImportKind, ListPreview>>;
  readonly problems: readonly ListProblem[];
};

export type FromWorker = { readonly answer: DraftAnswer } | { readonly fault: string };
