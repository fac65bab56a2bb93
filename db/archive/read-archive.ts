/**
 * An aircraft from files (rules X2, X3): everything that is not as it was carried out is told with its file and row, and nothing of it is taken
 * where there is anything. What fits its own list must still be a chain that fits itself, entries that a ledger takes, and the headline it had:
 * a list can be written by anybody.
 */
import { projectContent } from '#db/ledger/projection.ts';
import { ENTRY_KINDS, type EntryKind, fileOfKind } from '#shared/archive/columns.ts';
import { type ChainedText, entriesOfRows, headingsOf, type ReadRow } from '#shared/archive/entry-tables.ts';
import { ARCHIVE_FORMAT, MANIFEST, Manifest } from '#shared/archive/manifest.ts';
import type { ArchiveRefusal } from '#shared/archive/refusal.ts';
import { SIDE_TABLES, type SideTable, sideHeadings } from '#shared/archive/side-tables.ts';
import { type Row, readTable } from '#shared/archive/table.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import { entryFromText } from '#shared/ledger/canonical.ts';
import { applyEntry, openLedger } from '#shared/ledger/fold.ts';
import { explain } from '#shared/problem/registry.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { say } from '#shared/words/say.ts';
import { type Answer, type ArchiveFiles, type ArchiveProblem, ofWhole, type ReadArchive } from './archive.ts';
import { readBriefStatements, readBriefs, readPhotos, readProposals } from './read-side-tables.ts';
import { VERSION } from './version.ts';
import { canonicalHash, faultOf, headlineHash, sha256Of } from './write-archive.ts';

/** `today`: no entry is of a day to come. */
export function readArchive(files: ArchiveFiles, { today }: { readonly today: string }): Answer<ReadArchive> {
  const manifest = readManifest(files.get(MANIFEST));
  if (!manifest.ok) return manifest;
  const listed = new Map(manifest.value.files.map((file) => [file.name, file]));
  const problems: ArchiveProblem[] = [
    ...[...listed.keys()].flatMap((name) => (files.has(name) ? [] : [ofWhole(name, { code: 'archive-file-missing' })])),
    ...[...files.keys()].flatMap((name) =>
      name === MANIFEST || listed.has(name) ? [] : [ofWhole(name, { code: 'archive-file-strange' })],
    ),
  ];
  const tables = new Map<string, readonly Row[]>();
  for (const [name, { bytes, sha256, rows }] of listed) {
    const there = files.get(name);
    if (there === undefined) continue;
    const isWhole = there.length === bytes && sha256Of(there) === sha256;
    const headings = headingsOfFile(name);
    if (headings === undefined) {
      if (name.endsWith('.csv')) problems.push(ofWhole(name, { code: 'archive-file-strange' }));
      else if (!isWhole) problems.push(ofWhole(name, { code: 'archive-changed', what: 'file' }));
      continue;
    }
    const found = tableProblems(name, there, headings);
    // A file that cannot be read says so by itself, and not row by row.
    if (found.rows.length > 0 || found.problems.length === 0) tables.set(name, found.rows);
    problems.push(...found.problems);
    // Rows that are missing are told below, each by itself.
    if (!isWhole && found.problems.length === 0 && found.rows.length === rows)
      problems.push(...outOfPlace(name, found.rows, headings));
  }
  const chain = readChain(tables, manifest.value);
  problems.push(...chain.problems);
  const briefs = readBriefs(tables);
  const side = {
    proposals: readProposals(tables),
    briefs,
    briefStatements: readBriefStatements(tables, briefs.rows),
    photos: readPhotos(tables, files),
  };
  problems.push(...Object.values(side).flatMap((read) => read.problems));
  if (problems.length > 0) return { ok: false, problems: oncePerPlace(problems) };
  return verified(manifest.value, chain.rows, { ...side, today });
}

