/**
 * The language of the shop, as `TAREBOOK_LOCALE` tells it: words from `shared/words/in` or the shop's own folder, numbers as that place writes them. Read
 * once, before anything that has words: a shop speaks one language, so that no figure stands as 1.234 on one tablet and as 1,234 on the next.
 */
import { existsSync, readFileSync } from 'node:fs';
import type { Words } from '#shared/words/say.ts';

type Chosen = {
  readonly locale: string;
  readonly isAsked: boolean;
  readonly translated: Words | undefined;
  readonly refusal?: string;
};

const ENGLISH: Chosen = { locale: 'en-GB', isAsked: false, translated: undefined };

/** `localeRefusal`: why the language that was asked for cannot be had, for who started the program; it is English then. */
export const { locale, isAsked, translated, refusal: localeRefusal } = chosen(process.env['TAREBOOK_LOCALE'] ?? '');

function chosen(tag: string): Chosen {
  if (tag === '') return ENGLISH;
  const asked = localeOf(tag);
  if (asked === undefined)
    return {
      ...ENGLISH,
      refusal: `TAREBOOK_LOCALE is “${tag}”, which is no language known here. Write it as a language and a place, such as en-GB, en-US or de-AT.`,
    };
  const file = fileFor(asked);
  try {
    return {
      locale: asked.toString(),
      isAsked: true,
      translated: file === undefined ? undefined : JSON.parse(readFileSync(file, 'utf8')),
    };
  } catch (error) {
    const why = error instanceof Error ? error.message : 'it is damaged';
    return {
      ...ENGLISH,
      refusal: `The translation ${file} cannot be read: ${why}. Put it right, or leave TAREBOOK_LOCALE out.`,
    };
  }
}

function localeOf(tag: string): Intl.Locale | undefined {
  try {
    const asked = new Intl.Locale(tag);
    return Intl.NumberFormat.supportedLocalesOf(asked.language).length > 0 ? asked : undefined;
  } catch {
    return undefined;
  }
}

/** The nearest there is: the language as spoken in a place, or the language. The shop's own folder counts over the product's. */
function fileFor({ baseName, language }: Intl.Locale): string | undefined {
  const own = process.env['TAREBOOK_WORDS'] ?? '';
  const folders = [...(own === '' ? [] : [own]), `${import.meta.dirname}/../../shared/words/in`];
  // `en.json` lists what there is to translate: it is what the code says.
  const names = [baseName, language].filter((name) => name !== 'en');
  return folders.flatMap((folder) => names.map((name) => `${folder}/${name}.json`)).find(existsSync);
}
