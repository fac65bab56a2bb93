/** One entry in a line of words: what was stated, as it was typed. */

import type { EntryReport } from '#shared/contract/reports.ts';
import { ALLOWANCE_FIELDS } from '#shared/estimate/allowance.ts';
import { MATERIAL_FIELDS, materialInWords } from '#shared/layup/material-words.ts';
import type { Statement, StatementOf } from '#shared/ledger/entry.ts';
import { type DisplayUnits, showLength, showMass, showPercent } from '#shared/quantity/show.ts';
import { SCALE_FIELDS } from '#shared/weighing/scale-from-words.ts';
import { passesCheck } from '#shared/weighing/scales.ts';
import { ARM_FIELDS } from '#shared/words/arm-from-words.ts';

export function describeEntry(row: EntryReport, units: DisplayUnits): string {
  const { entry } = row;
  const part = { number: row.part ?? '', quantity: row.quantity ?? 1 };
  const corrected = row.correctedBySeq === undefined ? '' : ` [corrected by ${row.correctedBySeq}]`;
  if (entry.kind !== 'correction') return `${describeStatement(entry, part, units)}${corrected}`;
  const what = entry.replacement === null ? 'struck out' : describeStatement(entry.replacement.statement, part, units);
  return `correction of ${row.correctsSeq}: ${what}; ${entry.reason}${corrected}`;
}

type Part = { readonly number: string; readonly quantity: number };

function describeStatement(statement: Statement, part: Part, units: DisplayUnits): string {
  switch (statement.kind) {
    case 'aircraft':
      return `aircraft ${statement.name}, datum: ${statement.datum}`;
    case 'part added':
      return `part added: ${statement.number} ${statement.name}${statement.quantity === 1 ? '' : ` x ${statement.quantity}`} (${statement.group}, ${statement.process})`;
    case 'part removed':
      return `part removed: ${part.number}; ${statement.reason}`;
    case 'estimate':
      return `estimate: ${part.number} ${statement.typed['estimate'] ?? `${showMass(statement.massKg, units.mass)} ${units.mass}`}${statement.layUp === undefined ? '' : ' by lay-up'}, ${statement.evidence}, allowance ${showPercent(statement.growth)} %${statement.growthFrom === 'shop default' ? ' (shop default)' : ''}${geometryText(statement, units)}`;
    case 'weighing':
      return `weighing: ${piecesText(part.number, statement.pieces, part.quantity)} ${statement.condition}, ${onScaleText(statement, units)}${statement.cause === undefined ? '' : `, ${statement.cause}`}`;
    case 'assembly weighing':
      return `assembly weighing: ${part.number} with ${statement.members.length === 1 ? 'one part' : `${statement.members.length} parts`} in it, ${statement.condition}, ${onScaleText(statement, units)}${typedText(statement.typed, STATION_FIELDS, ', CG at ')}`;
    case 'arm measured':
      return `arm measured: ${part.number}${typedText(statement.typed, ARM_FIELDS, ' ')}${armWayText(statement, units)}`;
    case 'piece withdrawn':
      return `piece withdrawn: ${piecesText(part.number, statement.pieces, part.quantity)}; ${statement.reason}`;
    case 'piece installed':
      return `piece installed: ${piecesText(part.number, statement.pieces, part.quantity)}`;
    case 'disposition':
      return `${statement.decision}: ${piecesText(part.number, statement.pieces, part.quantity)}${statement.inspection === undefined ? '' : `; inspected: ${statement.inspection}`}`;
    case 'scale':
      return `scale ${statement.scale}${typedText(scaleWords(statement), SCALE_FIELDS, ': ')}`;
    case 'check weight':
      return `check weight on ${statement.scale}: ${statement.typed['reference'] ?? ''} shown as ${statement.typed['shown'] ?? ''}, ${passesCheck(statement) ? 'passed' : 'failed'} (limit ${statement.typed['limit'] ?? `${showMass(statement.limitKg, units.mass)} ${units.mass}`})`;
    case 'material':
      return `material ${statement.isWithdrawn === true ? 'withdrawn from the list: ' : ''}${statement.material.name} (${statement.material.is})${typedText(materialInWords(statement.material), MATERIAL_FIELDS.slice(2), ': ')}`;
    case 'datum moved':
      return `datum moved by ${showLength(statement.shiftM, units.length, { sign: true })} ${units.length}: ${statement.datum}; ${statement.reason}`;
    case 'targets':
      return `targets: empty weight ${targetText(statement, units)}${statement.reason === undefined ? '' : `; ${statement.reason}`}`;
    case 'allowances':
      return `allowances of the shop${typedText(statement.typed, ALLOWANCE_FIELDS, ': ') || ': as common practice has them'}${statement.reason === undefined ? '' : `; ${statement.reason}`}`;
    case 'note':
      return `note${part.number === '' ? '' : ` on ${part.number}`}: ${statement.text.replace(/\s+/g, ' ')}`;
  }
}

