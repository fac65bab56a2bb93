/** The shop's three scales: their certificates, and the check weights at the start of a shift (rules W1, W12, U1). All invented. */
import { MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { workingDay } from './calendar.ts';
import type { Planned, Words } from './plan.ts';
import { type Random, randomFor } from './random.ts';
import { PEOPLE } from './story.ts';

type Calibration = {
  readonly scale: keyof typeof SCALES;
  /** When the certificate was filed. */
  readonly week: number;
  readonly calibratedWeek: number;
  readonly dueWeek: number;
  readonly remark?: string;
};

/** Certificates state an expanded uncertainty, k = 2. */
const SCALES = {
  bench: { capacity: '15 kg', resolution: '1 g', 'calibration uncertainty': '0.03 %' },
  floor: { capacity: '150 kg', resolution: '0.02 kg', 'calibration uncertainty': '0.06 %' },
  hand: { capacity: '40 lb', resolution: '0.02 lb', 'calibration uncertainty': '0.2 %' },
} as const;

/** The hand scale's certificate runs out in week 57 and is renewed in week 64: both main legs are weighed between. */
const CALIBRATIONS: readonly Calibration[] = [
  { scale: 'bench', week: 0, calibratedWeek: -8, dueWeek: 44 },
  { scale: 'floor', week: 0, calibratedWeek: -20, dueWeek: 32 },
  { scale: 'hand', week: 5, calibratedWeek: 5, dueWeek: 57 },
  { scale: 'floor', week: 31, calibratedWeek: 30, dueWeek: 82 },
  { scale: 'bench', week: 43, calibratedWeek: 42, dueWeek: 94 },
  {
    scale: 'hand',
    week: 64,
    calibratedWeek: 64,
    dueWeek: 116,
    remark: 'Overdue: the reminder hung behind the door. Came back without adjustment.',
  },
  {
    scale: 'bench',
    week: 74,
    calibratedWeek: 74,
    dueWeek: 126,
    remark: 'Cleaned, levelled and calibrated anew after the check weight failed.',
  },
];

/** Known masses, and the weeks in which they were put on. Mondays, before anything else is weighed. */
const CHECKS = {
  bench: { reference: '5 kg', weeks: [12, 17, 22, 27, 32, 37, 42, 47, 52, 57, 61, 66, 70] },
  floor: { reference: '20 kg', weeks: [21, 28, 38, 74] },
  hand: { reference: '5 kg', weeks: [20, 33, 43, 59] },
} as const;

/** Resin under one foot of the bench scale, found by the check weight, and the good check after the repair. */
const FAILED = {
  week: 74,
  shown: '5.013 kg',
  remark: 'Twice the same. A drop of cured resin under the left front foot.',
};
const REPAIRED = { week: 74, weekday: 2, shown: '5.000 kg', remark: 'After cleaning, levelling and calibration.' };

export function planScales(seed: number): readonly Planned[] {
  return [...CALIBRATIONS.map(planCalibration), ...planChecks(randomFor(seed, 'check weights'))];
}

function planCalibration({ scale, week, calibratedWeek, dueWeek, remark }: Calibration): Planned {
  const day = workingDay(week, week === calibratedWeek ? 1 : 0);
  return {
    name: `calibration of ${scale} in week ${week}`,
    happenedOn: day,
    recordedOn: day,
    by: PEOPLE.fitter,
    ...(remark === undefined ? {} : { remark }),
    words: ({ dateOf }) => ({
      kind: 'scale',
      scale,
      ...SCALES[scale],
      coverage: '2',
      calibrated: dateOf(week === calibratedWeek ? day : workingDay(calibratedWeek, 3)),
      'calibration due': dateOf(workingDay(dueWeek, 3)),
    }),
  };
}

function planChecks(random: Random): readonly Planned[] {
  const passed = (['bench', 'floor', 'hand'] as const).flatMap((scale) =>
    CHECKS[scale].weeks.map((week) =>
      planCheck(scale, workingDay(week, 0), { shown: shownOn(scale, random), by: random.oneOf(CHECKERS) }),
    ),
  );
  const [by] = PEOPLE.layUp;
  return [
    ...passed,
    planCheck('bench', workingDay(FAILED.week, 0), { shown: FAILED.shown, by, remark: FAILED.remark }),
    planCheck('bench', workingDay(REPAIRED.week, REPAIRED.weekday), {
      shown: REPAIRED.shown,
      by: PEOPLE.fitter,
      remark: REPAIRED.remark,
    }),
  ];
}

const CHECKERS = [...PEOPLE.layUp, PEOPLE.fitter] as const;

function planCheck(
  scale: keyof typeof CHECKS,
  day: number,
  { shown, by, remark }: { readonly shown: string; readonly by: string; readonly remark?: string },
): Planned {
  const words: Words = { kind: 'check weight', scale, reference: CHECKS[scale].reference, shown };
  const when = { happenedOn: day, recordedOn: day };
  return { name: `check of ${scale} on ${day}`, ...when, by, ...(remark === undefined ? {} : { remark }), words };
}

/** Within a step or two of the known mass. */
function shownOn(scale: keyof typeof CHECKS, random: Random): string {
  const steps = Math.round(0.7 * random.normal());
  switch (scale) {
    case 'bench':
      return `${(5 + steps * 0.001).toFixed(3)} kg`;
    case 'floor':
      return `${(20 + steps * 0.02).toFixed(2)} kg`;
    case 'hand':
      return `${((Math.round(5 / MASS_UNIT_KG.lb / 0.02) + steps) * 0.02).toFixed(2)} lb`;
  }
}
