/** What the hands have put in so far, and the words it makes for the ledger. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import type { Condition } from '#shared/ledger/entry.ts';
import type { MassUnit } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { typedWith } from '../pieces/typed-units.ts';
import type { FieldSpec, Form } from '../record/field-spec.ts';
import { wordsOfForm } from '../record/form-words.ts';
import { CARRIED, MADE_WITH, STATIONS } from '../record/kinds.ts';

export type ReadingField = 'gross' | 'tare';

export type Reading = {
  readonly gross: string;
  readonly tare: string;
  readonly unit: MassUnit;
  readonly condition: Condition | undefined;
  /** Numbers of the pieces on the scale. */
  readonly pieces: readonly number[];
  /** Of an assembly: what is not yet in it, as it is recorded. */
  readonly notYetIn: string;
  /** What is folded away: scale, fixture, lot and the like, by the name of the field. */
  readonly more: Form;
  readonly cause: string;
  readonly remark: string;
};

/** A part that has parts is weighed as an assembly (rule W7). */
export function isAssembly(part: PartReport): boolean {
  return part.childCount > 0;
}

/** What may be said beside the reading. */
export function moreFields(part: PartReport): readonly FieldSpec[] {
  return isAssembly(part) ? [...CARRIED, ...STATIONS] : [...CARRIED, ...MADE_WITH];
}

/** The words of the weighing, or undefined while something is still missing. */
export function wordsOfReading(
  part: PartReport,
  reading: Reading,
  aircraft: AircraftReport,
): Readonly<Record<string, unknown>> | undefined {
  const { gross, tare, condition, pieces, notYetIn, cause } = reading;
  if (gross.trim() === '' || condition === undefined) return undefined;
  if (!isAssembly(part) && pieces.length === 0) return undefined;
  return {
    kind: isAssembly(part) ? say`assembly weighing` : 'weighing',
    part: part.number,
    gross: typedWith(gross, reading.unit),
    ...(tare.trim() === '' ? {} : { tare: typedWith(tare, reading.unit) }),
    condition,
    ...wordsOfForm(reading.more, moreFields(part), aircraft),
    ...(isAssembly(part)
      ? { 'not yet in': notYetIn === '' ? 'none' : notYetIn }
      : { piece: pieces.join(', '), ...(cause === '' ? {} : { cause }) }),
  };
}

/** A key of the pad, put to a text. */
export function pressKey(text: string, key: string): string {
  if (key === 'back') return text.slice(0, -1);
  if (key === '.' && /[.,]/.test(text)) return text;
  return text + key;
}
