/**
 * What no entry in words needs, refused before anything is read: texts far longer than any field takes (reading a quantity takes longer
 * with the square of its length), more names than any kind has, and objects where words belong, which the readers would pass over.
 */
export type Sent = Readonly<Record<string, unknown>>;

export const NAMED_WORDS = 'an entry is an object of named texts and numbers';

type Issue = { readonly path: string[] } & (
  | { readonly code: 'custom'; readonly message: string }
  | { readonly code: 'unrecognized_keys'; readonly keys: string[] }
);

/** The longest field takes 2,000 characters; a list of parts in one field may name every part of an aircraft. */
const MOST_TEXT = 4_000;
const MOST_LIST = 20_000;
const LISTS: ReadonlySet<string> = new Set(['not yet in', 'not aboard']);
const MOST_NAME = 200;
/** Of these 500 may be groups. */
const MOST_NAMES = 600;
/** A schedule has lists of regions, these have lists of lines; limits have cases with loads; a weighing has runs, and these readings; an outline has points. */
const DEEPLY: ReadonlySet<string> = new Set(['layUp', 'geometry', 'limits', 'weighed']);
const MOST_DEEP = 5;
const MOST_IN_LIST = 200;
/** The only fields that hold fields of their own. */
const HOLDERS: ReadonlySet<string> = new Set(['groups', 'replacement']);

export function isNamed(value: unknown): value is Sent {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

export function beyondBounds(sent: Sent, path: readonly string[] = []): readonly Issue[] {
  const names = Object.keys(sent);
  if (names.length > MOST_NAMES)
    return [{ code: 'custom', path: [...path], message: `must not have more than ${MOST_NAMES} fields` }];
  return names.flatMap((name): readonly Issue[] => {
    if (name.length > MOST_NAME)
      return [
        { code: 'custom', path: [...path], message: `names of fields must not be longer than ${MOST_NAME} characters` },
      ];
    // No field: objects made of what is sent would lose it without a word.
    if (name === '__proto__') return [{ code: 'unrecognized_keys', path: [...path], keys: [name] }];
    return beyondBound(sent[name], [...path, name]);
  });
}

function beyondBound(value: unknown, path: string[]): readonly Issue[] {
  if (typeof value === 'string') {
    const most = LISTS.has(path.at(-1) ?? '') ? MOST_LIST : MOST_TEXT;
    return value.length > most ? [{ code: 'custom', path, message: `must not be longer than ${most} characters` }] : [];
  }
  if (typeof value !== 'object' || value === null) return [];
  if (DEEPLY.has(path.at(-1) ?? '') && isBelowReplacement(path)) return beyondDeep(value, path, MOST_DEEP);
  // A replacement may have groups; nothing has a replacement within it.
  const isHolder = isNamed(value) && HOLDERS.has(path.at(-1) ?? '') && isBelowReplacement(path);
  return isHolder ? beyondBounds(value, path) : [{ code: 'custom', path, message: NAMED_WORDS }];
}

function isBelowReplacement(path: readonly string[]): boolean {
  return path.length <= 2 && path.slice(0, -1).every((name) => name === 'replacement');
}

/** What it holds is for its own reader; here only that it is no deeper, longer or wider than that ever needs. */
function beyondDeep(value: unknown, path: string[], deep: number): readonly Issue[] {
  if (typeof value === 'string' && value.length > MOST_TEXT)
    return [{ code: 'custom', path, message: `must not be longer than ${MOST_TEXT} characters` }];
  if (typeof value !== 'object' || value === null) return [];
  const held = Object.entries(value);
  if (deep === 0) return [{ code: 'custom', path, message: 'must not hold so many things within each other' }];
  if (held.length > MOST_IN_LIST)
    return [{ code: 'custom', path, message: `must not have more than ${MOST_IN_LIST} of these` }];
  return held.flatMap(([name, one]): readonly Issue[] =>
    name === '__proto__'
      ? [{ code: 'unrecognized_keys', path: [...path], keys: [name] }]
      : beyondDeep(one, [...path, name], deep - 1),
  );
}
