/** Parts whose number or name holds every word; numbers that begin with it first, then what is still to be weighed. */
import type { PartReport } from '#shared/contract/reports.ts';
import { numberKey } from '#shared/part/from-words.ts';

export function findParts(parts: readonly PartReport[], search: string): readonly PartReport[] {
  const words = search
    .trim()
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '');
  const text = (part: PartReport) => `${part.number} ${part.name}`.toLowerCase();
  const rank = (part: PartReport) =>
    (words[0] !== undefined && part.number.toLowerCase().startsWith(words[0]) ? 0 : 2) +
    (part.weighed.length < part.quantity ? 0 : 1);
  return parts
    .filter((part) => words.every((word) => text(part).includes(word)))
    .map((part, at) => ({ part, at }))
    .sort((a, b) => rank(a.part) - rank(b.part) || a.at - b.at)
    .map(({ part }) => part);
}

export function partNamed(parts: readonly PartReport[], number: string): PartReport | undefined {
  const key = numberKey(number);
  return parts.find((part) => numberKey(part.number) === key);
}
