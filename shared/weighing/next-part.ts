/**
 * What is put on the scale next (rule H3): what is due in its order, what has not been weighed yet, and what goes on from the part that was weighed a
 * moment ago.
 */
import { DUE_WHYS, type DueReport, type PartReport } from '#shared/contract/reports.ts';

type Part = Pick<
  PartReport,
  | 'partId'
  | 'number'
  | 'assembly'
  | 'process'
  | 'quantity'
  | 'weighed'
  | 'installed'
  | 'childCount'
  | 'estimateKg'
  | 'predictedStdKg'
  | 'due'
>;

export type DuePart<P> = { readonly part: P; readonly due: DueReport };

/** Each part once, by what presses most; of one reason the least sure of its mass first. */
export function duePartsOf<P extends Part>(parts: readonly P[]): readonly DuePart<P>[] {
  return parts
    .flatMap((part) => (part.due[0] === undefined ? [] : [{ part, due: part.due[0] }]))
    .sort(
      (a, b) =>
        DUE_WHYS.indexOf(a.due.why) - DUE_WHYS.indexOf(b.due.why) || b.part.predictedStdKg - a.part.predictedStdKg,
    );
}

/** Of which nothing was weighed and nothing is due: the least sure first. What is built in is on no scale any more, nor is what only holds parts. */
export function notWeighedYet<P extends Part>(parts: readonly P[]): readonly P[] {
  return parts
    .filter((part) => part.weighed.length === 0 && part.due.length === 0 && leftOf(part).length > 0)
    .sort((a, b) => b.predictedStdKg - a.predictedStdKg);
}

/** Pieces that have not been weighed and are not built in; none of what holds parts, or has no estimate to be held against. */
function leftOf(part: Part): readonly number[] {
  if (part.childCount > 0 || part.estimateKg === undefined) return [];
  const gone = new Set([...part.weighed, ...part.installed]);
  return Array.from({ length: part.quantity }, (_, at) => at + 1).filter((piece) => !gone.has(piece));
}

export type Next<P> = {
  readonly part: P;
  readonly piece: number | undefined;
  readonly why: 'next piece' | 'same assembly' | 'same process' | 'due';
};

/**
 * Where the hands go on after `part`: its next piece, the next part of its assembly, of its process, and what is due first; each part once, those that
 * there are. `pieces` were weighed a moment ago, whether the list knows it yet or not.
 */
export function nextAfter<P extends Part>(part: P, pieces: readonly number[], parts: readonly P[]): readonly Next<P>[] {
  const done = new Set([...part.weighed, ...pieces]);
  const own = leftOf(part).find((piece) => !done.has(piece));
  const following = [...parts.slice(at(parts, part) + 1), ...parts.slice(0, Math.max(0, at(parts, part)))].filter(
    (one) => leftOf(one).length > 0,
  );
  const found: Next<P>[] = own === undefined ? [] : [{ part, piece: own, why: 'next piece' }];
  const add = (why: Next<P>['why'], next: P | undefined, piece?: number) => {
    if (next === undefined || found.some((one) => one.part.partId === next.partId)) return;
    found.push({ part: next, piece, why });
  };
  if (part.assembly !== undefined)
    add(
      'same assembly',
      following.find(({ assembly }) => assembly === part.assembly),
    );
  add(
    'same process',
    following.find((one) => one.process === part.process && !found.some((known) => known.part.partId === one.partId)),
  );
  const due = duePartsOf(parts).find(
    (one) => one.part.partId !== part.partId && !found.some((known) => known.part.partId === one.part.partId),
  );
  add('due', due?.part, due?.part.quantity === 1 ? undefined : due?.due.pieces[0]);
  return found;
}

function at<P extends Part>(parts: readonly P[], part: P): number {
  return parts.findIndex(({ partId }) => partId === part.partId);
}
