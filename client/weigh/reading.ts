/** What the hands have put in so far, and the words it makes for the ledger. */
import type { Condition } from '#shared/ledger/entry.ts';
import type { MassUnit } from '#shared/quantity/units.ts';

export type ReadingField = 'gross' | 'tare';

export type Reading = {
  readonly gross: string;
  readonly tare: string;
  readonly unit: MassUnit;
  readonly condition: Condition | undefined;
  /** Numbers of the pieces on the scale. */
  readonly pieces: readonly number[];
  readonly cause: string;
  readonly remark: string;
};

/** The words of the weighing, or undefined while something is still missing. */
export function wordsOfReading(part: string, reading: Reading): Readonly<Record<string, string>> | undefined {
  const { gross, tare, condition, pieces } = reading;
  if (gross.trim() === '' || condition === undefined || pieces.length === 0) return undefined;
  return {
    part,
    piece: pieces.join(', '),
    gross: withUnit(gross, reading.unit),
    ...(tare.trim() === '' ? {} : { tare: withUnit(tare, reading.unit) }),
    condition,
    ...(reading.cause === '' ? {} : { cause: reading.cause }),
  };
}

/**
 * A text that brings its own unit, as a scale's line or `2 lb 3 oz` does, keeps it. What ends in letters that are no unit is left
 * alone too, so that the refusal quotes what was typed.
 */
function withUnit(text: string, unit: MassUnit): string {
  return /[a-z]\.?\s*$/i.test(text) ? text.trim() : `${text.trim()} ${unit}`;
}

/** A key of the pad, put to a text. */
export function pressKey(text: string, key: string): string {
  if (key === 'back') return text.slice(0, -1);
  if (key === '.' && /[.,]/.test(text)) return text;
  return text + key;
}
