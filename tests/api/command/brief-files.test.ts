/** `brief … --pdf --xlsx --csv`: files of a brief by command (rule B4), all that were asked for or none, nothing written over. */
import { existsSync } from 'node:fs';
import { readFile, writeFile } from 'node:fs/promises';
import { getDocumentProxy } from 'unpdf';
import { expect, it } from 'vitest';
import { Brief } from '#shared/contract/brief.ts';
import { jsonOf } from './run.ts';
import { describeInShops, lines } from './shop.ts';

const PARTS = lines(
  'number,name,group,quantity,process,estimate [kg],x [m],date',
  'A,Rib,wing,4,machined,1,1,2026-05-01',
);

/** Each command opens its store anew, and the embedded engine takes seconds for that on a busy machine. */
const PATIENCE_MS = 180_000;

describeInShops('the files of a brief by command', (shop) => {
  it(
    '[B4] writes PDF, workbook and CSV of one brief, and JSON beside them',
    async () => {
      await shop.report(['import', '--aircraft', 'Row', '--parts', await shop.file('parts.csv', PARTS)]);
      const place = await shop.file('place.txt', '');
      const at = (name: string) => place.replace('place.txt', name);
      const brief = (...words: string[]) => shop.run(['brief', ...words, '--aircraft', 'Row']);
      const made = await brief(
        'make',
        '--issue',
        '--by',
        'AB',
        '--pdf',
        at('a.pdf'),
        '--xlsx',
        at('a.xlsx'),
        '--csv',
        at('a.csv'),
      );
      expect(made.out).toBe(`Row: brief 1 at entry 3: ${at('a.pdf')}, ${at('a.xlsx')}, ${at('a.csv')} written.\n`);
      expect(
        (await (await getDocumentProxy(new Uint8Array(await readFile(at('a.pdf'))))).getPage(1)).view[3],
      ).toBeCloseTo(841.89, 1);
      expect((await readFile(at('a.xlsx'))).subarray(0, 2).toString()).toBe('PK');
      expect(await readFile(at('a.csv'), 'utf8')).toContain('Brief 1, issued by AB');
      expect(
        jsonOf(await brief('show', '1', '--pdf', at('b.pdf'), '--paper', 'letter', '--json'), Brief).issued?.number,
      ).toBe(1);
      expect((await (await getDocumentProxy(new Uint8Array(await readFile(at('b.pdf'))))).getPage(1)).view[3]).toBe(
        792,
      );
      await brief('--pdf', at('c.pdf'));
      expect(Buffer.compare(await readFile(at('c.pdf')), await readFile(at('a.pdf')))).toBe(0);
    },
    PATIENCE_MS,
  );

  it(
    '[B4] writes nothing over and leaves no half: what is there is named, and no brief is made in vain',
    async () => {
      await shop.report(['import', '--aircraft', 'Wren', '--parts', await shop.file('parts.csv', PARTS)]);
      const there = await shop.file('mine.pdf', 'mine');
      const refused = (...words: string[]) => shop.refusal(['brief', ...words, '--aircraft', 'Wren']);
      expect(await refused('make', '--pdf', there)).toEqual([expect.stringContaining('file-taken')]);
      expect((await shop.run(['brief', '--aircraft', 'Wren'])).out).toBe('Wren has no brief yet.\n');
      await writeFile(there, 'mine');
      const csv = there.replace('mine.pdf', 'twice');
      expect(await refused('make', '--csv', csv, '--xlsx', csv)).toEqual([expect.stringContaining('file-taken')]);
      const nowhere = there.replace('mine.pdf', 'no-folder/a.csv');
      const pdf = there.replace('mine.pdf', 'other.pdf');
      expect(await refused('make', '--pdf', pdf, '--csv', nowhere)).toEqual([
        expect.stringContaining('file-not-written'),
      ]);
      expect(existsSync(pdf)).toBe(false);
      expect(await readFile(there, 'utf8')).toBe('mine');
    },
    PATIENCE_MS,
  );
});
