/** What stands beside the ledger, from its tables (rule X3): proposals in the order of their revisions, and photos with their bytes. */

import { z } from 'zod';
import { MOMENT } from '#shared/archive/entry-tables.ts';
import type { ArchiveRefusal } from '#shared/archive/refusal.ts';
import { type ReadSideRow, SIDE_TABLES, type SideTable, sideRows } from '#shared/archive/side-tables.ts';
import type { Row } from '#shared/archive/table.ts';
import { BriefContent, BriefRemarks } from '#shared/contract/brief.ts';
import { ProposalContent } from '#shared/contract/proposal.ts';
import { isPlainJpeg } from '#shared/photo/jpeg.ts';
import { MOST_PHOTO_BYTES, MOST_SMALL_BYTES } from '#shared/photo/limits.ts';
import { say } from '#shared/words/say.ts';
import {
  type ArchiveFiles,
  type ArchiveProblem,
  type CarriedBrief,
  type CarriedBriefStatement,
  type CarriedPhoto,
  type CarriedProposal,
  ofWhole,
} from './archive.ts';
import { photoFile, sha256Of, smallPhotoFile } from './write-archive.ts';

type Tables = ReadonlyMap<string, readonly Row[]>;
type Read<Value> = { readonly rows: readonly Value[]; readonly problems: readonly ArchiveProblem[] };

const id = z.uuid().toLowerCase();
const moment = z.string().regex(MOMENT, 'says no moment');
const who = z.string().min(1).max(60);

const ProposalRow = z.object({
  proposal: id,
  revision: z.int().min(1),
  id,
  who,
  recorded: moment,
  sent: z.string().max(1_000_000),
  content: z
    .string()
    .max(1_000_000)
    .refine((text) => fits(ProposalContent, text), 'is no proposal'),
});

function fits(schema: z.ZodType, text: string): boolean {
  try {
    return schema.safeParse(JSON.parse(text)).success;
  } catch {
    return false;
  }
}

export function readProposals(tables: Tables): Read<CarriedProposal> {
  const last = new Map<string, number>();
  return readRows('proposals', tables, (row) => {
    const parsed = ProposalRow.safeParse(row);
    if (!parsed.success) return refusedRow(parsed.error);
    const { proposal, who: by, recorded: recordedAt, ...rest } = parsed.data;
    const expected = (last.get(proposal) ?? 0) + 1;
    if (rest.revision !== expected) return { code: 'archive-row-missing', row: `revision ${expected} of a proposal` };
    last.set(proposal, expected);
    return { value: { proposalId: proposal, by, recordedAt, ...rest } };
  });
}

const BriefRow = z.object({
  brief: id,
  'from entry': z.int().min(0),
  'to entry': z.int().min(1),
  who,
  recorded: moment,
  sent: z.string().max(4_096),
  content: z
    .string()
    .max(8_388_608)
    .refine((text) => fits(BriefContent, text), 'is no brief'),
});

export function readBriefs(tables: Tables): Read<CarriedBrief> {
  return readRows('briefs', tables, (row) => {
    const parsed = BriefRow.safeParse(row);
    if (!parsed.success) return refusedRow(parsed.error);
    const { brief, who: by, recorded: recordedAt, sent, content } = parsed.data;
    const [fromSeq, toSeq] = [parsed.data['from entry'], parsed.data['to entry']];
    if (fromSeq > toSeq) return { code: 'archive-row-refused', why: say`its period ends before it begins` };
    return { value: { briefId: brief, fromSeq, toSeq, by, recordedAt, sent, content } };
  });
}

const BriefStatementRow = z.object({
  brief: id,
  revision: z.int().min(1),
  id,
  act: z.enum(['remark', 'issue', 'drop']),
  number: z.int().min(1).optional(),
  hash: z.string().optional(),
  who,
  recorded: moment,
  sent: z.string().max(262_144),
  remarks: z
    .string()
    .max(262_144)
    .refine((text) => fits(BriefRemarks, text), 'are no remarks'),
});

