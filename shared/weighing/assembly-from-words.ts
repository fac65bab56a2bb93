/**
 * A weighed assembly as a person states it (rule W7), into the statement that is recorded. All parts below the assembly are taken to have
 * been on the scale but those that are named as not yet in it; what is kept is the list of those that were in it.
 * Fields: gross, tare, condition, scale, fixture, resolution, x, y, z, arm uncertainty, not yet in.
 */
import { stateOf } from '#shared/ledger/books.ts';
import { Condition, type Member, MOST_PIECES, type PartId, type StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { byWhatHappened } from '#shared/ledger/part-state.ts';
import { numberKey } from '#shared/part/from-words.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import { CONDITION_SPELLINGS } from './from-words.ts';
import { ON_SCALE_FIELDS, onScaleFromWords } from './on-scale.ts';

export const ASSEMBLY_FIELDS = [...ON_SCALE_FIELDS, 'x', 'y', 'z', 'arm uncertainty', 'not yet in'] as const;

/** When a weighing took its place: the day it happened and its number, which is beyond all others while it has none. */
export type At = { readonly happenedOn: string; readonly seq: number };

/** The weighing of an assembly at a moment, or undefined where a problem was found. */
export function assemblyFromWords(
  reader: FieldReader,
  assembly: StatementOf<'part added'>,
  { ledger, at }: { readonly ledger: Ledger; readonly at: At },
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
  const members = membersFromWords({
    reader,
    assembly,
    below: partsBelow(ledger, assembly.partId, at),
    ledger,
    field: 'not yet in',
  });
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

/**
 * The parts below an assembly, down to the last, each before its own parts. With a moment those as well that were removed after it: they
 * were in the assembly then, which counts where a weighing is recorded late or is corrected.
 */
export function partsBelow({ books }: Ledger, assemblyId: PartId, at?: At): readonly StatementOf<'part added'>[] {
  const children = new Map<PartId, Iterable<PartId>>(books.byParent);
  if (at !== undefined)
    for (const { state } of books.byPart.values()) {
      const parentId = state.definition?.parentPartId;
      if (parentId !== undefined && state.removed !== undefined && byWhatHappened(state.removed, at) > 0)
        children.set(parentId, [...(children.get(parentId) ?? []), state.partId]);
    }
  const below: StatementOf<'part added'>[] = [];
  const seen = new Set<PartId>([assemblyId]);
  const descend = (partId: PartId): void => {
    for (const childId of children.get(partId) ?? []) {
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

type Part = StatementOf<'part added'>;
type Naming = {
  readonly reader: FieldReader;
  readonly field: string;
  /** None where the parts of the whole aircraft are named. */
  readonly assembly?: Part | undefined;
  readonly below: readonly Part[];
  readonly ledger: Ledger;
};

/** `RIB-3; TIP-1 piece 2; none`: what was not on the whole aircraft at a moment (rule A3). An assembly that was not takes its parts along. */
export function missingPartsFromWords(
  reader: FieldReader,
  field: string,
  { ledger, at }: { readonly ledger: Ledger; readonly at: At },
): readonly Member[] {
  const below = partsOfAircraft(ledger, at);
  const missing = missingFromWords({ reader, field, below, ledger });
  return below.flatMap(({ partId, quantity }): Member[] => {
    const pieces = missing.get(partId);
    if (pieces === undefined) return [];
    return [pieces.size === quantity ? { partId } : { partId, pieces: [...pieces].sort((a, b) => a - b) }];
  });
}

/** Every part there was at a moment, each before its own parts. */
function partsOfAircraft(ledger: Ledger, at: At): readonly Part[] {
  const top = [...ledger.books.byPart.values()].flatMap(({ state: { definition, removed } }) => {
    const isThere = removed === undefined || byWhatHappened(removed, at) > 0;
    return definition === undefined || definition.parentPartId !== undefined || !isThere ? [] : [definition];
  });
  return top.flatMap((part) => [part, ...partsBelow(ledger, part.partId, at)]);
}

/** `RIB-3; TIP-1 piece 2; none`: what is not yet in it. An assembly that is not in it takes its parts along. */
function membersFromWords(naming: Naming & { readonly assembly: Part }): readonly Member[] | undefined {
  const { reader, assembly, below } = naming;
  if (below.length === 0) {
    reader.problem('part', { code: 'has-no-parts', part: assembly.number });
    return undefined;
  }
  const missing = missingFromWords(naming);
  const members = below.flatMap((part): Member[] => {
    const without = missing.get(part.partId);
    if (without === undefined) return [{ partId: part.partId }];
    const pieces = piecesOf(part).filter((piece) => !without.has(piece));
    return pieces.length === 0 ? [] : [{ partId: part.partId, pieces }];
  });
  if (members.length > 0) return members;
  reader.problem('not yet in', { code: 'nothing-in-it', assembly: assembly.number });
  return undefined;
}

/** The pieces that are not yet in it, by part. A part may be named more than once, with other pieces each time. */
function missingFromWords(naming: Naming): ReadonlyMap<PartId, ReadonlySet<number>> {
  const { reader, below, field } = naming;
  const missing = new Map<PartId, Set<number>>();
  const leaveOut = (part: Part, pieces: readonly number[]): void => {
    const named = missing.get(part.partId) ?? new Set<number>();
    for (const piece of pieces) named.add(piece);
    missing.set(part.partId, named);
  };
  for (const text of reader.raw(field)?.split(';') ?? []) {
    const words = text.trim();
    if (words === '' || words.toLowerCase() === 'none') continue;
    const whole = partsNamed(words, below);
    for (const part of whole) leaveOut(part, piecesOf(part));
    const named = whole.length > 0 ? undefined : partAndPieces(words, naming);
    if (named !== undefined) leaveOut(named.part, named.pieces);
  }
  // Each part comes before its own parts, so one walk reaches them all.
  const quantities = new Map(below.map(({ partId, quantity }) => [partId, quantity]));
  for (const part of below) {
    const { parentPartId } = part;
    const gone = parentPartId === undefined ? undefined : missing.get(parentPartId)?.size;
    if (parentPartId !== undefined && gone !== undefined && gone === quantities.get(parentPartId))
      leaveOut(part, piecesOf(part));
  }
  return missing;
}

function piecesOf({ quantity }: Part): readonly number[] {
  return Array.from({ length: quantity }, (_, at) => at + 1);
}

/** The parts of this number. There are several where one was removed and its number given to another. */
function partsNamed(number: string, parts: readonly Part[]): readonly Part[] {
  const key = numberKey(number);
  return parts.filter((part) => numberKey(part.number) === key);
}

function partAndPieces(
  words: string,
  { reader, field, assembly, below, ledger }: Naming,
): { readonly part: Part; readonly pieces: readonly number[] } | undefined {
  const split = /^(.+?)\s+pieces?\s+([\d\s,–-]+)$/i.exec(words);
  const number = split?.[1] ?? words;
  const [part] = partsNamed(number, below);
  if (part === undefined) {
    const isKnown = [words, number].some((one) => ledger.books.byNumber.has(numberKey(one)));
    reader.problem(
      field,
      isKnown && assembly !== undefined
        ? { code: 'not-in-assembly', part: number, assembly: assembly.number }
        : { code: 'unknown-part', part: number, near: undefined },
    );
    return undefined;
  }
  const pieceReader = new FieldReader({ piece: split?.[2] });
  const pieces = pieceReader.pieceNumbers('piece', MOST_PIECES);
  for (const { refusal } of pieceReader.problems) reader.problem(field, refusal);
  const beyond = pieces?.find((piece) => piece > part.quantity);
  if (beyond !== undefined)
    reader.problem(field, { code: 'no-such-piece', piece: beyond, part: part.number, quantity: part.quantity });
  return pieces === undefined || beyond !== undefined ? undefined : { part, pieces };
}
