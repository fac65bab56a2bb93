/**
 * An aircraft as files (rules X1, X2): its chain as tables, what stands beside the ledger, and a manifest of all of them. Works in one go on
 * what it is given; nothing is read from a database or written to a disk here.
 */
import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';
import { entryHash, genesisHash } from '#db/ledger/chain-hash.ts';
import { ABOUT_TEXT } from '#shared/archive/about.ts';
import { fileOfKind } from '#shared/archive/columns.ts';
import { type ChainedText, entriesOfRows, entryTables } from '#shared/archive/entry-tables.ts';
import { ABOUT, ARCHIVE_FORMAT, MANIFEST, type Manifest } from '#shared/archive/manifest.ts';
import { SIDE_TABLES, type SideTable, sideTable } from '#shared/archive/side-tables.ts';
import { type Table, tableText } from '#shared/archive/table.ts';
import type { HeadlineReport } from '#shared/contract/reports.ts';
import { entryFromText } from '#shared/ledger/canonical.ts';
import { foldEntries, type Ledger } from '#shared/ledger/fold.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { say } from '#shared/words/say.ts';
import { type Answer, type ArchiveFiles, type CarriedAircraft, type CarriedPhoto, ofWhole } from './archive.ts';
import { VERSION } from './version.ts';

export type WriteRequest = CarriedAircraft & {
  /** Of the aircraft's row: the chain must end with it. */
  readonly headHash: string;
  readonly exportedAt: string;
  readonly exportedBy: string;
};

const LEFT_BEHIND = [
  'people, their passwords, and who may see the aircraft',
  'a weighing of the aircraft that is being made and is not signed',
  'what devices keep for themselves: what is typed and not recorded',
];

/** The files of an aircraft. Refuses a chain that is not whole, since what came of it could not be brought in again. */
export function writeArchive(request: WriteRequest): Answer<ArchiveFiles> {
  const { aircraft, entries, headHash } = request;
  const fault = faultOf(aircraft.id, entries, headHash);
  if (fault !== undefined)
    return {
      ok: false,
      problems: [ofWhole('', { code: 'ledger-not-whole', seq: fault, why: say`its hash does not fit.` })],
    };
  const files = new Map<string, Uint8Array>();
  const listed: { name: string; rows?: number; bytes: number; sha256: string }[] = [];
  const add = (name: string, bytes: Uint8Array, rows?: number) => {
    files.set(name, bytes);
    listed.push({ name, ...(rows === undefined ? {} : { rows }), bytes: bytes.length, sha256: sha256Of(bytes) });
  };
  const addTable = (name: string, table: Table) => add(name, utf8(tableText(table)), table.rows.length);
  add(ABOUT, utf8(ABOUT_TEXT));
  const tables = entryTables(entries);
  const strange = notFaithful(tables, entries);
  if (strange !== undefined)
    return {
      ok: false,
      problems: [
        ofWhole('', {
          code: 'ledger-not-whole',
          seq: strange,
          why: say`its text is not the one that its fields make.`,
        }),
      ],
    };
  for (const [kind, table] of tables) addTable(fileOfKind(kind), table);
  const ledger = foldEntries(entries.map(({ content, ...at }) => ({ ...at, entry: entryFromText(content) })));
  for (const [table, rows] of Object.entries(sideRowsOf(request, ledger)) as [
    SideTable,
    Parameters<typeof sideTable>[1],
  ][])
    if (rows.length > 0) addTable(SIDE_TABLES[table].file, sideTable(table, rows));
  for (const photo of request.photos) {
    add(photoFile(photo.id), photo.bytes);
    add(smallPhotoFile(photo.id), photo.smallBytes);
  }
  const headline = headlineReport(ledger);
  const manifest: Omit<Manifest, 'check'> = {
    format: ARCHIVE_FORMAT,
    version: VERSION,
    aircraft,
    exportedAt: request.exportedAt,
    exportedBy: request.exportedBy,
    entryCount: entries.length,
    headHash,
    headline,
    headlineHash: headlineHash(headline),
    files: listed,
    leftBehind: LEFT_BEHIND,
  };
  files.set(MANIFEST, utf8(`${JSON.stringify({ ...manifest, check: canonicalHash(manifest) }, null, 2)}\n`));
  return { ok: true, value: files };
}

/** The first entry that does not fit the chain; what follows the last, where that is not the head. */
export function faultOf(aircraftId: string, entries: readonly ChainedText[], headHash: string): number | undefined {
  let prevHash = genesisHash(aircraftId);
  for (const [index, { seq, recordedAt, content, hash }] of entries.entries()) {
    if (seq !== index + 1 || entryHash({ aircraftId, seq, recordedAt, prevHash, content }) !== hash) return index + 1;
    prevHash = hash;
  }
  return prevHash === headHash ? undefined : Math.max(entries.length, 1);
}

/** An entry that its own row would not bring back. */
function notFaithful(tables: ReturnType<typeof entryTables>, entries: readonly ChainedText[]): number | undefined {
  for (const [kind, { rows }] of tables) {
    const back = entriesOfRows(
      kind,
      rows.map((cells, at) => ({ line: at, cells })),
    );
    for (const { chained } of back.entries)
      if (chained.content !== entries[chained.seq - 1]?.content) return chained.seq;
    if (back.entries.length !== rows.length) return Number(rows[back.problems[0]?.line ?? 0]?.[0] ?? 0);
  }
  return undefined;
}

function sideRowsOf({ proposals, briefs, briefStatements, photos }: CarriedAircraft, ledger: Ledger) {
  const numbers = new Map(
    [...ledger.books.byPart].map(([partId, { state }]) => [String(partId), state?.definition?.number]),
  );
  const seqs = new Map([...ledger.entryById].map(([id, { seq }]) => [String(id), seq]));
  return {
    proposals: proposals.map(({ content, sent, proposalId, revision, id, by, recordedAt }) => {
      const { title, state, owner } = JSON.parse(content) as Record<string, string | undefined>;
      return { title, state, owner, revision, who: by, recorded: recordedAt, proposal: proposalId, id, sent, content };
    }),
    briefs: briefs.map(({ briefId, fromSeq, toSeq, by, recordedAt, sent, content }) => ({
      ...{ 'from entry': fromSeq, 'to entry': toSeq, who: by, recorded: recordedAt, brief: briefId, sent, content },
    })),
    'brief statements': briefStatements.map(({ briefId, by, recordedAt, ...rest }) => ({
      ...rest,
      ...{ who: by, recorded: recordedAt, brief: briefId },
    })),
    photos: photos.map((photo) => ({
      part: numbers.get(photo.partId ?? ''),
      entry: seqs.get(photo.entryId ?? ''),
      who: photo.by,
      recorded: photo.recordedAt,
      remark: photo.remark,
      file: photoFile(photo.id),
      'removed by': photo.removal?.by,
      removed: photo.removal?.recordedAt,
      'removed because': photo.removal?.reason,
      width: photo.widthPx,
      height: photo.heightPx,
      partId: photo.partId,
      entryId: photo.entryId,
      id: photo.id,
      sha256: photo.sha256,
    })),
  };
}

export function photoFile(id: CarriedPhoto['id']): string {
  return `photos/${id}.jpg`;
}

export function smallPhotoFile(id: CarriedPhoto['id']): string {
  return `photos/${id}-small.jpg`;
}

export function headlineHash(headline: HeadlineReport): string {
  return canonicalHash(headline);
}

/** SHA-256 of a value in its canonical spelling (RFC 8785). */
export function canonicalHash(value: unknown): string {
  return sha256Of(utf8(canonicalize(value) ?? ''));
}

export function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

function utf8(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}
