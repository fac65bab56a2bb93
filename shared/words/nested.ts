/**
 * Reads what a person wrote into a form that has lists in it: each object with a `FieldReader` of its own, and every problem at its path. A
 * field that is not known is refused, and so is what is no text or number.
 */
import type { Refusal } from '#shared/problem/registry.ts';
import { say } from '#shared/words/say.ts';
import { FieldReader } from './field-reader.ts';
import type { PathProblem } from './path-problem.ts';

type Known = {
  /** The fields that hold words, or how they follow from what was sent. */
  readonly fields: readonly string[] | ((words: Readonly<Record<string, string>>) => readonly string[]);
  readonly lists?: readonly string[];
};
type Place = { readonly path: readonly string[]; readonly problems: PathProblem[] };

export class Nested {
  readonly reader: FieldReader;
  readonly #lists: ReadonlyMap<string, readonly unknown[]>;
  readonly #place: Place;

  constructor(reader: FieldReader, lists: ReadonlyMap<string, readonly unknown[]>, place: Place) {
    this.reader = reader;
    this.#lists = lists;
    this.#place = place;
  }

  /** What the reading makes of the fields; its problems are kept at their place. */
  take<Value>(read: (reader: FieldReader) => Value): Value {
    const before = this.reader.problems.length;
    const value = read(this.reader);
    for (const { field, refusal } of this.reader.problems.slice(before))
      this.#place.problems.push({ path: [...this.#place.path, field], refusal });
    return value;
  }

  /** The objects of a list, those left out that are none. */
  list(name: string, most: number, known: Known): readonly Nested[] {
    const sent = this.#lists.get(name) ?? [];
    const path = [...this.#place.path, name];
    if (sent.length > most) {
      this.#place.problems.push({
        path,
        refusal: { code: 'shape-refused', why: say`must not have more than ${most} of these` },
      });
      return [];
    }
    return sent.flatMap((one, at) => readNested(one, known, { ...this.#place, path: [...path, String(at)] }) ?? []);
  }
}

/** The fields and lists of an object, or undefined where it is none. */
export function readNested(sent: unknown, { fields, lists = [] }: Known, place: Place): Nested | undefined {
  const problem = (path: readonly string[], refusal: Refusal) =>
    place.problems.push({ path: [...place.path, ...path], refusal });
  if (!isObject(sent)) {
    problem([], { code: 'shape-refused', why: say`an object of named texts is needed here` });
    return undefined;
  }
  const words: Record<string, string> = {};
  const found = new Map<string, readonly unknown[]>();
  for (const [field, value] of Object.entries(sent)) {
    if (value === undefined) continue;
    if (lists.includes(field)) {
      if (Array.isArray(value)) found.set(field, value);
      else problem([field], { code: 'shape-refused', why: say`a list is needed here` });
    } else if (typeof value === 'string' || typeof value === 'number') words[field] = String(value);
    else problem([field], { code: 'shape-refused', why: say`a text or a number is needed here` });
  }
  const known = typeof fields === 'function' ? fields(words) : fields;
  for (const field of Object.keys(words))
    if (!known.includes(field)) problem([field], { code: 'field-unknown', known: [...known, ...lists] });
  return new Nested(new FieldReader(words), found, place);
}

function isObject(sent: unknown): sent is Readonly<Record<string, unknown>> {
  return typeof sent === 'object' && sent !== null && !Array.isArray(sent);
}
