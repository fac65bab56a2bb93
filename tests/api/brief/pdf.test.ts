/** A brief as PDF (rule B4), read back page by page with another library than the one that wrote it. */
import { getDocumentProxy } from 'unpdf';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { PAPERS, type Paper } from '#api/brief/file-kinds.ts';
import { briefPdf } from '#api/brief/pdf/pdf.ts';
import { toldIn } from '#api/brief/pdf/print-words.ts';
import type { Brief } from '#shared/contract/brief.ts';
import { draftOf, emptyContent, fullContent, ISSUED_HASH, issuedOf, NAMES } from '../../shared/brief/sample-briefs.ts';

type Piece = {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly isAcross: boolean;
};
type Page = {
  readonly width: number;
  readonly height: number;
  readonly pieces: readonly Piece[];
  readonly text: string;
};

async function pagesOf(brief: Brief, paper: Paper): Promise<readonly Page[]> {
  const document = await getDocumentProxy(await copyOf(brief, paper));
  const pages: Page[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number);
    const [, , width = 0, height = 0] = page.view;
    const { items } = await page.getTextContent();
    const pieces = items.flatMap((item): Piece[] => {
      if (!('str' in item) || item.str === '') return [];
      const [, slope = 0, , , x = 0, y = 0] = item.transform as number[];
      return [{ text: item.str, x, y, width: item.width, height: item.height, isAcross: slope !== 0 }];
    });
    pages.push({
      width,
      height,
      pieces,
      text: pieces
        .map(({ text }) => text)
        .join(' ')
        .replace(/\s+/g, ' '),
    });
  }
  return pages;
}

/** The reader takes the bytes away from who gives them. */
async function copyOf(brief: Brief, paper: Paper): Promise<Uint8Array> {
  return new Uint8Array(await briefPdf(brief, paper));
}

const full = fullContent();
const crowdedContent = fullContent({ drifting: 60 });
let draft: readonly Page[];
let crowded: readonly Page[];

beforeAll(async () => {
  draft = await pagesOf(draftOf(full, { all: 'Γειά σου, Привет, Łódź', growth: 'slower now' }), 'a4');
  crowded = await pagesOf(issuedOf(crowdedContent), 'letter');
});

