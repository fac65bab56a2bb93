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
  'resin-infused': [0.006, 0.016],
  'wet lay-up': [0.014, 0.02],
  prepreg: [0.008, 0.012],
  machined: [0.004, 0.009],
  printed: [0.012, 0.015],
  bought: [0.006, 0.012],
  wiring: [0.04, 0.03],
  bonding: [0.03, 0.03],
  finish: [0.03, 0.03],
  fluid: [0, 0.01],
  other: [0.012, 0.015],
};

/** The masses that a piece really has, in kilograms. */
type Truth = { readonly mouldedKg: number; readonly flashKg: number; readonly laterKg: number };

/** Pieces on a scale together. `netKg` is what they truly weigh. */
export type Release = {
  readonly day: WorkingDay;
  readonly pieces: readonly number[];
  readonly condition: Condition;
  readonly netKg: number;
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
  const again = (row.again ?? []).map(({ after, as }) => ({
    day: workingDay(lot.week + after, Math.floor(random.uniform() * 5)),
    condition: as,
  }));
  return [{ day, condition: first }, ...again].map((when) => ({
    ...when,
    pieces: lot.pieces,
    netKg: truth.reduce((sumKg, piece) => sumKg + massAs(piece, when.condition), 0),
  }));
}

function truthOf(row: PartRow, week: number, random: Random): Truth {
  const laterKg = (row.laterG ?? 0) / 1000;
  const [mean, sd] = HABIT[row.process];
  const isRich = row.process === RESIN_RICH.process && week >= RESIN_RICH.fromWeek;
  const chance = sd * random.normal();
  const grew = row.grew === undefined ? mean + chance : row.grew + chance / 8;
  return {
    mouldedKg: ((row.kg ?? 0) - laterKg) * (1 + grew + (isRich ? RESIN_RICH.by : 0)),
    flashKg: ((row.flashG ?? 0) / 1000) * (1.02 + 0.1 * random.normal()),
    laterKg: laterKg * (1.03 + 0.05 * random.normal()),
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