function armWayText({ how, supports, xM }: StatementOf<'arm measured'>, units: DisplayUnits): string {
  const follows = ` = ${showLength(xM ?? 0, units.length)} ${units.length}`;
  if (supports !== undefined) return `${follows} by two supports`;
  return how === undefined ? '' : `${how === 'balanced on a bar' ? follows : ''}, ${how}`;
}

/** Rule E5: where the stations come from. */
function geometryText({ geometry, xM }: StatementOf<'estimate'>, units: DisplayUnits): string {
  if (geometry === undefined) return '';
  return `, x = ${showLength(xM ?? 0, units.length)} ${units.length} from ${geometry.fileName} as a ${geometry.shape}`;
}

/** As it was typed, and in the unit of the aircraft where that is another: a slip of the unit shows. */
function targetText({ emptyMassKg, typed }: StatementOf<'targets'>, units: DisplayUnits): string {
  const shown = `${showMass(emptyMassKg, units.mass)} ${units.mass}`;
  const words = typed['empty mass'];
  return words === undefined || words.endsWith(` ${units.mass}`) ? shown : `${words} = ${shown}`;
}

/** `12.5 kg - 0.3 kg = 12.20 kg`, each reading as it was typed; one without a tare and in the aircraft's own unit is the net. */
function onScaleText(
  { readings, netKg }: Pick<StatementOf<'weighing'>, 'readings' | 'netKg'>,
  units: DisplayUnits,
): string {
  const typed = readings.map(
    ({ typed }) => `${typed['gross'] ?? ''}${typed['tare'] === undefined ? '' : ` - ${typed['tare']}`}`,
  );
  const [first, ...others] = readings;
  const isNet = others.length === 0 && first?.typed['tare'] === undefined;
  if (isNet && isPlainlyIn(first?.typed['gross'] ?? '', units)) return typed.join();
  return `${typed.join(' / ')} = ${showMass(netKg, units.mass)} ${units.mass}`;
}

/** A number and this unit alone: `3 lb 4 oz` is not a plain figure in ounces. */
function isPlainlyIn(text: string, { mass }: DisplayUnits): boolean {
  const number = text.endsWith(mass) ? text.slice(0, -mass.length).trim() : '';
  return /^\d[\d.,]*$/.test(number);
}

const STATION_FIELDS = ['x', 'y', 'z', 'arm uncertainty'];

/** The days of a calibration are no quantities and stand beside what was typed. */
function scaleWords({
  typed,
  calibratedOn,
  dueOn,
}: StatementOf<'scale'>): Readonly<Record<string, string | undefined>> {
  return { ...typed, calibrated: calibratedOn, 'calibration due': dueOn };
}

/** What was typed in the order in which a person would say it; the ledger keeps it by the alphabet. */
function typedText(
  typed: Readonly<Record<string, string | undefined>>,
  fields: readonly string[],
  before: string,
): string {
  const words = fields.flatMap((field) => (typed[field] === undefined ? [] : [`${field} ${typed[field]}`]));
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
  return quantity === 1 ? number : `${number} piece${pieces.length === 1 ? '' : 's'} ${runs.join(', ')}`;
}
