/**
 * The pieces that a forecast is about (rule F2): neither weighed by themselves nor in an assembly, or an aircraft, that was. What is in
 * these is known by the scale, whatever its parts were estimated at.
 */
import { mouldedKgOf } from '#shared/drift/process-releases.ts';
import { isCounted } from '#shared/ledger/assemblies.ts';
import { heldPieces } from '#shared/ledger/assembly-shares.ts';
import type { PartBooks } from '#shared/ledger/books.ts';
import type { PresentPart } from '#shared/ledger/fold.ts';
import type { PartState } from '#shared/ledger/part-state.ts';

export type OpenPart = {
  readonly part: PresentPart;
  readonly pieceCount: number;
  /** Moulded mass of these pieces together as estimated, without allowance: what a shift of the process acts on. */
  readonly mouldedKg: number;
};

/** The open pieces of a part; undefined where there are none, or nothing is expected to come out of a mould for them. */
export function openPartOf(part: PresentPart, books: Pick<PartBooks, 'assemblies' | 'aboard'>): OpenPart | undefined {
  const { estimate, definition, weighedPieces } = part;
  if (estimate === undefined) return undefined;
  const pieceCount = definition.quantity - weighedPieces - knownUnweighed(part, books);
  const mouldedKg = pieceCount * mouldedKgOf(estimate.statement);
  return mouldedKg > 0 ? { part, pieceCount, mouldedKg } : undefined;
}

/** Pieces that a scale knows as part of something larger. */
function knownUnweighed(part: PartState, { assemblies, aboard }: Pick<PartBooks, 'assemblies' | 'aboard'>): number {
  const named = assemblies.naming.get(part.partId);
  const onAircraft = aboard?.pieces.get(part.partId);
  if (named === undefined && onAircraft === undefined) return 0;
  const held = heldPieces(part, named, (standing) => isCounted(assemblies, standing));
  const known = new Set([...held.keys(), ...(onAircraft ?? [])]);
  return [...known].filter((piece) => part.lives.get(piece)?.at(-1)?.governing === undefined).length;
}
