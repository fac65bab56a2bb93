/**
 * A weighing as a person states it (rules W1, W2), into the statement that is recorded.
 * Fields: piece, pieces, gross, tare, condition, scale, resolution, lot, cause. Several readings of one load stand in one field,
 * separated by a stroke: `4.12 / 4.13 / 4.12`.
 */
import { Condition, DriftCause, MOST_PIECES, type PartId, type StatementOf } from '#shared/ledger/entry.ts';
import type { Typed } from '#shared/quantity/typed.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { meanNetKg } from './net.ts';

export const WEIGHING_FIELDS = [
  'piece',
  'pieces',
  'gross',
  'tare',
  'condition',
  'scale',
  'resolution',
  'lot',
  'cause',
] as const;

/**
 * The weighing of a part of `quantity` pieces, or undefined where a problem was found. Where no resolution is stated the
 * finest digit typed stands for it, over gross and tare together, since spreadsheets drop closing zeros; `scaleDigitKg` is
 * the finest digit that the same scale has shown elsewhere. Common practice, no source.
 */
export function weighingFromWords(
  reader: FieldReader,
  part: { readonly partId: PartId; readonly number: string; readonly quantity: number },
  scaleDigitKg = Number.POSITIVE_INFINITY,
): StatementOf<'weighing'> | undefined {
  const problemsBefore = reader.problems.length;
  const pieces = piecesOnScale(reader, part);
  reader.need('gross');
  reader.need('condition');
  const condition = reader.choice('condition', Condition.options, {
    released: 'as released',
    finish: 'finished',
    trim: 'trimmed',
  });
  const gross = readings(reader, 'gross');
  const tare = readings(reader, 'tare');
  const resolution = reader.mass('resolution');
  const scale = reader.text('scale', 60);
  const lot = reader.text('lot', 60);
  const cause = reader.choice('cause', DriftCause.options);
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
  if (pieces === undefined || condition === undefined || reader.problems.length > problemsBefore) return undefined;
  const kept = pairs.map((pair) => ({
    grossKg: pair.gross.si,
    tareKg: pair.tare?.si ?? 0,
    typed: { gross: pair.gross.typed, ...(pair.tare === undefined ? {} : { tare: pair.tare.typed }) },
  }));
  const resolutionKg = resolution?.si ?? Math.min(finestDigitKg([...gross, ...tare]), scaleDigitKg);
  return {
    kind: 'weighing',
    partId: part.partId,
    pieces: [...pieces],
    condition,
    readings: kept,
    netKg: meanNetKg(kept),
    grossResolutionKg: resolutionKg,
    // A tare of nothing was not read from a scale.
    tareResolutionKg: kept.some((reading) => reading.tareKg > 0) ? resolutionKg : 0,
    resolutionFrom: resolution === undefined ? 'digits typed' : 'stated',
    ...(scale === undefined ? {} : { scale }),
    ...(lot === undefined ? {} : { lot }),
    ...(cause === undefined ? {} : { cause }),
  };
}

/** Which pieces stood on the scale. A part of one piece needs no word; of several, the piece or the full count must be said. */
function piecesOnScale(
  reader: FieldReader,
  part: { readonly number: string; readonly quantity: number },
): readonly number[] | undefined {
  const named = reader.pieceNumbers('piece', MOST_PIECES);
  const count = reader.count('pieces', MOST_PIECES);
  if (reader.has('piece')) {
    if (named !== undefined && count !== undefined && count !== named.length)
      reader.problem('pieces', { code: 'pieces-disagree', named: named.length, count });
    const beyond = named?.find((piece) => piece > part.quantity);
    if (beyond !== undefined)
      reader.problem('piece', { code: 'no-such-piece', piece: beyond, part: part.number, quantity: part.quantity });
    return named;
  }
  if (reader.has('pieces') && count === undefined) return undefined;
  if (part.quantity > 1 && count !== part.quantity) {
    reader.problem('piece', { code: 'which-piece', part: part.number, quantity: part.quantity });
    return undefined;
  }
  if (count !== undefined && count > part.quantity) {
    reader.problem('pieces', { code: 'no-such-piece', piece: count, part: part.number, quantity: part.quantity });
    return undefined;
  }
  return Array.from({ length: part.quantity }, (_, at) => at + 1);
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
