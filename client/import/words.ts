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
