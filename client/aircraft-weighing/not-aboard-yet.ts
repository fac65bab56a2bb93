/**
 * Which parts are taken not to be aboard when a weighing of the aircraft is begun (rules R1, A4): where the shop records what is built in, all that
 * is not. What is in an assembly that was weighed is where the outermost such assembly is; an assembly that was not weighed is there as soon
 * as something in it is.
 */

import type { PartReport } from '#shared/contract/reports.ts';
import { say } from '#shared/words/say.ts';

/** In words, as they are typed; empty where the shop does not record what is built in. */
export function notAboardYet(parts: readonly PartReport[]): string {
  if (!parts.some(({ installed }) => installed.length > 0)) return '';
  const byNumber = new Map(parts.map((part) => [part.number, part]));
  const holdersOf = (part: PartReport): readonly PartReport[] => {
    const found = [part];
    let outer = byNumber.get(part.assembly ?? '');
    while (outer !== undefined && !found.includes(outer)) {
      found.push(outer);
      outer = byNumber.get(outer.assembly ?? '');
    }
    return found;
  };
  const builtIn = new Map(parts.map((part) => [part, builtInOf(part, holdersOf(part))]));
  const begun = new Set(
    parts.filter((part) => (builtIn.get(part)?.length ?? 0) > 0).flatMap((part) => holdersOf(part).slice(1)),
  );
  const missing = parts.flatMap((part) => {
    const { number, quantity } = part;
    const there = builtIn.get(part) ?? [];
    if (begun.has(part) || there.length >= quantity) return [];
    if (there.length === 0) return [number];
    const pieces = Array.from({ length: quantity }, (_, at) => at + 1).filter((piece) => !there.includes(piece));
    return [say`${number} piece ${pieces.join(', ')}`];
  });
  return missing.join('; ');
}

/** The pieces of a part that are built in, by what holds it: the part itself first, the outermost assembly last. */
function builtInOf({ installed, quantity }: PartReport, holders: readonly PartReport[]): readonly number[] {
  const weighed = holders.findLast(({ asAssembly }) => asAssembly !== undefined);
  if (weighed === undefined) return installed;
  return weighed.installed.length === 0 ? [] : Array.from({ length: quantity }, (_, at) => at + 1);
}
