/**
 * What of the aircraft has been on a scale, and what of it is built in or in stock (rule R1). A piece that was weighed in an assembly has
 * been on a scale and is where the assembly is; so is what the scale found beyond the parts. What was aboard when the whole aircraft was weighed
 * has been on a scale, and is built in.
 */
import type { MassNg } from '#shared/quantity/exact.ts';
import { type Assemblies, countedBook, innerOf, isCounted } from './assemblies.ts';
import { type AsAssembly, heldPieces } from './assembly-shares.ts';
import type { PartBooks } from './books.ts';
import type { PartId } from './entry.ts';
import { byWhatHappened, type PartState, pieceMasses } from './part-state.ts';

/** Basic masses of a part's pieces and of its residual as an assembly. */
export type Whereabouts = { readonly weighedNg: MassNg; readonly installedNg: MassNg; readonly inStockNg: MassNg };

/** Answers for one part after another; what is known of the assemblies is gathered once. */
export function whereaboutsIn(books: PartBooks): (state: PartState) => Whereabouts {
  const { assemblies, aboard } = books;
  const isAboard = (partId: PartId, piece: number) => aboard?.pieces.get(partId)?.has(piece) ?? false;
  const isInstalled = whereAssembliesAre(books);
  return (state) => {
    let { weighedNg, installedNg, inStockNg }: Record<keyof Whereabouts, bigint> = state;
    const move = (massNg: bigint, installed: boolean) => {
      if (installed) installedNg += massNg;
      else inStockNg += massNg;
    };
    const masses = pieceMasses(state.estimate?.statement);
    const ticked = new Set(state.installedPieces);
    const held = heldPieces(state, assemblies.naming.get(state.partId), (standing) => isCounted(assemblies, standing));
    for (const [piece, within] of held) {
      const weighing = state.lives.get(piece)?.at(-1)?.governing;
      const massNg = masses.massNg(weighing);
      if (weighing === undefined) weighedNg += massNg;
      if (ticked.has(piece) || weighing !== undefined) move(-massNg, ticked.has(piece));
      move(massNg, isInstalled(lastOf(within).statement.partId) || isAboard(state.partId, piece));
    }
    for (const piece of aboard?.pieces.get(state.partId) ?? []) {
      if (held.has(piece)) continue;
      const weighing = state.lives.get(piece)?.at(-1)?.governing;
      const massNg = masses.massNg(weighing);
      if (weighing === undefined) weighedNg += massNg;
      if (ticked.has(piece)) continue;
      if (weighing !== undefined) move(-massNg, false);
      move(massNg, true);
    }
    const residualNg = countedBook(assemblies, state.partId)?.residual.massNg ?? 0n;
    weighedNg += residualNg;
    if (residualNg !== 0n) move(residualNg, isInstalled(state.partId) || isAboard(state.partId, 1));
    return { weighedNg, installedNg, inStockNg } as Whereabouts;
  };
}

/** What went from one assembly to another is in the one that was weighed last. */
function lastOf(within: readonly [AsAssembly, ...AsAssembly[]]): AsAssembly {
  return within.reduce((last, one) => (byWhatHappened(one, last) > 0 ? one : last));
}

/** An assembly is where the one that holds it is, and the outermost is built in once it is ticked off. */
function whereAssembliesAre({ assemblies, byPart }: PartBooks): (partId: PartId) => boolean {
  const holders = holdersIn(assemblies);
  const known = new Map<PartId, boolean>();
  const isInstalled = (partId: PartId): boolean => {
    const already = known.get(partId);
    if (already !== undefined) return already;
    const outer = holders.get(partId);
    const installed =
      outer === undefined
        ? (byPart.get(partId)?.state.installedPieces.includes(1) ?? false)
        : isInstalled(lastOf(outer).statement.partId);
    known.set(partId, installed);
    return installed;
  };
  return isInstalled;
}

function holdersIn({ books }: Assemblies): ReadonlyMap<PartId, [AsAssembly, ...AsAssembly[]]> {
  const holders = new Map<PartId, [AsAssembly, ...AsAssembly[]]>();
  for (const outer of [...books.values()].flat()) {
    if (outer === undefined || !outer.counts) continue;
    for (const inner of innerOf(books, outer)) {
      const known = holders.get(inner.partId);
      if (!inner.counts) continue;
      if (known === undefined) holders.set(inner.partId, [outer.standing]);
      else known.push(outer.standing);
    }
  }
  return holders;
}
