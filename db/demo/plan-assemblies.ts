/**
 * Two bonded assemblies on the floor scale, one of them in the other (rule W7). What they weigh follows from the true masses of the
 * pieces in them, so that the residual is what bonding added and nothing that was made up twice.
 */
import { type WorkingDay, workingDay } from './calendar.ts';
import type { PartRow } from './part-row.ts';
import { GROUPS } from './parts.ts';
import type { Planned } from './plan.ts';
import { randomFor } from './random.ts';
import { readFloorScale } from './scales.ts';
import { PEOPLE } from './story.ts';

type AssemblyOnScale = {
  readonly part: string;
  readonly week: number;
  readonly weekday: number;
  readonly notYetIn: readonly string[];
  /** What was never weighed by itself, as it truly is: bond lines, and what dripped where nobody counted it. */
  readonly bondKg: Readonly<Record<string, number>>;
  readonly remark: string;
};

const ON_SCALE: readonly AssemblyOnScale[] = [
  {
    part: 'T-20',
    week: 38,
    weekday: 2,
    notYetIn: ['T-24', 'T-28'],
    bondKg: { 'T-29': 0.585 },
    remark:
      'Bonded and trimmed, without elevators and tab. Adhesive squeezed out into the leading edge, where no hand gets in.',
  },
  {
    part: 'T-00',
    week: 74,
    weekday: 3,
    notYetIn: ['T-17', 'T-31'],
    bondKg: { 'T-29': 0.585, 'T-19': 0.39 },
    remark: 'Whole tail on the cradle, before paint. Mass balances and water rudder go on at the hull.',
  },
];

/** `weighed`: all weighings of pieces, as planned. */
export function planAssemblies(weighed: readonly Planned[], seed: number): readonly Planned[] {
  return ON_SCALE.map((assembly) => {
    const { part, week, weekday, notYetIn, remark } = assembly;
    const day = workingDay(week, weekday);
    const random = randomFor(seed, `assembly ${part}`);
    const placed = rowsIn(part, notYetIn).flatMap((row) => {
      const massKg = assembly.bondKg[row.number] ?? trueKg(row, weighed, day);
      return row.at === undefined || massKg === 0 ? [] : [{ massKg, at: row.at }];
    });
    const netKg = placed.reduce((sum, { massKg }) => sum + massKg, 0);
    const along = (axis: 0 | 2) =>
      placed.reduce((sum, { massKg, at }) => sum + massKg * at[axis], 0) / netKg + 0.006 * random.normal();
    return {
      name: `assembly ${part}`,
      happenedOn: day,
      recordedOn: day,
      by: PEOPLE.lead,
      remark,
      words: {
        kind: 'assembly weighing',
        part,
        condition: 'trimmed',
        ...readFloorScale({ netKg, onFixture: true }, random),
        x: `${(along(0) * 1000).toFixed(0)} mm`,
        'arm uncertainty': '5 mm',
        'not yet in': notYetIn.join('; '),
      },
    };
  });
}

/** The parts below an assembly that were in it. */
function rowsIn(part: string, notYetIn: readonly string[]): readonly PartRow[] {
  return GROUPS.flatMap(({ parts }) => parts)
    .filter((row) => row.in === part && !notYetIn.includes(row.number))
    .flatMap((row) => [row, ...rowsIn(row.number, notYetIn)]);
}

/** What the pieces of a part truly weigh together on that day, by the latest condition in which each was weighed until then. */
function trueKg(row: PartRow, weighed: readonly Planned[], day: WorkingDay): number {
  const pieces = new Map<number, number>();
  for (const { made, happenedOn } of weighed)
    if (made?.part === row.number && happenedOn <= day) {
      const isFinished = made.condition === 'finished';
      for (const { piece, trimmedKg, finishedKg } of made.pieces)
        pieces.set(piece, isFinished ? finishedKg : trimmedKg);
    }
  return [...pieces.values()].reduce((sum, massKg) => sum + massKg, 0);
}
