/** The signed weighings of the whole aircraft as text for a terminal (rules A1-A5): everything that was put in, the result, and what it found. */
import { computeWeighing, type WeighedPoint } from '#shared/aircraft-weighing/compute.ts';
import { correctionKg } from '#shared/aircraft-weighing/model.ts';
import { runsAgree } from '#shared/aircraft-weighing/refusals.ts';
import type { Weighed } from '#shared/aircraft-weighing/weighing.ts';
import type { ReconcileReport, SignedWeighingReport } from '#shared/contract/aircraft-weighing.ts';
import {
  type DisplayUnits,
  showFixed,
  showLength,
  showLengthWithStd,
  showMass,
  showMassWithStd,
  type WithStd,
} from '#shared/quantity/show.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { type Line, labelled, tableText } from './table-text.ts';

const CAUTIONS = [
  say`Empty weight includes fixed ballast, unusable fuel and full operating fluids (14 CFR 23.29 as it stood before 2017).`,
  say`The report is signed by someone licensed or authorised to, by the rules of the local authority.`,
  say`Lifting and weighing an airframe can injure people: follow the shop’s lifting and jacking practice.`,
];

export function weighingsText(signed: readonly SignedWeighingReport[], units: DisplayUnits): string {
  if (signed.length === 0) return `${say`The aircraft has not been weighed as a whole.`}\n`;
  return signed.map((one) => weighingText(one, units)).join('\n');
}

function weighingText({ statement, ...about }: SignedWeighingReport, units: DisplayUnits): string {
  const { weighed, signedBy, signedOn, signedAs, oilIsEmptyWeight } = statement;
  const result = computeWeighing(weighed);
  const { isOne, agree, apartKg, apartM } = runsAgree(weighed);
  const apart = say`${mass(apartKg, units)} and ${length(apartM, units)} apart`;
  const lines = [
    say`Weighed on ${dayWords(about.happenedOn)}, entry ${about.latestSeq}, signed by ${signedBy}${signedAs === undefined ? '' : ` (${signedAs})`} on ${dayWords(signedOn)}`,
    ...labelled([
      [`  ${say`Empty weight`}`, pointText(statement, units)],
      [`  ${say`As weighed`}`, pointText(result.asWeighed, units)],
      [
        `  ${say`Supports from`}`,
        say`${weighed.reference}, ${length(weighed.referenceM, units)} aft of the datum: ${about.datum}`,
      ],
      [`  ${say`Runs`}`, isOne ? say`one counts` : agree ? say`agree, ${apart}` : say`do not agree, ${apart}`],
      [`  ${say`Oil`}`, oilIsEmptyWeight ? say`is part of the empty weight` : say`is not part of the empty weight`],
      [`  ${say`Not aboard`}`, about.notAboard === '' ? say`nothing` : about.notAboard],
      [`  ${say`Against parts`}`, about.reconcile && foundText(about.reconcile, units)],
      ...weighed.checklist
        .filter(({ isSo }) => !isSo)
        .map(({ check, words }): Line => [`  ${say`Not so`}`, `${term(check)}: ${words ?? ''}`]),
    ]),
  ];
  return `${lines.join('\n')}\n\n${readingsText(weighed, units)}${correctionsText(weighed, units)}\n${CAUTIONS.join('\n')}\n`;
}

function pointText({ massKg, massStdKg, xM, xStdM, yM, yStdM, zM, zStdM }: WeighedPoint, units: DisplayUnits): string {
  const at = (axis: string, stationM: number | undefined, stdM: number | undefined) =>
    stationM === undefined ? '' : `, ${axis} ${withStd(showLengthWithStd(stationM, stdM, units.length), units.length)}`;
  const whole = withStd(showMassWithStd(massKg, massStdKg, units.mass), units.mass);
  return `${whole}${at('x', xM, xStdM)}${at('y', yM, yStdM)}${at('z', zM, zStdM)}`;
}

function foundText(found: ReconcileReport, units: DisplayUnits): string {
  const difference = withStd(
    showMassWithStd(found.differenceKg, found.differenceStdKg, units.mass, { sign: true }),
    units.mass,
  );
  if (found.massIsReal && found.armM !== undefined)
    return say`${difference}, which must sit at x ${withStd(showLengthWithStd(found.armM, found.armStdM, units.length), units.length)}`;
  if (found.momentKgM === undefined) return found.massIsReal ? difference : say`${difference}, within its uncertainty`;
  return say`${difference}, within its uncertainty; the CG differs by a moment of ${showFixed(found.momentKgM, 2)} kg m`;
}

function readingsText({ supports, level, tilted }: Weighed, units: DisplayUnits): string {
  const rows = [
    ...level.map((run) => ({ run, name: say`level` })),
    ...(tilted?.runs ?? []).map((run) => ({ run, name: say`tilted` })),
  ];
  return tableText(
    rows.flatMap(({ run, name }, at) =>
      run.readings.map((reading, supportAt) => ({ at, name, run, reading, support: supports[supportAt] })),
    ),
    [
      {
        heading: say`run`,
        align: 'left',
        cell: ({ at, name, run }) =>
          run.setAside === undefined ? `${at + 1} ${name}` : say`${at + 1} ${name}, set aside`,
      },
      { heading: say`support`, align: 'left', cell: ({ support }) => support?.name ?? '' },
      {
        heading: say`x ${units.length}`,
        align: 'right',
        cell: ({ support }) => showLength(support?.xM ?? 0, units.length),
      },
      {
        heading: say`gross ${units.mass}`,
        align: 'right',
        cell: ({ reading }) => showMass(reading.grossKg, units.mass),
      },
      { heading: say`tare ${units.mass}`, align: 'right', cell: ({ reading }) => showMass(reading.tareKg, units.mass) },
      {
        heading: say`net ${units.mass}`,
        align: 'right',
        cell: ({ reading }) => showMass(reading.grossKg - reading.tareKg, units.mass),
      },
    ],
  );
}

function correctionsText({ corrections }: Weighed, units: DisplayUnits): string {
  if (corrections.length === 0) return '';
  const table = tableText(corrections, [
    { heading: say`taken off and put on`, align: 'left', cell: ({ name }) => name },
    {
      heading: units.mass,
      align: 'right',
      cell: (one) => showMass((one.way === 'on' ? 1 : -1) * correctionKg(one), units.mass, { sign: true }),
    },
    { heading: say`x ${units.length}`, align: 'right', cell: ({ xM }) => showLength(xM, units.length) },
  ]);
  return `\n${table}`;
}

function withStd({ value, std }: WithStd, unit: string): string {
  return `${value}${std === undefined ? '' : ` ± ${std}`} ${unit}`;
}

function mass(massKg: number, units: DisplayUnits): string {
  return `${showMass(massKg, units.mass)} ${units.mass}`;
}

function length(lengthM: number, units: DisplayUnits): string {
  return `${showLength(lengthM, units.length)} ${units.length}`;
}