export function readBriefStatements(tables: Tables, briefs: readonly CarriedBrief[]): Read<CarriedBriefStatement> {
  const known = new Set(briefs.map(({ briefId }) => briefId));
  const last = new Map<string, number>();
  return readRows('brief statements', tables, (row) => {
    const parsed = BriefStatementRow.safeParse(row);
    if (!parsed.success) return refusedRow(parsed.error);
    const { brief: briefId, who: by, recorded: recordedAt, number, hash, ...rest } = parsed.data;
    if (!known.has(briefId)) return { code: 'archive-row-refused', why: say`it speaks of a brief that is not there` };
    const expected = (last.get(briefId) ?? 0) + 1;
    if (rest.revision !== expected) return { code: 'archive-row-missing', row: `statement ${expected} of a brief` };
    last.set(briefId, expected);
    return { value: { briefId, by, recordedAt, number, hash, ...rest } };
  });
}

const PhotoRow = z.object({
  id,
  who,
  recorded: moment,
  remark: z.string().min(1).max(400).optional(),
  'removed by': who.optional(),
  removed: moment.optional(),
  'removed because': z.string().min(1).max(400).optional(),
  width: z.int().min(1),
  height: z.int().min(1),
  partId: id.optional(),
  entryId: id.optional(),
  sha256: z.string(),
});

export function readPhotos(tables: Tables, files: ArchiveFiles): Read<CarriedPhoto> {
  const seen = new Set<string>();
  return readRows('photos', tables, (row) => {
    const parsed = PhotoRow.safeParse(row);
    if (!parsed.success) return refusedRow(parsed.error);
    const photo = parsed.data;
    const [bytes, smallBytes] = [files.get(photoFile(photo.id)), files.get(smallPhotoFile(photo.id))];
    const why = misfit(photo, bytes, smallBytes) ?? (seen.has(photo.id) ? say`its photo is there twice` : undefined);
    if (why !== undefined || bytes === undefined || smallBytes === undefined)
      return { code: 'archive-row-refused', why: why ?? say`its photo is missing` };
    seen.add(photo.id);
    const { 'removed by': by, removed, 'removed because': reason } = photo;
    const removal =
      by === undefined || removed === undefined || reason === undefined
        ? undefined
        : { by, recordedAt: removed, reason };
    return {
      value: {
        ...{ id: photo.id, partId: photo.partId, entryId: photo.entryId, by: photo.who, recordedAt: photo.recorded },
        ...{ remark: photo.remark, widthPx: photo.width, heightPx: photo.height, sha256: photo.sha256 },
        ...{ bytes, smallBytes, removal },
      },
    };
  });
}

/** A photo is taken as it is: it must be one that a server could have made. */
function misfit(
  { sha256, width, height, partId, entryId }: z.infer<typeof PhotoRow>,
  bytes: Uint8Array | undefined,
  smallBytes: Uint8Array | undefined,
): string | undefined {
  if (bytes === undefined || smallBytes === undefined) return 'its photo is missing';
  if (partId === undefined && entryId === undefined) return 'it is a photo of nothing';
  if (sha256Of(bytes) !== sha256) return 'its photo is another one';
  if (bytes.length > MOST_PHOTO_BYTES || smallBytes.length > MOST_SMALL_BYTES) return 'its photo is too large';
  if (!isPlainJpeg(bytes, { widthPx: width, heightPx: height }) || !isPlainJpeg(smallBytes))
    return 'its photo has something in it that the server takes out of photos';
  return undefined;
}

function readRows<Value>(
  table: SideTable,
  tables: Tables,
  read: (row: ReadSideRow['row']) => ArchiveRefusal | { readonly value: Value },
): Read<Value> {
  const { file } = SIDE_TABLES[table];
  const found = sideRows(table, tables.get(file) ?? []);
  const problems: ArchiveProblem[] = found.problems.map((problem) => ({ file, ...problem }));
  const rows = found.rows.flatMap(({ line, row }) => {
    const answer = read(row);
    if ('value' in answer) return [answer.value];
    problems.push(ofWhole(file, answer, line));
    return [];
  });
  return { rows, problems };
}

function refusedRow(error: z.ZodError): ArchiveRefusal {
  const [issue] = error.issues;
  return {
    code: 'archive-row-refused',
    why: `${issue?.path.join(' ') ?? 'it'}: ${issue?.message ?? ''}`.slice(0, 200),
  };
}
