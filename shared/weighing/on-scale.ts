/**
 * What a scale showed, as a person states it (rules W1, W2): gross and tare, in one or several readings of one load, separated by a
 * stroke: `4.12 / 4.13 / 4.12`. The same for a part and for an assembly.
 * Fields: gross, tare, condition (read by the caller), scale, fixture, resolution.
 */
import type { StatementOf } from '#shared/ledger/entry.ts';
import type { Typed } from '#shared/quantity/typed.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { meanNetKg } from './net.ts';

export const ON_SCALE_FIELDS = ['gross', 'tare', 'condition', 'scale', 'fixture', 'resolution'] as const;

export type OnScale = Pick<
  StatementOf<'weighing'>,
  'readings' | 'netKg' | 'grossResolutionKg' | 'tareResolutionKg' | 'resolutionFrom' | 'scale' | 'fixture'
>;

/**
 * The readings, or undefined where a problem was found. Where no resolution is stated the finest digit typed stands for it, over
 * gross and tare together, since spreadsheets drop closing zeros; `scaleDigitKg` is the finest digit that the same scale has shown
 * elsewhere. Common practice, no source.
 */
export function onScaleFromWords(reader: FieldReader, scaleDigitKg = Number.POSITIVE_INFINITY): OnScale | undefined {
  const problemsBefore = reader.problems.length;
  const gross = readings(reader, 'gross');
  const tare = readings(reader, 'tare');
  const resolution = reader.mass('resolution');
  const scale = reader.text('scale', 60);
  const fixture = reader.text('fixture', 60);
  if (tare.length > 1 && tare.length !== gross.length)
    reader.problem('tare', { code: 'readings-differ', gross: gross.length, tare: tare.length });
  const pairs = gross.map((reading, at) => ({ gross: reading, tare: tare.length === 1 ? tare[0] : tare[at] }));
  for (const pair of pairs)
    if (pair.gross.si <= (pair.tare?.si ?? 0))
      reader.problem('gross', {
        code: 'gross-not-above-tare',
        gross: pair.gross.typed,
        tare: pair.tare?.typed ?? 'no tare',
      });
  if (pairs.length === 0 || reader.problems.length > problemsBefore) return undefined;
  const kept = pairs.map((pair) => ({
    grossKg: pair.gross.si,
    tareKg: pair.tare?.si ?? 0,
    typed: { gross: pair.gross.typed, ...(pair.tare === undefined ? {} : { tare: pair.tare.typed }) },
  }));
  const resolutionKg = resolution?.si ?? Math.min(finestDigitKg([...gross, ...tare]), scaleDigitKg);
  return {
    readings: kept,
    netKg: meanNetKg(kept),
    grossResolutionKg: resolutionKg,
    // A tare of nothing was not read from a scale.
    tareResolutionKg: kept.some((reading) => reading.tareKg > 0) ? resolutionKg : 0,
    resolutionFrom: resolution === undefined ? 'digits typed' : 'stated',
    ...(scale === undefined ? {} : { scale }),
    ...(fixture === undefined ? {} : { fixture }),
  };
}

function readings(reader: FieldReader, field: 'gross' | 'tare'): readonly Typed[] {
  const texts = reader.raw(field)?.split('/') ?? [];
  return texts.flatMap((text) => {
    const read = reader.readMassText(field, text);
    if (read.ok) return [read.value];
    reader.problem(field, read.refusal);
    return [];
  });
}

/** The finest digit of some readings in kilograms; a reading of zero tells nothing of the scale. */
function finestDigitKg(readings: readonly Typed[]): number {
  return Math.min(...readings.filter((reading) => reading.si > 0).map((reading) => reading.lastDigitSi));
}

/** The finest digit of the readings in a row, in kilograms; infinite where there is none. */
export function rowDigitKg(reader: FieldReader): number {
  const digits = (['gross', 'tare'] as const).flatMap((field) =>
    (reader.raw(field)?.split('/') ?? []).map((text) => reader.readMassText(field, text)),
  );
  return finestDigitKg(digits.flatMap((read) => (read.ok ? [read.value] : [])));
}