function readManifest(bytes: Uint8Array | undefined): Answer<Manifest> {
  const no = (refusal: ArchiveRefusal) => ({ ok: false, problems: [ofWhole(MANIFEST, refusal)] }) as const;
  if (bytes === undefined) return no({ code: 'archive-file-missing' });
  let read: unknown;
  try {
    read = JSON.parse(new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes));
  } catch {
    return no({ code: 'archive-manifest-changed', why: say`it cannot be read` });
  }
  const format = (read as { format?: unknown } | null)?.format;
  if (typeof format === 'number' && format > ARCHIVE_FORMAT)
    return no({ code: 'archive-newer', format, known: ARCHIVE_FORMAT });
  const parsed = Manifest.safeParse(read);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    return no({
      code: 'archive-manifest-changed',
      why: `${issue?.path.join(' ') ?? ''} ${issue?.message ?? ''}`.trim().slice(0, 200),
    });
  }
  const { check, ...rest } = read as Manifest;
  if (canonicalHash(rest) !== check)
    return no({ code: 'archive-manifest-changed', why: say`it does not fit its own check` });
  const names = parsed.data.files.map(({ name }) => name);
  if (new Set(names).size !== names.length)
    return no({ code: 'archive-manifest-changed', why: say`it names a file twice` });
  return { ok: true, value: parsed.data };
}

const KIND_OF_FILE: ReadonlyMap<string, EntryKind> = new Map(ENTRY_KINDS.map((kind) => [fileOfKind(kind), kind]));
const SIDE_OF_FILE: ReadonlyMap<string, SideTable> = new Map(
  (Object.keys(SIDE_TABLES) as SideTable[]).map((table) => [SIDE_TABLES[table].file, table]),
);

function headingsOfFile(name: string): readonly string[] | undefined {
  const kind = KIND_OF_FILE.get(name);
  if (kind !== undefined) return headingsOf(kind);
  const side = SIDE_OF_FILE.get(name);
  return side === undefined ? undefined : sideHeadings(side);
}

function tableProblems(
  name: string,
  bytes: Uint8Array,
  headings: readonly string[],
): { readonly rows: readonly Row[]; readonly problems: readonly ArchiveProblem[] } {
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    const sign = 'its letters are no UTF-8';
    return { rows: [], problems: [ofWhole(name, { code: 'archive-saved-anew', sign })] };
  }
  const { rows, problems } = readTable(text, headings);
  return { rows, problems: problems.map((problem) => ({ file: name, ...problem })) };
}

/** Of a file that is not the one that was listed, with cells that all fit their digits: where rows were moved, else the file as a whole. */
function outOfPlace(name: string, rows: readonly Row[], headings: readonly string[]): readonly ArchiveProblem[] {
  const at = headings.indexOf('entry');
  let before = 0;
  const moved = rows.flatMap(({ line, cells }) => {
    const seq = Number(cells[at]);
    const isBehind = KIND_OF_FILE.has(name) && seq <= before;
    before = Math.max(before, seq);
    return isBehind ? [ofWhole(name, { code: 'archive-row-out-of-place', row: `entry ${seq}` }, line)] : [];
  });
  return moved.length > 0 ? moved : [ofWhole(name, { code: 'archive-changed', what: 'file' })];
}

type PlacedEntry = ReadRow & { readonly file: string };

function readChain(
  tables: ReadonlyMap<string, readonly Row[]>,
  { entryCount, files }: Manifest,
): { readonly rows: readonly PlacedEntry[]; readonly problems: readonly ArchiveProblem[] } {
  const problems: ArchiveProblem[] = [];
  const bySeq = new Map<number, PlacedEntry>();
  let read = 0;
  for (const [file, kind] of KIND_OF_FILE) {
    const rows = tables.get(file);
    if (rows === undefined) continue;
    const found = entriesOfRows(kind, rows);
    read += rows.length;
    problems.push(...found.problems.map((problem) => ({ file, ...problem })));
    for (const row of found.entries) {
      const { seq } = row.chained;
      if (bySeq.has(seq) || seq > entryCount)
        problems.push(ofWhole(file, { code: 'archive-row-out-of-place', row: `entry ${seq}` }, row.line));
      else bySeq.set(seq, { ...row, file });
    }
  }
  if (
    problems.length === 0 &&
    read < entryCount &&
    files.every(({ name, rows }) => rows === undefined || tables.has(name))
  )
    problems.push(...missingRows(bySeq, tables, files, entryCount));
  return { rows: [...bySeq.values()].sort((a, b) => a.chained.seq - b.chained.seq), problems };
}

const MOST_TOLD = 1_000;

