/**
 * The parts list as a CSV text that the import takes back (rule I4): the same figures to the last digit, under headings that say their unit.
 * Made in the aircraft's own units; a figure that these cannot say exactly brings its SI unit along in its cell.
 */
import { stdAsShare } from '#shared/estimate/in-words.ts';
import { displayUnitsOf } from '#shared/ledger/display-units.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { type Ledger, presentParts } from '#shared/ledger/fold.ts';
import type { PartState } from '#shared/ledger/part-state.ts';
import { type LengthNm, toM } from '#shared/quantity/exact.ts';
import type { DisplayUnits } from '#shared/quantity/show.ts';
import { readLength, readMass } from '#shared/quantity/typed.ts';
import { LENGTH_UNIT_M, type LengthUnit, MASS_UNIT_KG, type MassUnit } from '#shared/quantity/units.ts';
import { markedText } from './formula-text.ts';

type Estimate = StatementOf<'estimate'>;

/** One line for each part, in the order in which they were added; lines end as RFC 4180 has them. */
export function partsText(ledger: Ledger): string {
  const units = displayUnitsOf(ledger);
  const parts = presentParts(ledger);
  const numbers = new Map(parts.map(({ partId, definition }) => [partId, definition.number]));
  const rows = parts.map((part) => {
    const { number, name, group, parentPartId, quantity, side, process } = part.definition;
    const assembly = parentPartId === undefined ? undefined : numbers.get(parentPartId);
    const words = [number, name, group, assembly].map((text) => (text === undefined ? undefined : markedText(text)));
    return [...words, quantity, side, process, ...estimateCells(ledger, part, units)];
  });
  return [headings(units), ...rows].map((cells) => `${cells.map(quoted).join(',')}\r\n`).join('');
}

function headings({ mass, length }: DisplayUnits): readonly string[] {
  return [
    ...['number', 'name', 'group', 'assembly', 'quantity', 'side', 'process'],
    ...['estimate', 'std uncertainty'].map((field) => `${field} [${mass}]`),
    ...['x', 'y', 'z', 'arm uncertainty'].map((field) => `${field} [${length}]`),
    ...['evidence', 'allowance [%]', 'later allowance [%]'],
    ...['flash', 'later', 'finish'].map((field) => `${field} [${mass}]`),
  ];
}

const ESTIMATE_CELLS = 12;

function estimateCells(ledger: Ledger, { estimate }: PartState, units: DisplayUnits): readonly (string | undefined)[] {
  if (estimate === undefined) return Array.from({ length: ESTIMATE_CELLS }, () => undefined);
  const { statement, frameNm } = estimate;
  const mass = (massKg: number | undefined) => inUnit(massKg, units.mass, MASS_UNIT_KG[units.mass], readMass, 'kg');
  const length = (lengthM: number | undefined) =>
    inUnit(lengthM, units.length, LENGTH_UNIT_M[units.length], readLength, 'm');
  const { xM } = statement;
  const presentXM =
    xM === undefined || frameNm === ledger.datumNm ? xM : xM + toM((frameNm - ledger.datumNm) as LengthNm);
  return [
    ...[mass(statement.massKg), stdAsShare(statement) ?? mass(statement.massStdKg)],
    ...[length(presentXM), length(statement.yM), length(statement.zM), length(statement.armStdM)],
    ...[statement.evidence, ...allowanceCells(statement)],
    ...[mass(statement.flashKg || undefined), mass(statement.laterKg || undefined), mass(statement.finishKg)],
  ];
}

/** A default is left empty, so that it comes back as one. */
function allowanceCells({ growth, laterGrowth, growthFrom }: Estimate): readonly (string | undefined)[] {
  return [
    growthFrom === 'stated' ? plain(growth * 100) : undefined,
    laterGrowth === growth ? undefined : plain(laterGrowth * 100),
  ];
}

function inUnit(
  si: number | undefined,
  unit: MassUnit | LengthUnit,
  factor: number,
  read: typeof readMass | typeof readLength,
  siUnit: 'kg' | 'm',
): string | undefined {
  if (si === undefined) return undefined;
  const text = plain(si / factor);
  const back = read(`${text} ${unit}`);
  return back.ok && back.value.si === si ? text : `${plain(si)} ${siUnit}`;
}

function plain(value: number): string {
  return String(Number(value.toPrecision(15)));
}

function quoted(cell: string | number | undefined): string {
  const text = String(cell ?? '');
  return /[",;\t\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
