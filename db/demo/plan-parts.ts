/** The parts list of the story and its estimates: the batch brought in on the first day, what was found missing, what was worked out. */
import type { Evidence, Process } from '#shared/ledger/entry.ts';
import { type WorkingDay, workingDay } from './calendar.ts';
import type { PartRow } from './part-row.ts';
import type { Planned, Words } from './plan.ts';
import type { Random } from './random.ts';
import { PEOPLE, REMOVED } from './story.ts';

/** The first day is a Monday: the list is brought in as one batch. */
const BATCH_DAY = workingDay(0, 0);

export function planPart(row: PartRow, group: string, random: Random): readonly Planned[] {
  const addedOn = row.addedInWeek === undefined ? BATCH_DAY : workingDay(row.addedInWeek, weekdayOf(random));
  const workedOutInWeek = row.guess?.workedOutInWeek;
  return [
    { ...stamp(`part ${row.number}`, addedOn), words: partWords(row, group) },
    ...(row.kg === undefined
      ? []
      : [{ ...stamp(`estimate ${row.number}`, addedOn), words: estimateWords(row, row.kg, row.guess) }]),
    ...(workedOutInWeek === undefined || row.kg === undefined
      ? []
      : [
          {
            ...stamp(`worked out ${row.number}`, workingDay(workedOutInWeek, weekdayOf(random))),
            remark: random.oneOf(WORKED_OUT),
            words: estimateWords(row, row.kg, undefined),
          },
        ]),
    ...(row.restated === undefined || row.restated.fractionStd !== undefined || row.kg === undefined
      ? []
      : [
          {
            ...stamp(`restated ${row.number}`, workingDay(row.restated.week, 1)),
            remark: restatedRemark(row.restated.std),
            words: { ...estimateWords(row, row.kg, undefined), 'std uncertainty': row.restated.std },
          },
        ]),
    ...(row.number === REMOVED.part
      ? [
          {
            ...stamp(`removed ${row.number}`, workingDay(REMOVED.week, 2)),
            words: { kind: 'part removed', part: row.number, reason: REMOVED.reason },
          },
        ]
      : []),
  ];
}

export function restatedRemark(std: string): string {
  return `Same mould and resin as the left one: until the run is understood, good to ${std} and no better.`;
}

const WORKED_OUT = [
  'Worked out from the drawing.',
  'Worked out from areas and lengths.',
  'Now from the drawing as released to the shop.',
] as const;

function stamp(name: string, day: WorkingDay) {
  return { name, happenedOn: day, recordedOn: day, by: PEOPLE.lead };
}

function weekdayOf(random: Random): number {
  return Math.floor(random.uniform() * 5);
}

function partWords(row: PartRow, group: string): Words {
  return {
    kind: 'part added',
    number: row.number,
    name: row.name,
    group,
    process: row.process,
    quantity: String(row.quantity ?? 1),
    ...(row.in === undefined ? {} : { assembly: row.in }),
    ...(row.side === undefined ? {} : { side: row.side }),
  };
}

function estimateWords(row: PartRow, workedOutKg: number, guess: PartRow['guess']): Words {
  const evidence: Evidence = guess === undefined ? 'calculated' : 'estimated';
  return {
    kind: 'estimate',
    part: row.number,
    estimate: massWords(guess?.kg ?? workedOutKg),
    'std uncertainty':
      guess === undefined
        ? (row.std ?? WORKED_OUT_STD[row.process] ?? '3 %')
        : (guess.std ?? GUESSED_STD[row.process] ?? '15 %'),
    evidence,
    ...besideMassWords(row, guess),
    ...(row.laterG === undefined ? {} : { later: `${row.laterG} g` }),
  };
}

/** What is stated beside a mass, whether it was worked out by hand, guessed, or comes from a lay-up schedule. */
export function besideMassWords(row: PartRow, guess?: PartRow['guess']): Readonly<Record<string, string>> {
  const allowance = guess === undefined ? (row.allowance ?? SHOP_ALLOWANCE[row.process]) : guess.allowance;
  const [x, y, z] = row.at ?? [];
  return {
    ...(x === undefined ? {} : { x: stationWords(x) }),
    ...(y === undefined ? {} : { y: stationWords(y) }),
    ...(z === undefined ? {} : { z: stationWords(z) }),
    'arm uncertainty':
      guess === undefined ? (row.armStd ?? ARM_STD[row.process] ?? '20 mm') : (ARM_STD[row.process] ?? '50 mm'),
    ...(allowance === undefined ? {} : { allowance: `${allowance} %` }),
    ...(row.flashG === undefined ? {} : { flash: `${row.flashG} g` }),
  };
}

/** What this invented shop allows on worked-out figures, in per cent; the others keep the defaults. */
const SHOP_ALLOWANCE: Readonly<Partial<Record<Process, number>>> = {
  'resin-infused': 2,
  'wet lay-up': 2,
  prepreg: 1,
  machined: 1,
  printed: 2,
  bought: 2,
  wiring: 10,
};

/** How far this invented shop trusts its figures: one standard uncertainty, worked out and guessed, and of the arm. */
const WORKED_OUT_STD: Readonly<Partial<Record<Process, string>>> = {
  machined: '1.5 %',
  bought: '5 %',
  wiring: '12 %',
  bonding: '20 %',
  finish: '20 %',
  fluid: '8 %',
};
const GUESSED_STD: Readonly<Partial<Record<Process, string>>> = { wiring: '30 %', bonding: '30 %', finish: '30 %' };
const ARM_STD: Readonly<Partial<Record<Process, string>>> = { wiring: '100 mm', bonding: '80 mm', finish: '100 mm' };

function massWords(kg: number): string {
  return kg < 0.5 ? `${(kg * 1000).toFixed(0)} g` : `${kg.toFixed(kg < 20 ? 3 : 2)} kg`;
}

function stationWords(m: number): string {
  return `${m.toFixed(3)} m`;
}
