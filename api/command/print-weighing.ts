/** The signed weighings of the whole aircraft as text for a terminal (rules A1-A5): everything that was put in, the result, and what it found. */
import { computeWeighing, type WeighedPoint } from '#shared/aircraft-weighing/compute.ts';
import { correctionKg } from '#shared/aircraft-weighing/model.ts';
import { runsAgree } from '#shared/aircraft-weighing/refusals.ts';
import type { Weighed } from '#shared/aircraft-weighing/weighing.ts';
import type { ReconcileReport, SignedWeighingReport } from '#shared/contract/aircraft-weighing.ts';
import {
  type DisplayUnits,
  showLength,
  showLengthWithStd,
  showMass,
  showMassWithStd,
  type WithStd,
} from '#shared/quantity/show.ts';
import { tableText } from './table-text.ts';

const CAUTIONS = [
  'Empty weight includes fixed ballast, unusable fuel and full operating fluids (14 CFR 23.29 as it stood before 2017).',
  'The report is signed by someone licensed or authorised to, by the rules of the local authority.',
  'Lifting and weighing an airframe can injure people: follow the shop’s lifting and jacking practice.',
];

export function weighingsText(signed: readonly SignedWeighingReport[], units: DisplayUnits): string {
  if (signed.length === 0) return 'The aircraft has not been weighed as a whole.\n';
  return signed.map((one) => weighingText(one, units)).join('\n');
}

function weighingText({ statement, ...about }: SignedWeighingReport, units: DisplayUnits): string {
  const { weighed, signedBy, signedOn, signedAs, oilIsEmptyWeight } = statement;
  const result = computeWeighing(weighed);
  const { isOne, agree, apartKg, apartM } = runsAgree(weighed);
  const apart = `${mass(apartKg, units)} and ${length(apartM, units)} apart`;
  const lines = [
    `Weighed on ${about.happenedOn}, entry ${about.latestSeq}, signed by ${signedBy}${signedAs === undefined ? '' : ` (${signedAs})`} on ${signedOn}`,
    `  Empty weight  ${pointText(statement, units)}`,
    `  As weighed    ${pointText(result.asWeighed, units)}`,
    `  Supports from ${weighed.reference}, ${length(weighed.referenceM, units)} aft of the datum: ${about.datum}`,
    `  Runs          ${isOne ? 'one counts' : `${agree ? 'agree' : 'do not agree'}, ${apart}`}`,
    `  Oil           ${oilIsEmptyWeight ? 'is part of the empty weight' : 'is not part of the empty weight'}`,
    `  Not aboard    ${about.notAboard === '' ? 'nothing' : about.notAboard}`,
    ...(about.reconcile === undefined ? [] : [`  Against parts ${foundText(about.reconcile, units)}`]),
    ...weighed.checklist
      .filter(({ isSo }) => !isSo)
      .map(({ check, words }) => `  Not so        ${check}: ${words ?? ''}`),
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
    return `${difference}, which must sit at x ${withStd(showLengthWithStd(found.armM, found.armStdM, units.length), units.length)}`;
  if (found.momentKgM === undefined) return `${difference}${found.massIsReal ? '' : ', within its uncertainty'}`;
  return `${difference}, within its uncertainty; the CG differs by a moment of ${found.momentKgM.toFixed(2)} kg m`;
}

function readingsText({ supports, level, tilted }: Weighed, units: DisplayUnits): string {
  const rows = [
    ...level.map((run) => ({ run, name: 'level' })),
    ...(tilted?.runs ?? []).map((run) => ({ run, name: 'tilted' })),
  ];
  return tableText(
    rows.flatMap(({ run, name }, at) =>
      run.readings.map((reading, supportAt) => ({ at, name, run, reading, support: supports[supportAt] })),
    ),
    [
      {
        heading: 'run',
        align: 'left',
        cell: ({ at, name, run }) => `${at + 1} ${name}${run.setAside === undefined ? '' : ', set aside'}`,
      },
      { heading: 'support', align: 'left', cell: ({ support }) => support?.name ?? '' },
      {
        heading: `x ${units.length}`,
        align: 'right',
        cell: ({ support }) => showLength(support?.xM ?? 0, units.length),
      },
      { heading: `gross ${units.mass}`, align: 'right', cell: ({ reading }) => showMass(reading.grossKg, units.mass) },
      { heading: `tare ${units.mass}`, align: 'right', cell: ({ reading }) => showMass(reading.tareKg, units.mass) },
      {
        heading: `net ${units.mass}`,
        align: 'right',
        cell: ({ reading }) => showMass(reading.grossKg - reading.tareKg, units.mass),
      },
    ],
  );
}

function correctionsText({ corrections }: Weighed, units: DisplayUnits): string {
  if (corrections.length === 0) return '';
  const table = tableText(corrections, [
    { heading: 'taken off and put on', align: 'left', cell: ({ name }) => name },
    {
      heading: units.mass,
      align: 'right',
      cell: (one) => showMass((one.way === 'on' ? 1 : -1) * correctionKg(one), units.mass, { sign: true }),
    },
    { heading: `x ${units.length}`, align: 'right', cell: ({ xM }) => showLength(xM, units.length) },
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
