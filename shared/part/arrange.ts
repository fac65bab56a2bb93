/**
 * The lines of a table of parts: the tree of assemblies laid flat, or all parts in one run; sorted, and with what was asked for only.
 * In the tree an assembly stays in sight while something in it does. Sorting ten thousand parts is the dear step, so it is one of its own.
 */
import type { PartReport } from '#shared/contract/reports.ts';

type Row = Pick<PartReport, 'number' | 'assembly'>;

export type Sort<P extends Row> = {
  /** What is undefined comes last, whichever way. */
  readonly by: (part: P) => string | number | undefined;
  readonly isDown: boolean;
};

export type Line<P extends Row> = {
  readonly part: P;
  /** 1 for what stands in no assembly. */
  readonly level: number;
  readonly isOpen: boolean | undefined;
  /** Asked for itself, and not only because something in it is. */
  readonly isAsked: boolean;
  readonly place: number;
  readonly among: number;
};

const words = new Intl.Collator('en', { numeric: true });

/** `W-9` before `W-10`; among equals the number decides. */
export function sortParts<P extends Row>(parts: readonly P[], { by, isDown }: Sort<P>): readonly P[] {
  const turn = isDown ? -1 : 1;
  const compare = (a: string | number, b: string | number) =>
    typeof a === 'number' && typeof b === 'number' ? a - b : words.compare(String(a), String(b));
  return parts
    .map((part) => ({ part, key: by(part) }))
    .sort((a, b) => {
      if (a.key === undefined || b.key === undefined)
        return Number(a.key === undefined) - Number(b.key === undefined) || words.compare(a.part.number, b.part.number);
      return turn * compare(a.key, b.key) || words.compare(a.part.number, b.part.number);
    })
    .map(({ part }) => part);
}

/** All parts in one run. */
export function flatLines<P extends Row>(sorted: readonly P[], isAsked: (part: P) => boolean): readonly Line<P>[] {
  const asked = sorted.filter(isAsked);
  return asked.map((part, at) => ({
    part,
    level: 1,
    isOpen: undefined,
    isAsked: true,
    place: at + 1,
    among: asked.length,
  }));
}

export type Tree<P extends Row> = { readonly tops: readonly P[]; readonly within: ReadonlyMap<string, readonly P[]> };

/** Who stands in what, each in the order given. A part whose assembly is not among them stands by itself. */
export function treeOf<P extends Row>(sorted: readonly P[]): Tree<P> {
  const numbers = new Set(sorted.map(({ number }) => number));
  const tops: P[] = [];
  const within = new Map<string, P[]>();
  for (const part of sorted) {
    if (part.assembly === undefined || !numbers.has(part.assembly)) {
      tops.push(part);
      continue;
    }
    const siblings = within.get(part.assembly);
    if (siblings === undefined) within.set(part.assembly, [part]);
    else siblings.push(part);
  }
  return { tops, within };
}

/** The tree laid flat; what is `closed` (by number) keeps what is in it to itself. */
export function treeLines<P extends Row>(
  { tops, within }: Tree<P>,
  isAsked: (part: P) => boolean,
  closed: ReadonlySet<string>,
): readonly Line<P>[] {
  const stays = new Map<P, boolean>();
  const look = (part: P): boolean => {
    // Each is looked into, also behind one that stays: no `some`, which would stop at the first.
    const inIt = (within.get(part.number) ?? []).filter(look).length > 0;
    const isIn = inIt || isAsked(part);
    stays.set(part, isIn);
    return isIn;
  };
  const lines: Line<P>[] = [];
  const lay = (parts: readonly P[], level: number) => {
    const staying = parts.filter((part) => stays.get(part) === true);
    for (const [at, part] of staying.entries()) {
      const inner = (within.get(part.number) ?? []).filter((one) => stays.get(one) === true);
      const isOpen = inner.length === 0 ? undefined : !closed.has(part.number);
      lines.push({ part, level, isOpen, isAsked: isAsked(part), place: at + 1, among: staying.length });
      if (isOpen === true) lay(inner, level + 1);
    }
  };
  for (const part of tops) look(part);
  lay(tops, 1);
  return lines;
}

/** By number, the sum of a part and of everything in it, however deep. */
export function sumsWithin<P extends Row>(
  { tops, within }: Tree<P>,
  of: (part: P) => number,
): ReadonlyMap<string, number> {
  const sums = new Map<string, number>();
  const sum = (part: P): number => {
    const total = (within.get(part.number) ?? []).reduce((soFar, inner) => soFar + sum(inner), of(part));
    sums.set(part.number, total);
    return total;
  };
  for (const part of tops) sum(part);
  return sums;
}
