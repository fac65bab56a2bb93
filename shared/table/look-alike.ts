/** What a column that is not used looks like, by the words of its heading and its unit: it is offered as that, and never taken for it by itself. */
import { lengthUnitOf, massUnitOf } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';

type Sign = { readonly field: string; readonly words: RegExp; readonly unitOf?: (unit: string) => unknown };

const MASS = /\b(mass|weight|wt|kg|lbs?|grams?)\b/;

/** The first that fits; a word of the heading, or its unit. */
const SIGNS: readonly Sign[] = [
  { field: 'std uncertainty', words: /±|\+\/-|\btol(erance)?\b|\buncert|\baccuracy\b/ },
  { field: 'quantity', words: /\b(qty|quantity|off|nos|count|pcs|pieces|reqd?|required)\b/ },
  { field: 'gross', words: /\b(gross|scale|reading|weighed|actual)\b/ },
  { field: 'estimate', words: MASS, unitOf: massUnitOf },
  { field: 'empty mass', words: MASS, unitOf: massUnitOf },
  { field: 'x', words: /\b(arm|sta|station|aft|cg)\b/, unitOf: lengthUnitOf },
  { field: 'group', words: /\b(dept|department|system|subsystem|discipline|team|category|assembly group)\b/ },
  { field: 'number', words: /\b(number|no|id|ref|reference|part|drawing)\b/ },
];

/** One of `open`, the fields that no column gives yet, or nothing. */
export function looksLike(heading: string, open: ReadonlySet<string>): string | undefined {
  const words = heading.toLowerCase().replaceAll(/[._]/g, ' ');
  const unit = /[[(]\s*([^\])]+?)\s*[\])]/.exec(heading)?.[1] ?? '';
  return SIGNS.find((sign) => open.has(sign.field) && (sign.words.test(words) || sign.unitOf?.(unit) !== undefined))
    ?.field;
}

/** The headings in one sentence's words: `No. off (looks like the quantity), Status`. */
export function unusedWords(headings: readonly string[], open: ReadonlySet<string>): string {
  return headings
    .map((heading) => {
      const field = looksLike(heading, open);
      return field === undefined ? heading : say`${heading} (looks like the ${field})`;
    })
    .join(', ');
}