describe('a brief as PDF', () => {
  it('[B4] is A4 or Letter, of two pages, each with its number and the cautions', async () => {
    expect(PAPERS).toEqual(['a4', 'letter']);
    expect(draft.map(({ width, height }) => [Math.round(width), Math.round(height)])).toEqual([
      [595, 842],
      [595, 842],
    ]);
    expect(crowded.map(({ width, height }) => [width, height])).toEqual(crowded.map(() => [612, 792]));
    for (const pages of [draft, crowded])
      pages.forEach(({ text }, at) => {
        expect(text).toContain(`page ${at + 1} of ${pages.length}`);
        for (const caution of full.cautions) expect(text).toContain(caution);
      });
  });

  it('[B4] has the headline, the figures, what drifts and the names in every script as text', () => {
    const [first = '', second = ''] = draft.map(({ text }) => text);
    const { basicKg, allowanceKg } = full.figures;
    const { mass, massChange } = toldIn(full.aircraft);
    expect(first).toContain(`basic mass + growth allowance, in both, kg ${mass(basicKg)} + ${mass(allowanceKg)}`);
    const shown = massChange(full.forecast.forecastKg - full.forecast.predictedKg);
    expect(first).toContain(`shown by processes, in the forecast, kg ${shown}`);
    for (const sentence of [full.headline.lead, ...full.headline.rest])
      expect(first).toContain(sentence.replaceAll('\u00a0', ' '));
    for (const name of NAMES) expect(second).toContain(name);
    expect(first).toContain('Remark: Γειά σου, Привет, Łódź');
    expect(first).toContain('Remark on growth: slower now');
    expect(first).toContain('78.2 ± 1.5');
    expect(second).toMatch(/−0\.8\d\d/);
    expect(second).toMatch(/drifting heavy, new/);
    expect(second).toContain('Bo (stated the cause)');
    expect(second).toContain('overdue');
  });

  it('[B4] says DRAFT on every page, and once issued who issued it when, and from which entries and hashes', async () => {
    for (const { text } of draft) expect(text).toMatch(/DRAFT/);
    const issued = await pagesOf(issuedOf(full), 'a4');
    for (const { text } of issued) {
      expect(text).not.toMatch(/DRAFT/);
      expect(text).toContain('Brief 3, issued by Zoë at 2026-07-01 09:30 UTC');
    }
    const all = issued.map(({ text }) => text).join(' ');
    for (const words of [`entry ${full.to.seq}`, `entry ${full.from.seq}`, '0'.repeat(64), 'f'.repeat(64), ISSUED_HASH])
      expect(all).toContain(words);
    const dropped = await pagesOf({ ...draftOf(full), state: 'dropped' }, 'a4');
    for (const { text } of dropped) expect(text).toContain('DROPPED');
  });

  it('[B4] of sixty parts that drift no row is cut, and every page has the headings again', () => {
    expect(crowded.length).toBeGreaterThan(2);
    const rows = crowded.flatMap(({ text }) => text.match(/P-\d+ \S/g) ?? []);
    for (const { number } of crowdedContent.drift.parts.rows)
      expect(rows.some((row) => row.startsWith(`${number} `))).toBe(true);
    const withParts = crowded.filter(({ text }) => /drifting heavy, new/.test(text));
    expect(withParts.length).toBeGreaterThan(1);
    for (const { text } of withParts) expect(text).toMatch(/part flag weighed off by, kg/);
    expect(crowded.map(({ text }) => text).join(' ')).toContain('The 40 largest of 60.');
    for (const { pieces } of crowded) {
      const foot = pieces.find(({ text }) => text.startsWith('Predicted and forecast figures are planning'));
      const rowsLow = pieces.filter(({ text }) => /^P-\d+ /.test(text)).map(({ y }) => y);
      expect(Math.min(...rowsLow, Number.POSITIVE_INFINITY)).toBeGreaterThan((foot?.y ?? Number.NaN) + 8);
    }
  });

  it('[B4] puts nothing outside its pages and no text over other text, also with names that do not end', async () => {
    const [part] = full.drift.parts.rows;
    if (part === undefined) throw new Error('nothing drifts');
    const long = {
      ...part,
      name: `${'Zusammenhangsberichtigung'.repeat(8)}`,
      number: 'N'.repeat(100),
      cause: 'other: '.repeat(30),
    };
    const content = {
      ...full,
      aircraft: { ...full.aircraft, name: 'A very long name of an aircraft '.repeat(6).trim() },
      drift: { ...full.drift, parts: { count: 1, rows: [long] } },
    };
    const pages = await pagesOf(draftOf(content, { all: 'x'.repeat(1000) }), 'letter');
    for (const { width, height, pieces } of [...pages, ...draft, ...crowded]) {
      const level = pieces.filter(({ isAcross, text }) => !isAcross && text.trim() !== '');
      for (const piece of level) {
        expect(piece.x).toBeGreaterThanOrEqual(36);
        expect(piece.x + piece.width).toBeLessThanOrEqual(width - 36);
        expect(piece.y).toBeGreaterThan(20);
        expect(piece.y + piece.height).toBeLessThan(height - 20);
      }
      const clashes = level.flatMap((a, at) =>
        level.slice(at + 1).flatMap((b) => (clash(a, b) ? [`${a.text} | ${b.text}`] : [])),
      );
      expect(clashes).toEqual([]);
    }
    expect(pages.map(({ text }) => text.replaceAll(' ', '')).join('')).toContain(long.name);
  });

  it('[B4] stands without anything to tell, of one day, and without targets', async () => {
    const empty = await pagesOf(draftOf(emptyContent()), 'a4');
    const text = empty.map((page) => page.text).join(' ');
    expect(text).toContain('No weighing is beyond its limit.');
    expect(text).toContain('Nothing is proposed.');
    expect(text).toContain('not set');
    expect(text).not.toMatch(/NaN|undefined|Infinity/);
    const oneDay = { ...full, days: full.days.slice(-1) };
    const [first] = await pagesOf(draftOf(oneDay), 'a4');
    expect(first?.text).toContain(`${full.days.at(-1)?.day} Change of the predicted`);
  });

  it('[B4] tells which signs it has no font for, instead of leaving them out', async () => {
    const named = { ...full, made: { ...full.made, by: '田中' } };
    const text = (await pagesOf(draftOf(named), 'a4')).map((page) => page.text).join(' ');
    expect(text).toContain('made by \uFFFD\uFFFD on');
    expect(text).toContain('\uFFFD stands for a sign that these pages have no font for.');
    expect(draft.map((page) => page.text).join(' ')).not.toContain('\uFFFD');
  });

  it('[B4] is tagged, with title and language, and the same byte for byte on any day', async () => {
    const brief = issuedOf(full);
    const today = await briefPdf(brief, 'a4');
    vi.useFakeTimers({ now: Date.parse('2031-02-03T04:05:06Z'), toFake: ['Date'] });
    const later = await briefPdf(brief, 'a4').finally(() => vi.useRealTimers());
    expect(Buffer.compare(today, later)).toBe(0);
    const document = await getDocumentProxy(new Uint8Array(today));
    const { info } = await document.getMetadata();
    expect(info).toMatchObject({
      Title: `Test bird: brief 3 at entry ${full.to.seq}`,
      Author: 'Zoë',
      Language: 'en-GB',
    });
    expect((await document.getMarkInfo())?.Marked).toBe(true);
    const tree = JSON.stringify(await (await document.getPage(1)).getStructTree());
    for (const tag of ['H1', 'LI', 'Table', 'TR', 'TH', 'TD', 'Figure']) expect(tree).toContain(`"role":"${tag}"`);
    expect(tree).toContain('Predicted and forecast empty weight by day');
  });
});

/** Boxes of text that lie over one another by more than the air around letters. */
function clash(a: Piece, b: Piece): boolean {
  const across = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
  const down = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
  return across > 1 && down > 0.4 * Math.min(a.height, b.height);
}
