/** Files that cannot be taken as a whole, and trees that cannot be: where it is said, and nothing recorded. */
import { mkdir, truncate } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { problemsOf } from './run.ts';
import { describeInShop, given, lines, type Shop } from './shop.ts';

const GOOD = lines('number,name,group,estimate [kg],x [m]', 'A,Rib,wing,2,1');
const START = ['import', '--aircraft', 'New', '--parts'];

const refusalOf = async (shop: Shop, content: string | Uint8Array, more: readonly string[] = []) =>
  shop.refusal([...START, await shop.file('parts.csv', content), ...more]);

/** The first bytes of any workbook (a ZIP archive) before some more of it. */
const WORKBOOK = Buffer.concat([Buffer.from([0x50, 0x4b, 0x03, 0x04]), Buffer.alloc(200, 7)]);
const OLD_WORKBOOK = Buffer.concat([Buffer.from([0xd0, 0xcf, 0x11, 0xe0]), Buffer.alloc(200, 7)]);

describeInShop('a file that cannot be taken', 'postgres', (shop) => {
  it.each<[string, string | Uint8Array, string]>([
    ['an empty file', '', '1:0 file-empty'],
    ['a file of blank lines', '\n\n  \n', '1:0 file-empty'],
    ['a byte order mark alone', '\uFEFF', '1:0 file-empty'],
    ['headings without rows', 'number,group\n', '1:0 no-rows'],
    ['headings over rows of separators', 'number,group\n,\n,\n', '1:0 no-rows'],
    ['a list without a column of numbers', lines('name,group', 'Rib,wing'), '1:0 column-missing'],
    ['two columns for one field', lines('number,group,part no', 'A,wing,B'), '1:3 column-twice'],
    ['a unit in a heading that is none', lines('number,group,estimate [stone]', 'A,wing,2'), '1:3 column-unit-unknown'],
    ['a mass unit over stations', lines('number,group,estimate [kg],x [kg]', 'A,wing,2,3'), '1:4 column-unit-unknown'],
    ['more cells than headings', lines('number,group', 'A,wing', 'B,wing,3'), '3:3 cells-too-many'],
    ['a quotation mark never closed', lines('number,group', 'A,wing', '"B,wing', 'C,wing'), '3:0 quote-not-closed'],
    ['a quotation mark inside a cell', lines('number,group', 'A,wing', 'B"2,wing'), '3:0 quote-misplaced'],
    ['a workbook under another name', WORKBOOK, '0:0 file-is-workbook'],
    ['an old workbook under another name', OLD_WORKBOOK, '0:0 file-is-workbook'],
    ['Latin-1 bytes', Buffer.from(GOOD.replace('Rib', 'Fl\u00fcgel'), 'latin1'), '0:0 file-not-text'],
    ['UTF-16 that does not say so', Buffer.from(GOOD, 'utf16le'), '0:0 file-not-text'],
    ['UTF-16 of the other order that does not say so', Buffer.from(GOOD, 'utf16le').swap16(), '0:0 file-not-text'],
    ['half of a surrogate pair', Buffer.from('6e756d6265720aeda0800a', 'hex'), '0:0 file-not-text'],
  ])('[I2] %s is refused', async (_what, content, place) => {
    expect(await refusalOf(shop, content)).toEqual([`parts.csv:${place}`]);
  });

  it('[I2] a file over 64 MB is refused unread', async () => {
    const path = await shop.file('parts.csv', GOOD);
    await truncate(path, 64 * 1024 * 1024 + 1);
    expect(await shop.refusal([...START, path])).toEqual(['parts.csv:0:0 file-too-large']);
  });

  it('[I2] a folder or a missing file in place of a list is refused', async () => {
    const path = await shop.file('there.csv', GOOD);
    const folder = join(path, '..', 'folder.csv');
    await mkdir(folder, { recursive: true });
    const missing = join(path, '..', 'missing.csv');
    expect(await shop.refusal([...START, folder])).toEqual([`${folder}:0:0 file-unreadable`]);
    expect(await shop.refusal([...START, missing])).toEqual([`${missing}:0:0 file-unreadable`]);
  });

  it('[I2] several files that cannot be read at all are told together', async () => {
    const parts = await shop.file('parts.csv', '');
    const weighings = await shop.file('weighings.csv', lines('part,gross', '"A,1'));
    expect(await shop.refusal([...START, parts, '--weighings', weighings])).toEqual([
      'parts.csv:1:0 file-empty',
      'weighings.csv:2:0 quote-not-closed',
    ]);
  });

  it('[I1] a heading named by --column that the file does not have is refused', async () => {
    expect(await refusalOf(shop, GOOD, ['--column', 'estimate=planned'])).toEqual(['parts.csv:1:0 column-missing']);
  });

  it('[I1] --column for a field that no list has is refused', async () => {
    expect(await refusalOf(shop, GOOD, ['--column', 'estimat=estimate [kg]'])).toEqual(['#--column not-a-choice']);
  });

  it('[I2] lines are counted as an editor shows them, behind quoted line breaks and blank lines', async () => {
    const content =
      'number,name,group,quantity\r\nA,"Rib\r\nof the\r\nwing",wing,1\r\n\r\nB,"Spar\ncap",wing,0\r\nC,"x",wing,0\r\n';
    expect(await refusalOf(shop, content)).toEqual(['parts.csv:6:4 not-a-count', 'parts.csv:8:4 not-a-count']);
  });

  it('[I2] lines are counted right where a file was put together from several with other line ends', async () => {
    const content = 'number,group,quantity\rA,wing,1\r\nB,wing,0\nC,wing,1\rD,wing,0';
    expect(await refusalOf(shop, content)).toEqual(['parts.csv:3:3 not-a-count', 'parts.csv:5:3 not-a-count']);
  });

  it('[I2] a list of hundreds of bad rows tells every one', async () => {
    const rows = Array.from({ length: 700 }, (_, at) => `P${at},wing,0`);
    const places = await refusalOf(shop, lines('number,group,quantity', ...rows));
    expect(places).toHaveLength(700);
    expect(places.at(-1)).toBe('parts.csv:701:3 not-a-count');
  });
});

