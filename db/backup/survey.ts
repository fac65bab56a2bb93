/**
 * What is in a store, worked out from its rows as they go by: how many each table has and what they hash to, and for each aircraft its chain,
 * entry by entry, and its headline. The same is done while a backup is made, while its file is read, and with what was restored; where the three
 * are equal, nothing was lost on the way (rules Z1, Z2).
 */
import { createHash, type Hash } from 'node:crypto';
import { headlineHash } from '#db/archive/write-archive.ts';
import { entryHash, genesisHash } from '#db/ledger/chain-hash.ts';
import { bulkHeadline } from '#shared/bulk/bulk-headline.ts';
import { entryFromText } from '#shared/ledger/canonical.ts';
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import { foldEntries } from '#shared/ledger/fold.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import type { AircraftFacts, TableFacts } from './manifest.ts';

/** Rows of one table, each as JSON on one line. */
export type Chunk = { readonly table: string; readonly lines: readonly string[] };

export type Survey = { readonly tables: readonly TableFacts[]; readonly aircraft: readonly AircraftFacts[] };

/** A ledger that does not fit itself at entry `seq`. */
export class ChainBroken extends Error {
  readonly aircraft: string;
  readonly seq: number;

  constructor(aircraft: string, seq: number) {
    super(`the chain of ${aircraft} does not fit at entry ${seq}`);
    this.aircraft = aircraft;
    this.seq = seq;
  }
}

type AircraftRow = {
  readonly id: string;
  readonly name: string;
  readonly head_seq: number;
  readonly head_hash: string;
};
type EntryRow = { readonly aircraft_id: string; readonly seq: number; readonly recorded_at: string } & {
  readonly prev_hash: string;
  readonly hash: string;
  readonly content: string;
};

/** `entries` is undefined once one of them could not be read. */
type Walked = { readonly row: AircraftRow; seq: number; hash: string; entries: RecordedEntry[] | undefined };

/** Takes chunks in the order of `read-store.ts`: an aircraft comes before its entries, and they come in order. */
export class Surveyor {
  readonly #tables = new Map<string, { rows: number; hash: Hash }>();
  readonly #aircraft = new Map<string, { readonly row: AircraftRow; facts: AircraftFacts | undefined }>();
  #walked: Walked | undefined;

  add({ table, lines }: Chunk): void {
    const facts = this.#tables.get(table) ?? { rows: 0, hash: createHash('sha256') };
    this.#tables.set(table, facts);
    facts.rows += lines.length;
    for (const line of lines) facts.hash.update(line).update('\n');
    if (table === 'aircraft') for (const line of lines) this.#meet(JSON.parse(line) as AircraftRow);
    if (table === 'entry') for (const line of lines) this.#walk(JSON.parse(line) as EntryRow);
  }

  /** Throws `ChainBroken`, as `add` does. */
  finish(): Survey {
    this.#settle();
    return {
      tables: [...this.#tables].map(([name, { rows, hash }]) => ({ name, rows, sha256: hash.copy().digest('hex') })),
      aircraft: [...this.#aircraft.values()].map(({ row, facts }) => facts ?? settled(begun(row))),
    };
  }

  #meet(row: AircraftRow): void {
    this.#aircraft.set(row.id, { row, facts: undefined });
  }

  #walk({ aircraft_id: aircraftId, seq, recorded_at: recordedAt, prev_hash: prevHash, hash, content }: EntryRow): void {
    if (this.#walked?.row.id !== aircraftId) this.#begin(aircraftId, seq);
    const walked = this.#walked;
    if (walked === undefined) throw new Error('an aircraft is being walked');
    const isNext = seq === walked.seq + 1 && prevHash === walked.hash;
    if (!isNext || entryHash({ aircraftId, seq, recordedAt, prevHash, content }) !== hash)
      throw new ChainBroken(walked.row.name, walked.seq + 1);
    walked.seq = seq;
    walked.hash = hash;
    try {
      walked.entries?.push({ seq, recordedAt, entry: entryFromText(content) });
    } catch {
      walked.entries = undefined;
    }
  }

  #begin(aircraftId: string, seq: number): void {
    this.#settle();
    const met = this.#aircraft.get(aircraftId);
    if (met === undefined || met.facts !== undefined) throw new ChainBroken(met?.row.name ?? aircraftId, seq);
    this.#walked = begun(met.row);
  }

  #settle(): void {
    if (this.#walked === undefined) return;
    const { row } = this.#walked;
    this.#aircraft.set(row.id, { row, facts: settled(this.#walked) });
    this.#walked = undefined;
  }
}

function begun(row: AircraftRow): Walked {
  return { row, seq: 0, hash: genesisHash(row.id), entries: [] };
}

function settled({ row, seq, hash, entries }: Walked): AircraftFacts {
  if (row.head_seq !== seq || row.head_hash !== hash) throw new ChainBroken(row.name, seq + 1);
  const headline = entries === undefined ? null : headlineOf(entries);
  return { id: row.id, name: row.name, entryCount: seq, headHash: hash, headline };
}

function headlineOf(entries: readonly RecordedEntry[]): AircraftFacts['headline'] {
  try {
    const headline = bulkHeadline(entries)?.headline ?? headlineReport(foldEntries(entries));
    return { predictedKg: headline.predictedKg, cgXM: headline.cg.xM ?? null, sha256: headlineHash(headline) };
  } catch {
    // Rules that cannot be worked out must not keep anybody from making a backup: the rows are all there.
    return null;
  }
}