/** Each row that is missing, in the file that has fewer rows than it had, at the line where it would stand. */
function missingRows(
  bySeq: ReadonlyMap<number, PlacedEntry>,
  tables: ReadonlyMap<string, readonly Row[]>,
  files: Manifest['files'],
  entryCount: number,
): readonly ArchiveProblem[] {
  const short = files.filter(
    ({ name, rows }) => KIND_OF_FILE.has(name) && (tables.get(name)?.length ?? 0) < (rows ?? 0),
  );
  const [only] = short.length === 1 ? short : [];
  const told: ArchiveProblem[] = [];
  for (let seq = 1; seq <= entryCount && told.length < MOST_TOLD; seq += 1) {
    if (bySeq.has(seq)) continue;
    const rows = tables.get(only?.name ?? '') ?? [];
    const next = rows.find(({ cells }) => Number(cells[0]) > seq);
    const file = only?.name ?? short.map(({ name }) => name).join(' or ');
    told.push(ofWhole(file, { code: 'archive-row-missing', row: `entry ${seq}` }, next?.line ?? 0));
  }
  return told;
}

type Side = {
  readonly proposals: ReturnType<typeof readProposals>;
  readonly briefs: ReturnType<typeof readBriefs>;
  readonly briefStatements: ReturnType<typeof readBriefStatements>;
  readonly photos: ReturnType<typeof readPhotos>;
  readonly today: string;
};

/** The chain, every entry by the rules, and the headline. */
function verified(
  manifest: Manifest,
  rows: readonly PlacedEntry[],
  { proposals, briefs, briefStatements, photos, today }: Side,
): Answer<ReadArchive> {
  const entries: ChainedText[] = rows.map(({ chained }) => chained);
  const at = (seq: number, refusal: ArchiveRefusal): Answer<never> => {
    const row = rows[seq - 1];
    return { ok: false, problems: [ofWhole(row?.file ?? MANIFEST, refusal, row?.line ?? 0)] };
  };
  const fault = faultOf(manifest.aircraft.id, entries, manifest.headHash);
  if (fault !== undefined) return at(fault, { code: 'archive-chain-broken', seq: fault });
  const ledger = openLedger();
  const ids = new Set<string>();
  for (const { seq, recordedAt, content } of entries) {
    const why =
      unfitness(content) ?? (ids.has(JSON.parse(content).id) ? say`its id is that of another entry` : undefined);
    if (why !== undefined) return at(seq, { code: 'archive-row-refused', why });
    const entry = entryFromText(content);
    const [objection] = objectionsTo(entry, ledger, today);
    if (objection !== undefined)
      return at(seq, { code: 'archive-row-refused', why: lower(explain(objection.refusal).words) });
    ids.add(entry.id);
    applyEntry(ledger, { seq, recordedAt, entry });
  }
  const isOtherwise = headlineHash(headlineReport(ledger)) !== manifest.headlineHash;
  // Another version may have other rules; the entries are what is carried.
  if (isOtherwise && manifest.version === VERSION)
    return { ok: false, problems: [ofWhole(MANIFEST, { code: 'archive-headline-differs' })] };
  return {
    ok: true,
    value: {
      aircraft: manifest.aircraft,
      entries,
      proposals: proposals.rows,
      briefs: briefs.rows,
      briefStatements: briefStatements.rows,
      photos: photos.rows,
      headHash: manifest.headHash,
      isHeadlineOtherwise: isOtherwise,
    },
  };
}

/** Why a text can be no entry of a ledger. */
function unfitness(content: string): string | undefined {
  const projected = projectContent(content);
  if (!projected.ok) return lower(projected.words);
  try {
    entryFromText(content);
    return undefined;
  } catch {
    return 'its fields are not those of an entry';
  }
}

function lower(sentence: string): string {
  return `${sentence.slice(0, 1).toLowerCase()}${sentence.slice(1)}`.replace(/\.$/, '');
}

/** A cell that does not fit its digits and cannot be read either is told once. */
function oncePerPlace(problems: readonly ArchiveProblem[]): readonly ArchiveProblem[] {
  const seen = new Set<string>();
  return problems.filter(({ file, line, column }) => {
    const place = `${file}\n${line}\n${column}`;
    return line === 0 || (!seen.has(place) && seen.add(place));
  });
}
