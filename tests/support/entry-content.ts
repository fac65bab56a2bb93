/** Content texts for tests of the store: flat JSON with sorted keys. The product's own canonical form is not tested here. */
import { randomUUID } from 'node:crypto';

export type ContentFields = Record<string, string | number | boolean | null>;

/** A weighing with a new id, changed by `fields`. */
export function contentOf(fields: ContentFields = {}): string {
  const all: ContentFields = {
    id: randomUUID(),
    kind: 'weighing',
    happenedOn: '2026-05-03',
    by: 'Ann',
    massKg: 12.5,
    ...fields,
  };
  return JSON.stringify(Object.fromEntries(Object.entries(all).sort(([a], [b]) => (a < b ? -1 : 1))));
}

export function contentsOf(count: number, fields: ContentFields = {}): string[] {
  return Array.from({ length: count }, (_, index) => contentOf({ massKg: index, ...fields }));
}

export function idOf(content: string): string {
  const read: unknown = JSON.parse(content);
  if (typeof read === 'object' && read !== null && 'id' in read && typeof read.id === 'string') return read.id;
  throw new Error('The content has no id.');
}
