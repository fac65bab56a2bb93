/**
 * Words that people read, in the language of the shop. The code holds the English, which is the key of its translation: a translation is one file more,
 * `words/in/<language>.json`, and no code. What a message is made of stands in it as {0}, {1}, so that a language may order it its own way.
 */
import { locale, translated } from '#words';

/** A language tag (BCP 47): how the shop writes numbers. */
export const LOCALE = locale;

/** Whether one and a half is 1,5 there. */
export const HAS_DECIMAL_COMMA = new Intl.NumberFormat(LOCALE).format(1.5).includes(',');

/** One message, or a counted one by the plural categories of its language (Unicode CLDR). */
export type Translated = string | Readonly<Partial<Record<Intl.LDMLPluralRule, string>>>;
/** Messages by their English. */
export type Words = Readonly<Record<string, Translated>>;

const keys = new WeakMap<TemplateStringsArray, string>();

/** The English of a template: `{0} of {1} parts`. */
export function keyOf(strings: TemplateStringsArray): string {
  const known = keys.get(strings);
  if (known !== undefined) return known;
  const key = strings.reduce((before, text, at) => `${before}{${at - 1}}${text}`);
  keys.set(strings, key);
  return key;
}

/** say`${done} of ${all} parts`. English where the language has no words for it. */
export function say(strings: TemplateStringsArray, ...values: readonly (string | number | undefined)[]): string {
  if (translated === undefined) return String.raw({ raw: strings }, ...values);
  return filled(wordsFor(keyOf(strings)), values);
}

/** A value that the rules know by name, such as a condition or a cause, as it is read. The catalogue has every value of the lists in `shared`. */
export function term(value: string): string;
export function term(value: string | undefined): string | undefined;
export function term(value: string | undefined): string | undefined {
  return translated === undefined || value === undefined ? value : wordsFor(value);
}

const plurals = new Intl.PluralRules(LOCALE);

/** `counted(2, 'row', 'rows')` is "2 rows". The catalogue has it as `row|rows`, with as many forms as the language knows. */
export function counted(count: number, one: string, many: string): string {
  const forms = translated?.[`${one}|${many}`];
  const shown = count.toLocaleString(LOCALE);
  if (typeof forms !== 'object') return `${shown} ${count === 1 ? one : many}`;
  return filled(forms[plurals.select(count)] ?? forms.other ?? `{0} ${many}`, [shown]);
}

/** A message in pieces: text, and the places of what stands in it. */
export function piecesOf(strings: TemplateStringsArray): readonly (string | number)[] {
  const words = translated === undefined ? keyOf(strings) : wordsFor(keyOf(strings));
  return words.split(PLACE).map((piece, at) => (at % 2 === 0 ? piece : Number(piece)));
}

const PLACE = /\{(\d+)\}/;

function filled(words: string, values: readonly (string | number | undefined)[]): string {
  return words.replace(/\{(\d+)\}/g, (_, at) => String(values[Number(at)]));
}

function wordsFor(key: string): string {
  const words = translated?.[key];
  return typeof words === 'string' ? words : key;
}
