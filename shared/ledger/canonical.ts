/**
 * The text of an entry: one spelling for one content (JSON Canonicalization Scheme, RFC 8785), so that it can be hashed
 * (rule L5) and compared (rule L3). The text is what is stored; everything else about an entry is derived from it.
 */
import canonicalize from 'canonicalize';
import { Entry } from './entry.ts';

/** The canonical text of an entry. Throws on what JSON cannot say (NaN, an infinity): a bug, the doors refuse those. */
export function entryText(entry: Entry): string {
  const text = canonicalize(entry);
  if (text === undefined) throw new Error('an entry has no canonical text');
  return text;
}

/** An entry from its stored text. Throws where the text is no entry: the ledger was written by something else. */
export function entryFromText(text: string): Entry {
  return Entry.parse(JSON.parse(text)) as Entry;
}

/** The names of the fields in which two entries differ, in alphabetical order (rule L3 names them). */
export function differingFields(a: Entry, b: Entry): readonly string[] {
  const left = Object.entries(a);
  const right = new Map<string, unknown>(Object.entries(b));
  const names = new Set([...left.map(([name]) => name), ...right.keys()]);
  const byName = new Map<string, unknown>(left);
  return [...names].filter((name) => canonicalize(byName.get(name)) !== canonicalize(right.get(name))).sort();
}
