/**
 * One entry in a line of words: what was stated, in the units and decimals of the aircraft. What was typed (rule L4) stands beside a figure
 * where it says something else: another unit, or more digits than are shown.
 */

import type { EntryReport } from '#shared/contract/reports.ts';
import { ALLOWANCE_FIELDS } from '#shared/estimate/allowance.ts';
import { MATERIAL_FIELDS, materialInWords } from '#shared/layup/material-words.ts';
import type { Statement, StatementOf } from '#shared/ledger/entry.ts';
import {
  type DisplayUnits,
  LENGTH_DECIMALS,
  MASS_DECIMALS,
  showLength,
  showMass,
  showPercent,
} from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { SCALE_FIELDS } from '#shared/weighing/scale-from-words.ts';
import { passesCheck } from '#shared/weighing/scales.ts';
import { ARM_FIELDS } from '#shared/words/arm-from-words.ts';
import { dayWords } from '#shared/words/day.ts';
import { counted, say, term } from '#shared/words/say.ts';

export function describeEntry(row: EntryReport, units: DisplayUnits): string {
  const { entry } = row;
  const part = { number: row.part ?? '', quantity: row.quantity ?? 1 };
  const corrected =
    row.correctedBySeq === undefined
      ? ''
      : say` [${row.isStruckOut === true ? say`struck out` : say`corrected`} by ${row.correctedBySeq}]`;
  if (entry.kind !== 'correction') return `${describeStatement(entry, part, units)}${corrected}`;
  const struck = row.strikes === undefined ? '' : say`, which said: ${describeStatement(row.strikes, part, units)}`;
  const what =
    entry.replacement === null ? say`struck out${struck}` : describeStatement(entry.replacement.statement, part, units);
  return say`correction of ${row.correctsSeq}: ${what}; ${entry.reason}${corrected}`;
}

type Part = { readonly number: string; readonly quantity: number };

function describeStatement(statement: Statement, part: Part, units: DisplayUnits): string {
  switch (statement.kind) {
    case 'aircraft':
      return say`aircraft ${statement.name}, datum: ${statement.datum}`;
    case 'part added':
      return say`part added: ${statement.number} ${statement.name}${statement.quantity === 1 ? '' : ` x ${statement.quantity}`} (${statement.group}, ${term(statement.process)})`;
    case 'part removed':
      return say`part removed: ${part.number}; ${statement.reason}`;
    case 'estimate':
      return say`estimate: ${part.number} ${massText(statement.typed['estimate'], statement.massKg, units)}${statement.layUp === undefined ? '' : say` by lay-up`}, ${term(statement.evidence)}, allowance ${showPercent(statement.growth)} %${statement.growthFrom === 'shop default' ? say` (shop default)` : ''}${geometryText(statement, units)}`;
    case 'weighing':
      return say`weighing: ${piecesText(part.number, statement.pieces, part.quantity)} ${term(statement.condition)}, ${onScaleText(statement, units)}${statement.cause === undefined ? '' : `, ${term(statement.cause)}`}`;
    case 'assembly weighing':
      return say`assembly weighing: ${part.number} with ${statement.members.length === 1 ? say`one part` : say`${statement.members.length} parts`} in it, ${term(statement.condition)}, ${onScaleText(statement, units)}${typedText(stationWords(statement, units), STATION_FIELDS, say`, CG at `)}`;
    case 'aircraft weighing':
      return say`aircraft weighing: empty weight ${showMass(statement.massKg, units.mass)} ${units.mass}, CG at x ${showLength(statement.xM, units.length)} ${units.length}, on ${statement.weighed.supports.length} supports${statement.missing.length === 0 ? '' : say`, ${statement.missing.length === 1 ? say`one part` : say`${statement.missing.length} parts`} not aboard`}; signed by ${statement.signedBy}`;
    case 'arm measured':
      return say`arm measured: ${part.number}${typedText(armWords(statement, units), ARM_FIELDS, ' ')}${armWayText(statement, units)}`;
    case 'piece withdrawn':
      return say`piece withdrawn: ${piecesText(part.number, statement.pieces, part.quantity)}; ${statement.reason}`;
    case 'piece installed':
      return say`piece installed: ${piecesText(part.number, statement.pieces, part.quantity)}`;
    case 'disposition':
      return `${term(statement.decision)}: ${piecesText(part.number, statement.pieces, part.quantity)}${statement.inspection === undefined ? '' : say`; inspected: ${statement.inspection}`}`;
    case 'process cause':
      return causeText(statement, units);
    case 'scale':
      return say`scale ${statement.scale}${typedText(scaleWords(statement, units), SCALE_FIELDS, ': ')}`;
    case 'check weight':
      return say`check weight on ${statement.scale}: ${massText(statement.typed['reference'], statement.referenceKg, units)} shown as ${massText(statement.typed['shown'], statement.shownKg, units)}, ${passesCheck(statement) ? say`passed` : say`failed`} (limit ${massText(statement.typed['limit'], statement.limitKg, units)})`;
    case 'material':
      return say`material ${statement.isWithdrawn === true ? say`withdrawn from the list: ` : ''}${statement.material.name} (${term(statement.material.is)})${typedText({ ...materialInWords(statement.material), basis: term(statement.material.basis) }, MATERIAL_FIELDS.slice(2), ': ')}`;
    case 'datum moved':
      return say`datum moved by ${showLength(statement.shiftM, units.length, { sign: true })} ${units.length}: ${statement.datum}; ${statement.reason}`;
    case 'targets':
      return say`targets: empty weight ${targetText(statement, units)}${statement.reason === undefined ? '' : `; ${statement.reason}`}`;
    case 'allowances':
      return say`allowances of the shop${typedText(statement.typed, ALLOWANCE_FIELDS, ': ') || say`: as common practice has them`}${statement.reason === undefined ? '' : `; ${statement.reason}`}`;
    case 'loading':
      return say`loading limits: ${loadingText(statement, units)}${statement.reason === undefined ? '' : `; ${statement.reason}`}`;
    case 'note':
      return say`note${part.number === '' ? '' : say` on ${part.number}`}: ${statement.text.replace(/\s+/g, ' ')}`;
  }
}

