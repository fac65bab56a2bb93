/** What the hands have put in so far, and the words it makes for the ledger. */
import type { Condition } from '#shared/ledger/entry.ts';
import type { MassUnit } from '#shared/quantity/units.ts';
import { typedWith } from '../pieces/typed-units.ts';

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
    gross: typedWith(gross, reading.unit),
    ...(tare.trim() === '' ? {} : { tare: typedWith(tare, reading.unit) }),
    condition,
    ...(reading.cause === '' ? {} : { cause: reading.cause }),
  };
}

/** A key of the pad, put to a text. */
export function pressKey(text: string, key: string): string {
  if (key === 'back') return text.slice(0, -1);
  if (key === '.' && /[.,]/.test(text)) return text;
  return text + key;
}
