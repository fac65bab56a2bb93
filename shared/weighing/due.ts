/**
 * What is due for weighing, and why (rule H3): what the ledger knows to be there and not to be weighed as it should. What is built in, and what stands in an
 * assembly that was weighed, cannot be put on a scale by itself any more.
 */
import type { DueReport } from '#shared/contract/reports.ts';
import type { PartDrift } from '#shared/drift/part-drift.ts';
import { countedBook } from '#shared/ledger/assemblies.ts';
import type { Ledger, PresentPart } from '#shared/ledger/fold.ts';
import { assembliesUp } from '#shared/ledger/part-state.ts';

/** The most pressing first; each piece once. Empty where nothing is due. */
export function dueOf(ledger: Ledger, part: PresentPart, drifts: readonly PartDrift[]): readonly DueReport[] {
  if (isInWeighedAssembly(ledger, part)) return [];
  const isAssembly = (ledger.books.byParent.get(part.partId)?.size ?? 0) > 0;
  if (isAssembly) return isWholeToWeigh(ledger, part) ? [{ why: 'all in it weighed', pieces: [1] }] : [];
  const known = new Set(part.installedPieces);
  const due: DueReport[] = [];
  const add = (why: DueReport['why'], pieces: readonly number[]) => {
    const left = pieces.filter((piece) => !known.has(piece)).sort((a, b) => a - b);
    for (const piece of left) known.add(piece);
    if (left.length > 0) due.push({ why, pieces: left });
  };
  const weighed = part.weighings.flatMap(({ pieces }) => pieces);
  add('scale in doubt', piecesOf(drifts.filter(({ marks }) => marks.length > 0)));
  add('reworked', piecesOf(drifts.filter(({ disposition }) => disposition?.statement.decision === 'to be reworked')));
  add('made anew', madeAnew(part));
  if (weighed.length > 0) {
    const isWeighed = new Set(weighed);
    add(
      'pieces left',
      numbersUpTo(part.definition.quantity).filter((piece) => !isWeighed.has(piece)),
    );
  }
  if ((part.estimate?.statement.flashKg ?? 0) > 0)
    add(
      'flash on',
      piecesOf(
        part.weighings
          .filter((one) => one.standing.statement.condition === 'as released')
          .map((weighing) => ({ weighing })),
      ),
    );
  return due;
}

function piecesOf(of: readonly { readonly weighing: { readonly pieces: readonly number[] } }[]): readonly number[] {
  return of.flatMap(({ weighing }) => weighing.pieces);
}

/** Rule W8: the article before was withdrawn, and the new one has not been weighed. */
function madeAnew({ lives, definition }: PresentPart): readonly number[] {
  return [...lives].flatMap(([piece, ofPiece]) => {
    const life = ofPiece.at(-1);
    return piece <= definition.quantity && life?.begun !== undefined && life.governing === undefined ? [piece] : [];
  });
}

function numbersUpTo(count: number): readonly number[] {
  return Array.from({ length: count }, (_, at) => at + 1);
}

function isInWeighedAssembly(ledger: Ledger, part: PresentPart): boolean {
  const { byPart, assemblies } = ledger.books;
  const up = assembliesUp(byPart, part.definition.parentPartId);
  return [...up].some((assemblyId) => countedBook(assemblies, assemblyId) !== undefined);
}

/** Rule W7: every part directly in it has been weighed, or weighed as an assembly, and it has not. */
function isWholeToWeigh(ledger: Ledger, { partId }: PresentPart): boolean {
  if (countedBook(ledger.books.assemblies, partId) !== undefined) return false;
  const within = [...(ledger.books.byParent.get(partId) ?? [])].map((id) => ledger.books.byPart.get(id)?.state);
  return within.every((state) => {
    if (state === undefined || state.removed !== undefined) return true;
    if (countedBook(ledger.books.assemblies, state.partId) !== undefined) return true;
    return state.weighedPieces >= (state.definition?.quantity ?? 1);
  });
}
