/**
 * The language of the shop, as `TAREBOOK_LOCALE` tells it: words from `shared/words/in`, numbers as that place writes them. Read once, before anything that
 * has words: a shop speaks one language, so that no figure stands as 1.234 on one tablet and as 1,234 on the next.
 */
import { existsSync, readFileSync } from 'node:fs';
import type { Words } from '#shared/words/say.ts';

const asked = process.env['TAREBOOK_LOCALE'] ?? '';

/** Why the language that was asked for cannot be had, in words for who started the program. */
export const localeRefusal = refusalOf(asked);

export const locale = asked === '' || localeRefusal !== undefined ? 'en-GB' : new Intl.Locale(asked).toString();

export const translated: Words | undefined = wordsIn(new Intl.Locale(locale));

/** The nearest there is: the language as spoken in a place, or the language. The shop's own folder counts over the product's. */
function wordsIn({ baseName, language }: Intl.Locale): Words | undefined {
  const folders = [process.env['TAREBOOK_WORDS'], `${import.meta.dirname}/../../shared/words/in`].filter((one) => one);
  // `en.json` lists what there is to translate: it is what the code says.
  const names = [baseName, language].filter((name) => name !== 'en');
  const file = folders.flatMap((folder) => names.map((name) => `${folder}/${name}.json`)).find(existsSync);
  return file === undefined ? undefined : JSON.parse(readFileSync(file, 'utf8'));
}

function refusalOf(tag: string): string | undefined {
  if (tag === '') return undefined;
  try {
    const { language } = new Intl.Locale(tag);
    if (Intl.NumberFormat.supportedLocalesOf(language).length > 0) return undefined;
  } catch {
    // Told below.
  }
  return `TAREBOOK_LOCALE is “${tag}”, which is no language known here. Write it as a language and a place, such as en-GB, en-US or de-AT.`;
}