function causeText(statement: StatementOf<'process cause'>, { mass }: DisplayUnits): string {
  const { process, releaseSeq, sum, cause } = statement;
  const found = statement.found === undefined ? '' : `; ${statement.found.replace(/\s+/g, ' ')}`;
  if (sum === undefined)
    return say`cause stated of the process ${term(process)}: ${term(cause)}${found} (release in entry ${releaseSeq})`;
  const came = `${showMass(sum.sumKg, mass, { sign: true })} ± ${showMass(sum.sdKg, mass)} ${mass}`;
  return say`cause stated of many small ones in the ${term(sum.by)} ${term(sum.name)}: ${term(cause)}${found} (${came} together)`;
}

function armWayText({ how, supports, xM }: StatementOf<'arm measured'>, units: DisplayUnits): string {
  const follows = ` = ${showLength(xM ?? 0, units.length)} ${units.length}`;
  if (supports !== undefined) return say`${follows} by two supports`;
  return how === undefined ? '' : `${how === 'balanced on a bar' ? follows : ''}, ${term(how)}`;
}

/** Rule E5: where the stations come from. */
function geometryText({ geometry, xM }: StatementOf<'estimate'>, units: DisplayUnits): string {
  if (geometry === undefined) return '';
  return say`, x = ${showLength(xM ?? 0, units.length)} ${units.length} from ${geometry.fileName} as a ${term(geometry.shape)}`;
}

/** The counts of what it states, as a person would sum it up. */
function loadingText({ limits }: StatementOf<'loading'>, units: DisplayUnits): string {
  const { maximumKg, typed, stations, envelope, cases } = limits;
  return [
    say`maximum weight ${massText(typed?.['maximum weight'], maximumKg, units)}`,
    counted(stations.length, 'station', 'stations'),
    say`envelope of ${counted(envelope.points.length, 'corner', 'corners')} by ${term(envelope.by)}`,
    counted(cases.length, 'case', 'cases'),
  ].join(', ');
}

function targetText({ emptyMassKg, typed }: StatementOf<'targets'>, units: DisplayUnits): string {
  return massText(typed['empty mass'], emptyMassKg, units);
}

/** `7.400 kg` of what was typed as 7,4 kg; `9 lb 2 oz = 4.139 kg` where it was typed otherwise: a slip of the unit shows. */
function massText(typed: string | undefined, massKg: number, { mass }: DisplayUnits): string {
  return figureText(typed, {
    shown: showMass(massKg, mass),
    decimals: MASS_DECIMALS[mass],
    unit: mass,
    exact: massKg / MASS_UNIT_KG[mass],
  });
}

function lengthText(typed: string | undefined, lengthM: number, { length }: DisplayUnits): string {
  return figureText(typed, {
    shown: showLength(lengthM, length),
    decimals: LENGTH_DECIMALS[length],
    unit: length,
    exact: lengthM / LENGTH_UNIT_M[length],
  });
}

type Figure = { readonly shown: string; readonly decimals: number; readonly unit: string; readonly exact: number };

