/** A language made up for tests, which puts the words of every message between ⟦ and ⟧: what stands outside of them is English that was left, or is no word. */
import { collectTerms, collectWords } from '#api/words/collect.ts';
import type { Translated } from '#shared/words/say.ts';

/** With `whole` a message is marked with what stands in it; else what stands in it stands outside, to be looked at by itself. */
export function markedWords(what: 'whole' | 'words'): Record<string, Translated> {
  const marked = (words: string) =>
    what === 'whole'
      ? `⟦${words}⟧`
      : words.replaceAll(/(\{\d+\})|((?:(?!\{\d+\}).)+)/gs, (_, place, own) => place ?? `⟦${own}⟧`);
  return Object.fromEntries(
    Object.entries(collectWords()).map(([key, english]) => [
      key,
      typeof english === 'string'
        ? marked(english)
        : Object.fromEntries(Object.entries(english).map(([form, of]) => [form, marked(of)])),
    ]),
  );
}

/** Every text in the data, but what the rules know by name. */
export function ownWords(data: unknown): readonly string[] {
  const terms = collectTerms();
  const found = new Set<string>();
  const gather = (value: unknown): void => {
    if (typeof value === 'string') {
      if (!terms.has(value)) found.add(value);
    } else if (hasGroup(value)) {
      // A group is what the shop calls it, also where a process is called so.
      found.add(value.group);
      Object.values(value).forEach(gather);
    } else if (typeof value === 'object' && value !== null) Object.values(value).forEach(gather);
  };
  gather(data);
  return [...found];
}

function hasGroup(value: unknown): value is { readonly group: string } {
  return typeof value === 'object' && value !== null && 'group' in value && typeof value.group === 'string';
}

/** Units, and signs of the trade, are the same in every language. */
const EVERYWHERE =
  /\b(kg|mm|cm|lb|oz|in|ft|MAC|CG|UTC|kJ|Wf|Vf|SHA-256|Tarebook|CSV|PDF|XLSX|JSON|SVG|PNG|STL|OBJ|QR)\b/g;

/** Of the texts from outside of the marks, those with a word that is neither the shop's own nor the same everywhere. */
export function englishIn(left: readonly string[], own: readonly string[]): readonly string[] {
  const longestFirst = [...new Set(own)]
    .sort((a, b) => b.length - a.length)
    .map((one) => one.replaceAll(/[.*+?^${}()|[\]\\/]/g, '\\$&'));
  const ofTheShop = new RegExp(`(?<!\\p{L})(?:${longestFirst.join('|')})(?!\\p{L})`, 'gu');
  return [...new Set(left)].filter((text) => /\p{L}{2,}/u.test(text.replace(ofTheShop, ' ').replace(EVERYWHERE, ' ')));
}
