/**
 * The statements that need little reading: the aircraft, pieces withdrawn or installed, what becomes of a piece, a part removed, the
 * datum moved, a note. Each gives undefined where a problem was found; the reader has it.
 */
import { Disposition, MOST_PIECES, type PartId, type StatementOf } from '#shared/ledger/entry.ts';
import { LENGTH_UNITS, type LengthUnit, MASS_UNITS, type MassUnit } from '#shared/quantity/units.ts';
import type { FieldReader } from './field-reader.ts';

/** Fields: name, datum, levelling, mac, lemac, mass unit, length unit, oil in empty weight. */
export function aircraftFromWords(reader: FieldReader): StatementOf<'aircraft'> | undefined {
  const before = reader.problems.length;
  reader.need('name');
  reader.need('datum');
  const name = reader.text('name', 80);
  const datum = reader.text('datum', 400);
  const levelling = reader.text('levelling', 400);
  const mac = reader.length('mac');
  const lemac = reader.length('lemac');
  const massUnit = reader.choice<MassUnit>('mass unit', MASS_UNITS);
  const lengthUnit = reader.choice<LengthUnit>('length unit', LENGTH_UNITS);
  const oil = reader.choice('oil in empty weight', ['yes', 'no']);
  if (mac !== undefined && mac.si <= 0)
    reader.problem('mac', { code: 'out-of-range', text: mac.typed, least: 'more than 0 m', most: '1,000 m' });
  if ((mac === undefined) !== (lemac === undefined)) reader.problem('mac', { code: 'chord-half' });
  if (name === undefined || datum === undefined || reader.problems.length > before) return undefined;
  return {
    kind: 'aircraft',
    name,
    datum,
    ...(levelling === undefined ? {} : { levelling }),
    ...(mac === undefined ? {} : { macM: mac.si }),
    ...(lemac === undefined ? {} : { lemacM: lemac.si }),
    massUnit: massUnit ?? 'kg',
    lengthUnit: lengthUnit ?? 'm',
    ...(oil === undefined ? {} : { oilIsEmptyWeight: oil === 'yes' }),
    typed: { ...reader.typed },
  };
}

/** Fields: piece (all of them where the part has one), and for a withdrawal the reason. */
export function piecesFromWords(
  reader: FieldReader,
  kind: 'piece withdrawn' | 'piece installed',
  part: PartOfPieces,
): StatementOf<'piece withdrawn' | 'piece installed'> | undefined {
  const before = reader.problems.length;
  const pieces = namedPieces(reader, part);
  if (kind === 'piece installed')
    return reader.problems.length > before ? undefined : { kind, partId: part.partId, pieces };
  reader.need('reason');
  const reason = reader.text('reason', 400);
  if (reason === undefined || reader.problems.length > before) return undefined;
  return { kind, partId: part.partId, pieces, reason };
}

/** Fields: piece, decision, inspection. */
export function dispositionFromWords(reader: FieldReader, part: PartOfPieces): StatementOf<'disposition'> | undefined {
  const before = reader.problems.length;
  const pieces = namedPieces(reader, part);
  reader.need('decision');
  const decision = reader.choice<Disposition>('decision', Disposition.options, {
    accept: 'accepted',
    rework: 'to be reworked',
    'to rework': 'to be reworked',
    scrap: 'scrapped',
  });
  const inspection = reader.text('inspection', 2000);
  if (decision === undefined || reader.problems.length > before) return undefined;
  return {
    kind: 'disposition',
    partId: part.partId,
    pieces,
    decision,
    ...(inspection === undefined ? {} : { inspection }),
  };
}

type PartOfPieces = { readonly partId: PartId; readonly number: string; readonly quantity: number };

/** The pieces that a field names; a part's only piece needs no number. */
function namedPieces(reader: FieldReader, part: PartOfPieces): number[] {
  const named = reader.pieceNumbers('piece', MOST_PIECES);
  const beyond = named?.find((piece) => piece > part.quantity);
  if (beyond !== undefined)
    reader.problem('piece', { code: 'no-such-piece', piece: beyond, part: part.number, quantity: part.quantity });
  if (!reader.has('piece') && part.quantity > 1)
    reader.problem('piece', { code: 'which-piece', part: part.number, quantity: part.quantity });
  return [...(named ?? [1])];
}

/** Fields: reason. */
export function removalFromWords(reader: FieldReader, partId: PartId): StatementOf<'part removed'> | undefined {
  reader.need('reason');
  const reason = reader.text('reason', 400);
  return reason === undefined ? undefined : { kind: 'part removed', partId, reason };
}

/** Fields: shift (positive where the datum goes aft), datum (its new place in words), reason. */
export function datumFromWords(reader: FieldReader): StatementOf<'datum moved'> | undefined {
  const before = reader.problems.length;
  for (const field of ['shift', 'datum', 'reason']) reader.need(field);
  const shift = reader.length('shift');
  const datum = reader.text('datum', 400);
  const reason = reader.text('reason', 400);
  if (shift === undefined || datum === undefined || reason === undefined || reader.problems.length > before)
    return undefined;
  return { kind: 'datum moved', shiftM: shift.si, datum, reason, typed: { ...reader.typed } };
}

/** Fields: text. */
export function noteFromWords(reader: FieldReader, partId: PartId | undefined): StatementOf<'note'> | undefined {
  reader.need('text');
  const text = reader.text('text', 2000);
  if (text === undefined) return undefined;
  return { kind: 'note', ...(partId === undefined ? {} : { partId }), text };
}
