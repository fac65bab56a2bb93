/** All words that people read stand in one file, from which a translation is made. */
import { readdir, readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { collectWords } from '#api/words/collect.ts';
import type { Translated } from '#shared/words/say.ts';

const IN = 'shared/words/in';

describe('the words', () => {
  it('[N16] are all in one file: where this fails, `npm run words` writes it anew', async () => {
    const kept = JSON.parse(await readFile(`${IN}/en.json`, 'utf8'));
    expect(kept).toEqual(JSON.parse(JSON.stringify(collectWords())));
    expect(Object.keys(kept).length).toBeGreaterThan(3000);
  });

  it('[N16] a translation says only what there is to say, with every place that its English has', async () => {
    const english = collectWords();
    for (const file of (await readdir(IN)).filter((name) => name !== 'en.json')) {
      const words: Record<string, Translated> = JSON.parse(await readFile(`${IN}/${file}`, 'utf8'));
      for (const [key, translated] of Object.entries(words)) {
        expect(english, `${file}: “${key}” is not said any more`).toHaveProperty([key]);
        for (const form of typeof translated === 'string' ? [translated] : Object.values(translated))
          expect(placesIn(form), `${file}: “${key}”`).toEqual(placesIn(formOf(english[key])));
      }
    }
  });
});

function formOf(english: Translated | undefined): string {
  return typeof english === 'object' ? (english.other ?? '') : (english ?? '');
}

function placesIn(words: string): readonly string[] {
  return [...new Set(words.match(/\{\d+\}/g))].sort();
}
