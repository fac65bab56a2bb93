/**
 * A weighed assembly as a person states it (rule W7), into the statement that is recorded. All parts below the assembly are taken to have
 * been on the scale but those that are named as not yet in it; what is kept is the list of those that were in it.
 * Fields: gross, tare, condition, scale, fixture, resolution, x, y, z, arm uncertainty, not yet in.
 */
import { stateOf } from '#shared/ledger/books.ts';
import { Condition, type Member, MOST_PIECES, type PartId, type StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { numberKey } from '#shared/part/from-words.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import { CONDITION_SPELLINGS } from './from-words.ts';
import { ON_SCALE_FIELDS, onScaleFromWords } from './on-scale.ts';

export const ASSEMBLY_FIELDS = [...ON_SCALE_FIELDS, 'x', 'y', 'z', 'arm uncertainty', 'not yet in'] as const;

/** The weighing of an assembly, or undefined where a problem was found. */
export function assemblyFromWords(
  reader: FieldReader,
  assembly: StatementOf<'part added'>,
  ledger: Ledger,
  scaleDigitKg = Number.POSITIVE_INFINITY,
): StatementOf<'assembly weighing'> | undefined {
  const problemsBefore = reader.problems.length;
  reader.need('gross');
  reader.need('condition');
  const condition = reader.choice('condition', Condition.options, CONDITION_SPELLINGS);
  const onScale = onScaleFromWords(reader, scaleDigitKg);
  const x = reader.length('x');
  const y = reader.length('y');
  const z = reader.length('z');
  const armStd = reader.length('arm uncertainty');
  if (armStd !== undefined && armStd.si < 0)
    reader.problem('arm uncertainty', { code: 'negative', what: 'uncertainty' });
  const members = membersFromWords(reader, assembly, ledger);
  if (condition === undefined || onScale === undefined || members === undefined) return undefined;
  if (reader.problems.length > problemsBefore) return undefined;
  const { x: xText, y: yText, z: zText, 'arm uncertainty': stdText } = reader.typed;
  const typed = { x: xText, y: yText, z: zText, 'arm uncertainty': stdText };
  return {
    kind: 'assembly weighing',
    partId: assembly.partId,
    members: [...members],
    condition,
    ...onScale,
    ...(x === undefined ? {} : { xM: x.si }),
    ...(y === undefined ? {} : { yM: y.si }),
    ...(z === undefined ? {} : { zM: z.si }),
    ...(armStd === undefined ? {} : { armStdM: armStd.si }),
    typed: Object.fromEntries(
      Object.entries(typed).flatMap(([axis, text]) => (text === undefined ? [] : [[axis, text]])),
    ),
  };
}

/** The parts below an assembly, down to the last, each before its own parts. */
export function partsBelow({ books }: Ledger, assemblyId: PartId): readonly StatementOf<'part added'>[] {
  const below: StatementOf<'part added'>[] = [];
  const seen = new Set<PartId>([assemblyId]);
  const descend = (partId: PartId): void => {
    for (const childId of books.byParent.get(partId) ?? []) {
      const definition = stateOf(books, childId)?.definition;
      if (definition === undefined || seen.has(childId)) continue;
      seen.add(childId);
      below.push(definition);
      descend(childId);
    }
  };
  descend(assemblyId);
  return below;
}

/** `RIB-3; TIP-1 piece 2; none`: what is not yet in it. An assembly that is not in it takes its parts along. */
function membersFromWords(
  reader: FieldReader,
  assembly: StatementOf<'part added'>,
  ledger: Ledger,
): readonly Member[] | undefined {
  const below = partsBelow(ledger, assembly.partId);
  if (below.length === 0) {
    reader.problem('part', { code: 'has-no-parts', part: assembly.number });
    return undefined;
  }
  const missing = new Map<PartId, ReadonlySet<number> | 'all'>();
  for (const text of reader.raw('not yet in')?.split(';') ?? []) {
    const words = text.trim();
    if (words === '' || words.toLowerCase() === 'none') continue;
    const named = partAndPieces(words, reader, ledger);
    if (named === undefined) continue;
    if (!below.some(({ partId }) => partId === named.part.partId)) {
      reader.problem('not yet in', { code: 'not-in-assembly', part: named.part.number, assembly: assembly.number });
      continue;
    }
    missing.set(named.part.partId, named.pieces);
    if (named.pieces === 'all')
      for (const { partId } of partsBelow(ledger, named.part.partId)) missing.set(partId, 'all');
  }
  const members = below.flatMap(({ partId, quantity }): Member[] => {
    const without = missing.get(partId);
    if (without === undefined) return [{ partId }];
    if (without === 'all') return [];
    const pieces = Array.from({ length: quantity }, (_, at) => at + 1).filter((piece) => !without.has(piece));
    return pieces.length === 0 ? [] : [{ partId, pieces }];
  });
  if (members.length > 0) return members;
  reader.problem('not yet in', { code: 'nothing-in-it', assembly: assembly.number });
  return undefined;
}

function partAndPieces(words: string, reader: FieldReader, ledger: Ledger) {
  const partNamed = (number: string) => {
    const partId = ledger.books.byNumber.get(numberKey(number));
    return partId === undefined ? undefined : stateOf(ledger.books, partId)?.definition;
  };
  const whole = partNamed(words);
  if (whole !== undefined) return { part: whole, pieces: 'all' as const };
  const split = /^(.+?)\s+pieces?\s+([\d\s,–-]+)$/i.exec(words);
  const part = split?.[1] === undefined ? undefined : partNamed(split[1]);
  if (part === undefined) {
    reader.problem('not yet in', { code: 'unknown-part', part: split?.[1] ?? words, near: undefined });
    return undefined;
  }
  const pieceReader = new FieldReader({ piece: split?.[2] });
  const pieces = pieceReader.pieceNumbers('piece', MOST_PIECES);
  for (const { refusal } of pieceReader.problems) reader.problem('not yet in', refusal);
  const beyond = pieces?.find((piece) => piece > part.quantity);
  if (beyond !== undefined)
    reader.problem('not yet in', { code: 'no-such-piece', piece: beyond, part: part.number, quantity: part.quantity });
  return pieces === undefined || beyond !== undefined ? undefined : { part, pieces: new Set(pieces) };
}
