/**
 * What came out of the moulds and off the machines, as chance has it: the true masses of each piece, and when it stood on a scale.
 * Nothing here is typed yet; `scales.ts` says what a person read and wrote down.
 */
import type { Condition, Process } from '#shared/ledger/entry.ts';
import { type WorkingDay, workingDay } from './calendar.ts';
import { type PartRow, RESIN_RICH } from './part-row.ts';
import type { Random } from './random.ts';

/** Mean and standard deviation of what a process adds to its estimates, as fractions of the moulded mass. Invented. */
const HABIT: Readonly<Record<Process, readonly [mean: number, sd: number]>> = {
  'resin-infused': [-0.003, 0.016],
  'wet lay-up': [0.022, 0.02],
  prepreg: [0.008, 0.012],
  machined: [0.01, 0.006],
  printed: [0.012, 0.015],
  bought: [0.006, 0.012],
  wiring: [0.04, 0.03],
  bonding: [0.03, 0.03],
  finish: [0.03, 0.03],
  fluid: [0, 0.01],
  other: [0.012, 0.015],
};

/** Flash and later as they truly are, over what the estimates say; what two weighings of a piece teach. Invented. */
const EDGES: Readonly<Partial<Record<Process, { readonly flash: number; readonly later: number }>>> = {
  'resin-infused': { flash: 1.2, later: 1.15 },
  'wet lay-up': { flash: 0.84, later: 1.12 },
};
const USUAL_EDGES = { flash: 1.02, later: 1.03 };

/** The masses that a piece really has, in kilograms. */
type Truth = { readonly mouldedKg: number; readonly flashKg: number; readonly laterKg: number };

/** Pieces that were on a scale: what each of them truly weighs trimmed, and once all is on that goes on later. */
export type Made = {
  readonly part: string;
  readonly pieces: readonly { readonly piece: number; readonly trimmedKg: number; readonly finishedKg: number }[];
  readonly condition: Condition;
};

/** Pieces on a scale together. `netKg` is what they truly weigh. */
export type Release = {
  readonly day: WorkingDay;
  readonly pieces: readonly number[];
  readonly condition: Condition;
  readonly netKg: number;
  /** When they came out of the mould or off the machine: the day of their first weighing. */
  readonly madeOn: WorkingDay;
  readonly made: Made;
};

/** The weighings of a part, first ones and repeated ones, oldest first. */
export function releasesOf(row: PartRow, random: Random): readonly Release[] {
  if (row.weighed === undefined) return [];
  const quantity = row.quantity ?? 1;
  const lots: readonly { week: number; pieces: readonly number[] }[] =
    typeof row.weighed === 'number'
      ? [{ week: row.weighed, pieces: Array.from({ length: quantity }, (_, at) => at + 1) }]
      : row.weighed.map((week, at) => ({ week, pieces: [at + 1] }));
  return lots.flatMap(({ week, pieces }) => releasesOfLot(row, { week, pieces }, random));
}

function releasesOfLot(
  row: PartRow,
  lot: { readonly week: number; readonly pieces: readonly number[] },
  random: Random,
): readonly Release[] {
  const truth = lot.pieces.map(() => truthOf(row, lot.week, random));
  const first = firstCondition(row.process);
  const day = workingDay(lot.week, Math.floor(random.uniform() * 5));
  const again = (row.again ?? []).map(({ after, as, lighterG = 0 }) => ({
    day: workingDay(lot.week + after, Math.floor(random.uniform() * 5)),
    condition: as,
    offKg: lighterG / 1000,
  }));
  return [{ day, condition: first, offKg: 0 }, ...again].map(({ offKg, ...when }) => ({
    ...when,
    pieces: lot.pieces,
    madeOn: day,
    netKg: truth.reduce((sumKg, piece) => sumKg + massAs(piece, when.condition) - offKg, 0),
    made: {
      part: row.number,
      condition: when.condition,
      pieces: truth.map((piece, at) => ({
        piece: lot.pieces[at] ?? 0,
        trimmedKg: massAs(piece, 'trimmed') - offKg,
        finishedKg: massAs(piece, 'finished') - offKg,
      })),
    },
  }));
}

function truthOf(row: PartRow, week: number, random: Random): Truth {
  const laterKg = (row.laterG ?? 0) / 1000;
  const [mean, sd] = HABIT[row.process];
  const isRich = row.process === RESIN_RICH.process && week >= RESIN_RICH.fromWeek;
  const chance = sd * random.normal();
  const edges = EDGES[row.process] ?? USUAL_EDGES;
  const grew = row.grew === undefined ? mean + chance : row.grew + chance / 8;
  return {
    mouldedKg: ((row.kg ?? 0) - laterKg) * (1 + grew + (isRich ? RESIN_RICH.by : 0)),
    flashKg: ((row.flashG ?? 0) / 1000) * (edges.flash + 0.1 * random.normal()),
    laterKg: laterKg * (edges.later + 0.05 * random.normal()),
  };
}

function massAs({ mouldedKg, flashKg, laterKg }: Truth, condition: Condition): number {
  switch (condition) {
    case 'as released':
      return mouldedKg + flashKg;
    case 'trimmed':
      return mouldedKg;
    case 'fitted':
    case 'finished':
      return mouldedKg + laterKg;
  }
}

function firstCondition(process: Process): Condition {
  return isLaidUp(process) ? 'as released' : 'finished';
}

export function isLaidUp(process: Process): boolean {
  return process === 'resin-infused' || process === 'wet lay-up' || process === 'prepreg';
}