function figureText(typed: string | undefined, figure: Figure): string {
  const shown = `${figure.shown} ${figure.unit}`;
  return typed === undefined || isSaidBy(typed, figure) ? shown : `${typed} = ${shown}`;
}

/** A plain number in this very unit (`3 lb 4 oz` is none in ounces) of which the figure shown leaves nothing out. */
function isSaidBy(typed: string, { decimals, unit, exact }: Figure): boolean {
  const number = typed.endsWith(unit) ? typed.slice(0, -unit.length).trim() : '';
  return /^[-+−]?[\d.,]+$/.test(number) && Math.abs(Number(exact.toFixed(decimals)) - exact) < 1e-9;
}

/** `12.500 kg - 0.300 kg = 12.200 kg`; one reading without a tare is the net itself. */
function onScaleText(
  { readings, netKg }: Pick<StatementOf<'weighing'>, 'readings' | 'netKg'>,
  units: DisplayUnits,
): string {
  const [first, ...others] = readings;
  if (first !== undefined && others.length === 0 && first.typed['tare'] === undefined)
    return massText(first.typed['gross'], netKg, units);
  const each = readings.map(({ typed, grossKg, tareKg }) => {
    const tare = typed['tare'] === undefined ? '' : ` - ${readingText(typed['tare'], tareKg, units)}`;
    return `${readingText(typed['gross'], grossKg, units)}${tare}`;
  });
  return `${each.join(' / ')} = ${showMass(netKg, units.mass)} ${units.mass}`;
}

/** The net that follows says it in the unit of the aircraft; here what was typed otherwise stands alone. */
function readingText(typed: string | undefined, massKg: number, units: DisplayUnits): string {
  const words = massText(typed, massKg, units);
  return typed !== undefined && words.startsWith(`${typed} = `) ? typed : words;
}

const STATION_FIELDS = ['x', 'y', 'z', 'arm uncertainty'];

type Stations = Pick<StatementOf<'assembly weighing'>, 'xM' | 'yM' | 'zM' | 'armStdM' | 'typed'>;

function stationWords({ xM, yM, zM, armStdM, typed }: Stations, units: DisplayUnits) {
  const figures = { x: xM, y: yM, z: zM, 'arm uncertainty': armStdM };
  return { ...typed, ...inUnits(figures, (field, value) => lengthText(typed[field], value, units)) };
}

/** A station that follows from loads is told behind them; one that was typed is told as the aircraft shows it. */
function armWords(arm: StatementOf<'arm measured'>, units: DisplayUnits) {
  const follows = arm.supports !== undefined || arm.how === 'balanced on a bar';
  return follows ? arm.typed : stationWords(arm, units);
}

/** The days of a calibration are no quantities and stand beside what was typed. */
function scaleWords(
  { typed, calibratedOn, dueOn, capacityKg, resolutionKg }: StatementOf<'scale'>,
  units: DisplayUnits,
): Readonly<Record<string, string | undefined>> {
  const figures = { capacity: capacityKg, resolution: resolutionKg };
  const masses = inUnits(figures, (field, value) => massText(typed[field], value, units));
  return { ...typed, ...masses, calibrated: dayWords(calibratedOn), 'calibration due': dayWords(dueOn) };
}

function inUnits(
  figures: Readonly<Record<string, number | undefined>>,
  text: (field: string, value: number) => string,
): Readonly<Record<string, string>> {
  return Object.fromEntries(
    Object.entries(figures).flatMap(([field, value]) => (value === undefined ? [] : [[field, text(field, value)]])),
  );
}

/** What was typed in the order in which a person would say it; the ledger keeps it by the alphabet. */
function typedText(
  typed: Readonly<Record<string, string | undefined>>,
  fields: readonly string[],
  before: string,
): string {
  const words = fields.flatMap((field) => (typed[field] === undefined ? [] : [`${term(field)} ${typed[field]}`]));
  return words.length === 0 ? '' : `${before}${words.join(', ')}`;
}

/** `W-104 pieces 1-3, 5`; a part's only piece needs no number. */
export function piecesText(number: string, pieces: readonly number[], quantity: number): string {
  const runs: string[] = [];
  for (let at = 0; at < pieces.length; ) {
    let end = at;
    while (pieces[end + 1] === (pieces[end] ?? 0) + 1) end += 1;
    runs.push(end === at ? `${pieces[at]}` : `${pieces[at]}-${pieces[end]}`);
    at = end + 1;
  }
  if (quantity === 1) return number;
  return pieces.length === 1 ? say`${number} piece ${runs.join(', ')}` : say`${number} pieces ${runs.join(', ')}`;
}