describeInShop('an assembly that cannot be', 'postgres', (shop) => {
  const tree = (...rows: readonly string[]) => lines('number,group,assembly', ...rows);

  it.each([
    ['in itself', tree('A,wing,A'), '2:3', 'A in A'],
    ['of two in each other', tree('A,wing,B', 'B,wing,A'), '2:3', 'A in B in A'],
    ['of three in a ring', tree('A,wing,B', 'B,wing,C', 'C,wing,A'), '2:3', 'A in B in C in A'],
    ['of two below which a third hangs', tree('X,wing,A', 'A,wing,B', 'B,wing,A'), '3:3', 'A in B in A'],
  ])('[I6] an assembly %s is refused once, with the way round', async (_what, content, place, way) => {
    const words = [...START, await shop.file('parts.csv', content)];
    expect(await shop.refusal(words)).toEqual([`parts.csv:${place} assembly-cycle`]);
    expect(given(problemsOf(await shop.run([...words, '--json']))[0]).words).toContain(way);
  });

  it('[I6] two rings in one list are both told', async () => {
    expect(await refusalOf(shop, tree('A,wing,A', 'B,wing,C', 'C,wing,B'))).toEqual([
      'parts.csv:2:3 assembly-cycle',
      'parts.csv:3:3 assembly-cycle',
    ]);
  });

  it('[I6] an assembly that is no part is refused with the number that was probably meant', async () => {
    const words = [...START, await shop.file('parts.csv', tree('WING-1,wing,', 'RIB-1,wing,WIMG-1', 'RIB-2,wing,Q'))];
    expect(await shop.refusal(words)).toEqual(['parts.csv:3:3 unknown-assembly', 'parts.csv:4:3 unknown-assembly']);
    const [near, far] = problemsOf(await shop.run([...words, '--json']));
    expect(near?.remedy).toContain('Is it WING-1?');
    expect(far?.remedy).not.toContain('Is it');
  });

  it('[I6] assemblies may come after what they hold', async () => {
    const list = await shop.file('parts.csv', tree('RIB,wing,PANEL', 'PANEL,wing,WING', 'WING,wing,'));
    const { parts } = await shop.report([...START, list, '--show', 'parts']);
    expect(Object.fromEntries((parts ?? []).map((part) => [part.number, part.assembly]))).toEqual({
      RIB: 'PANEL',
      PANEL: 'WING',
      WING: undefined,
    });
  });
});
