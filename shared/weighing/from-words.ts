/**
 * A weighing as a person states it (rules W1, W2, W10), into the statement that is recorded.
 * Fields: piece, pieces, gross, tare, condition, scale, fixture, resolution, lot, batch, operator, temperature, humidity, cause.
 */
import { Condition, DriftCause, MOST_PIECES, type PartId, type StatementOf } from '#shared/ledger/entry.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { ON_SCALE_FIELDS, onScaleFromWords } from './on-scale.ts';
import { RESIN_FIELDS, resinFromWords } from './resin-from-words.ts';

export const WEIGHING_FIELDS = [
  'piece',
  'pieces',
  ...ON_SCALE_FIELDS,
  'lot',
  'batch',
  'operator',
  'temperature',
  'humidity',
  'cause',
  ...RESIN_FIELDS,
] as const;

export const CONDITION_SPELLINGS: Readonly<Record<string, Condition>> = {
  released: 'as released',
  finish: 'finished',
  trim: 'trimmed',
  'fitted out': 'fitted',
};

/** The weighing of a part of `quantity` pieces, or undefined where a problem was found. `scaleDigitKg` as in `onScaleFromWords`. */
export function weighingFromWords(
  reader: FieldReader,
  part: { readonly partId: PartId; readonly number: string; readonly quantity: number },
  scaleDigitKg = Number.POSITIVE_INFINITY,
): StatementOf<'weighing'> | undefined {
  const problemsBefore = reader.problems.length;
  const pieces = piecesOnScale(reader, part);
  reader.need('gross');
  reader.need('condition');
  const condition = reader.choice('condition', Condition.options, CONDITION_SPELLINGS);
  const onScale = onScaleFromWords(reader, scaleDigitKg);
  const lot = reader.text('lot', 60);
  const batch = reader.text('batch', 60);
  const operator = reader.text('operator', 60);
  const temperatureC = reader.temperatureC('temperature');
  const humidity = reader.share('humidity');
  const cause = reader.choice('cause', DriftCause.options);
  const resin = resinFromWords(reader);
  if (humidity !== undefined && humidity.si > 1)
    reader.problem('humidity', { code: 'out-of-range', text: humidity.typed, least: '0 %', most: '100 %' });
  if (pieces === undefined || condition === undefined || onScale === undefined) return undefined;
  if (reader.problems.length > problemsBefore) return undefined;
  return {
    kind: 'weighing',
    partId: part.partId,
    pieces: [...pieces],
    condition,
    ...onScale,
    ...(lot === undefined ? {} : { lot }),
    ...(batch === undefined ? {} : { batch }),
    ...(operator === undefined ? {} : { operator }),
    ...(temperatureC === undefined ? {} : { temperatureC }),
    ...(humidity === undefined ? {} : { humidityFraction: humidity.si }),
    ...(cause === undefined ? {} : { cause }),
    ...resin,
    ...asTyped(reader),
  };
}

/** Not the readings, which keep what was typed beside each. */
function asTyped({ typed: all }: FieldReader): Pick<StatementOf<'weighing'>, 'typed'> {
  const kept = ['temperature', 'humidity', ...RESIN_FIELDS].flatMap((field) =>
    all[field] === undefined ? [] : [[field, all[field]] as const],
  );
  return kept.length === 0 ? {} : { typed: Object.fromEntries(kept) };
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
