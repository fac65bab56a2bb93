/** Words of the screen that several of its parts use. */
import type { ImportKind } from '#shared/table/lists.ts';

export const KIND_WORDS: Readonly<Record<ImportKind, string>> = {
  parts: 'parts list',
  weighings: 'weighings',
  targets: 'targets',
};

/** Plurals of the kinds of entries that lists make. */
const ENTRY_WORDS: Readonly<Record<string, readonly [string, string]>> = {
  'part added': ['part', 'parts'],
  estimate: ['estimate', 'estimates'],
  weighing: ['weighing', 'weighings'],
  'assembly weighing': ['weighing of an assembly', 'weighings of assemblies'],
  targets: ['revision of the targets', 'revisions of the targets'],
};

export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count.toLocaleString('en-GB')} ${count === 1 ? one : many}`;
}

/** `9 parts, 9 estimates`. */
export function kindsInWords(kinds: Readonly<Record<string, number>>): string {
  return Object.entries(kinds)
    .map(([kind, count]) => counted(count, ...(ENTRY_WORDS[kind] ?? ([kind, kind] as const))))
    .join(', ');
}

/** What a reading looks like, by the slip that a doubt names. */
const SLIP_WORDS: Readonly<Record<string, string>> = {
  'entered before': 'Entered before',
  'another part': 'Would fit another part',
  'kg for lb': 'Pounds taken for kilograms',
  'lb for kg': 'Kilograms taken for pounds',
  'g for kg': 'Kilograms taken for grams',
  'kg for g': 'Grams taken for kilograms',
  'far above': 'More than double what is expected',
  'far below': 'Less than half of what is expected',
  'does not count': 'Would not count',
};

export function slipWords(slip: string): string {
  return SLIP_WORDS[slip] ?? `${slip.charAt(0).toUpperCase()}${slip.slice(1)}`;
}
