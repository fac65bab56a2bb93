/** Helpers for tests of the doors: a reader of plain fields, and its problems as `field: code`. */
import type { Refusal } from '#shared/problem/registry.ts';
import { FieldReader, type Manner } from '#shared/words/field-reader.ts';

export function readerOf(words: Readonly<Record<string, string>>, manner: Manner = {}): FieldReader {
  return new FieldReader(words, manner);
}

export function problemsOf(reader: { problems: readonly { field: string; refusal: Refusal }[] }): string[] {
  return reader.problems.map(({ field, refusal }) => `${field}: ${refusal.code}`);
}
