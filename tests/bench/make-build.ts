/**
 * An invented build for the benchmarks of the forecast: parts of eleven processes that are added and estimated, then weighed as they are
 * released, day by day, on scales that are calibrated. Stations are known to some millimetres. Of some parts nobody weighs the last pieces.
 */
import { type Entry, type EntryId, type PartId, Process, type Statement } from '#shared/ledger/entry.ts';

const DAY_MS = 86_400_000;
const FIRST_DAY = Date.parse('2025-01-06');
const SCALES = ['bench', 'floor'];

export type Build = {
  readonly partCount: number;
  readonly weighingCount: number;
  readonly dayCount: number;
  /** Pieces of a part; weighings go round all parts, and then to their next pieces. */
  readonly quantity?: number;
};

/** Parts and estimates come in the first third of the days, weighings on the others, and each day has some. */
export function makeBuild(build: Build): readonly Entry[] {
  const { partCount, weighingCount, dayCount, quantity = 1 } = build;
  const entries: Entry[] = [];
  const put = (statement: Statement, day: number) => {
    const id = idOf('e', entries.length) as EntryId;
    entries.push({ ...statement, id, happenedOn: dayAt(day), by: 'AB' });
  };
  const begun = Math.max(1, Math.floor(dayCount / 3));
  put({ kind: 'targets', ...TARGETS, groups: [], typed: {} }, 0);
  for (const scale of SCALES) put({ kind: 'scale', scale, gainStd: 0.0005, typed: {} }, 0);
  for (let at = 0; at < partCount; at += 1) {
    const day = Math.floor((at * begun) / partCount);
    const partId = idOf('a', at) as PartId;
    const group = ['wing', 'tail', 'body', 'propulsion'][at % 4] ?? 'wing';
    const process = processAt(at);
    put({ kind: 'part added', partId, number: `P-${at}`, name: `part ${at}`, group, quantity, process }, day);
    put({ kind: 'estimate', partId, ...estimateAt(at) }, day);
  }
  for (let at = 0; at < weighingCount; at += 1) {
    const day = begun + Math.floor((at * (dayCount - begun)) / weighingCount);
    put(weighingAt(at, { partCount, quantity }), Math.min(day, dayCount - 1));
  }
  return entries;
}

/** The weighing in place `at`, counted from 0. */
export function weighingAt(at: number, { partCount, quantity = 1 }: Pick<Build, 'partCount' | 'quantity'>): Statement {
  const part = at % partCount;
  const piece = 1 + (Math.floor(at / partCount) % quantity);
  // No two processes shift alike, no two pieces come out the same, and few are far out.
  const grown = 1 + (part % Process.options.length) / 400 + ((at * 7919) % 101) / 3000;
  const netKg = (massKgAt(part) - 0.05) * grown;
  return {
    ...{ kind: 'weighing', partId: idOf('a', part) as PartId, pieces: [piece], condition: 'trimmed' },
    ...{ readings: [{ grossKg: netKg, tareKg: 0, typed: {} }], netKg, scale: SCALES[at % SCALES.length] },
    ...{ grossResolutionKg: 0.002, tareResolutionKg: 0, resolutionFrom: 'stated' },
  };
}

export function dayAt(day: number): string {
  return new Date(FIRST_DAY + day * DAY_MS).toISOString().slice(0, 10);
}

const TARGETS = {
  emptyMassKg: 250_000,
  reserveKg: 1000,
  cgForwardM: 3.5,
  cgAftM: 4.5,
  partLimit: { fraction: 0.06, absoluteKg: 0.05 },
};

function estimateAt(at: number) {
  return {
    ...{ massKg: massKgAt(at), massStdKg: 0.04 * massKgAt(at), xM: (at % 80) / 10, yM: ((at % 21) - 10) / 5, zM: 0.5 },
    ...({ armStdM: 0.005, evidence: 'estimated', growth: 0.02, laterGrowth: 0.1, growthFrom: 'shop default' } as const),
    ...{ flashKg: 0.01, laterKg: 0.05, typed: {} },
  };
}

function massKgAt(at: number): number {
  return 0.4 + (at % 97) / 50;
}

function processAt(at: number): Process {
  return Process.options[at % Process.options.length] ?? 'other';
}

function idOf(kind: 'a' | 'e', at: number): string {
  return `${kind}0000000-0000-4000-8000-${at.toString(16).padStart(12, '0')}`;
}
