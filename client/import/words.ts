/** Words of the screen that several of its parts use. */

import type { ImportKind } from '#shared/table/lists.ts';
import { counted, say, term } from '#shared/words/say.ts';

export const KIND_WORDS: Readonly<Record<ImportKind, string>> = {
  parts: say`parts list`,
  weighings: say`weighings`,
  targets: say`targets`,
};

/** The kinds of entries that lists make, counted. */
const ENTRY_WORDS: Readonly<Record<string, (count: number) => string>> = {
  'part added': (count) => counted(count, 'part', 'parts'),
  estimate: (count) => counted(count, 'estimate', 'estimates'),
  weighing: (count) => counted(count, 'weighing', 'weighings'),
  'assembly weighing': (count) => counted(count, 'weighing of an assembly', 'weighings of assemblies'),
  targets: (count) => counted(count, 'revision of the targets', 'revisions of the targets'),
};

/** `9 parts, 9 estimates`. */
export function kindsInWords(kinds: Readonly<Record<string, number>>): string {
  return Object.entries(kinds)
    .map(([kind, count]) => ENTRY_WORDS[kind]?.(count) ?? `${count} ${term(kind)}`)
    .join(', ');
}

/** What a reading looks like, by the slip that a doubt names. */
const SLIP_WORDS: Readonly<Record<string, string>> = {
  'entered before': say`Entered before`,
  'another part': say`Would fit another part`,
  'kg for lb': say`Pounds taken for kilograms`,
  'lb for kg': say`Kilograms taken for pounds`,
  'g for kg': say`Kilograms taken for grams`,
  'kg for g': say`Grams taken for kilograms`,
  'far above': say`More than double what is expected`,
  'far below': say`Less than half of what is expected`,
  'does not count': say`Would not count`,
};

export function slipWords(slip: string): string {
  return SLIP_WORDS[slip] ?? `${slip.charAt(0).toUpperCase()}${slip.slice(1)}`;
}
