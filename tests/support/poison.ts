/** Text that would run in a browser where it is taken for anything but text, put into every text of an entry that takes it. */
import { Entry } from '#shared/ledger/entry.ts';

/** As a link, out of an attribute, and as an element: each calls `ran`. */
const POISONS = [
  'javascript:ran()//"><img src=x onerror=ran()><script>ran()</script>',
  '"><img src=x onerror=ran()>',
  '<svg onload=ran()>',
];

export const POISON = POISONS[1] as string;

/** The entry with every text poisoned that may be any text, and how many these are. Equal texts become equal ones, so that names still fit. */
export function poisoned(entry: Entry): { readonly entry: Entry; readonly count: number } {
  let now = entry;
  let count = 0;
  for (const path of textPaths(entry)) {
    const text = String(at(entry, path));
    for (const poison of POISONS) {
      const next = Entry.safeParse(withText(now, path, `${poison}${text}`));
      if (!next.success) continue;
      now = next.data;
      count += 1;
      break;
    }
  }
  return { entry: now, count };
}

type Path = readonly (string | number)[];

function textPaths(value: unknown, path: Path = []): readonly Path[] {
  if (typeof value === 'string') return [path];
  if (typeof value !== 'object' || value === null) return [];
  const keys = Array.isArray(value) ? value.map((_, index) => index) : Object.keys(value);
  return keys.flatMap((key) => textPaths((value as Record<string | number, unknown>)[key], [...path, key]));
}

function at(value: unknown, path: Path): unknown {
  return path.reduce((inner, key) => (inner as Record<string | number, unknown>)[key], value);
}

function withText(value: unknown, [key, ...rest]: Path, text: string): unknown {
  if (key === undefined) return text;
  const inner = (value as Record<string | number, unknown>)[key];
  if (Array.isArray(value)) return value.map((one, index) => (index === key ? withText(one, rest, text) : one));
  return { ...(value as object), [key]: withText(inner, rest, text) };
}
