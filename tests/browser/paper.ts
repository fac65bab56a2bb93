/** What a screen comes to on paper: printed by a real browser, and read back from the PDF. */

import type { Page } from 'playwright-core';
import { getDocumentProxy } from 'unpdf';
import { expect } from 'vitest';
import { CAUTIONS } from '#shared/brief/cautions.ts';

export const PAPERS = ['A4', 'Letter'] as const;

type Piece = { readonly words: string; readonly y: number };

/**
 * The pieces of text of each page other than the cautions, of which each page is expected to have all, below everything else. Spaces are not
 * compared: a PDF parts words where two letters are set as one.
 */
export async function printedPages(page: Page, format: (typeof PAPERS)[number]): Promise<readonly string[][]> {
  const pdf = await getDocumentProxy(new Uint8Array(await page.pdf({ format })));
  const pages: string[][] = [];
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const { items } = await (await pdf.getPage(number)).getTextContent();
    const pieces = items.flatMap((item): readonly Piece[] =>
      'str' in item && item.str.trim() !== '' ? [{ words: squeezed(item.str), y: Number(item.transform[5]) }] : [],
    );
    const [begin, end] = cautionsIn(pieces, `page ${number} of ${pdf.numPages} on ${format}`);
    const foot = Math.max(...pieces.slice(begin, end).map(({ y }) => y));
    const rest = pieces.filter((_, at) => at < begin || at >= end);
    // The mark of a draft lies across the page, behind whatever stands there.
    expect(rest.filter(({ words, y }) => y <= foot && words !== 'DRAFT')).toEqual([]);
    pages.push(rest.map(({ words }) => words));
  }
  return pages;
}

/** From which piece to which the cautions are. */
function cautionsIn(pieces: readonly Piece[], where: string): readonly [number, number] {
  const words = pieces.map((piece) => piece.words);
  const sought = squeezed(CAUTIONS.join(''));
  const from = words.join('').lastIndexOf(sought);
  expect(from, `cautions on ${where}: ${words.join(' ')}`).toBeGreaterThanOrEqual(0);
  let read = 0;
  const ends = words.map((piece) => {
    read += piece.length;
    return read;
  });
  return [ends.findIndex((end) => end > from), ends.findIndex((end) => end >= from + sought.length) + 1];
}

function squeezed(text: string): string {
  return text.normalize('NFKC').replaceAll(/\s/g, '');
}
