/** What cannot be taken in a cell: each with its line, its column and its code, and nothing recorded. */
import { expect, it } from 'vitest';
import { problemsOf } from './run.ts';
import { describeInShop, lines, type Shop } from './shop.ts';

const HEADING = 'number,name,group,quantity,estimate,x,allowance,date,assembly';
const WEIGHINGS = 'part,piece,date,gross,tare,condition,cause';

/** A good row of a parts list with some cells changed. */
function part(cells: Readonly<Record<string, string>>): string {
  const good = { number: 'A', name: 'Rib', group: 'wing', quantity: '', estimate: '2 kg', x: '1 m' };
  const all: Readonly<Record<string, string>> = { ...good, ...cells };
  return HEADING.split(',')
    .map((heading) => all[heading] ?? '')
    .join(',');
}

function weighing(cells: Readonly<Record<string, string>>): string {
  const all: Readonly<Record<string, string>> = {
    part: 'B',
    piece: '1',
    gross: '3 kg',
    condition: 'trimmed',
    ...cells,
  };
  return WEIGHINGS.split(',')
    .map((heading) => all[heading] ?? '')
    .join(',');
}

async function importOf(shop: Shop, parts: string, weighings?: string): Promise<string[]> {
  const words = ['import', '--aircraft', 'New', '--parts', await shop.file('parts.csv', parts)];
  const more = weighings === undefined ? [] : ['--weighings', await shop.file('weighings.csv', weighings)];
  return [...words, ...more];
}

const FOUR_PIECES = lines(HEADING, part({ number: 'B', quantity: '4' }), part({ number: 'SPAR-101' }));

describeInShop('a cell that cannot be taken', 'postgres', (shop) => {
  it.each([
    ['an unknown unit', { estimate: '2 stone' }, '2:5 unit-unknown'],
    ['a unit of another kind', { estimate: '2 mm' }, '2:5 unit-unknown'],
    ['a number without a unit', { estimate: '2' }, '2:5 unit-missing'],
    ['a station without a unit', { x: '1200' }, '2:6 unit-missing'],
    ['NaN', { estimate: 'NaN kg' }, '2:5 not-a-number'],
    ['a bare NaN', { x: 'NaN' }, '2:6 not-a-number'],
    ['Infinity', { estimate: 'Infinity kg' }, '2:5 not-a-number'],
    ['minus infinity', { x: '-Infinity m' }, '2:6 not-a-number'],
    ['1e308', { estimate: '1e308 kg' }, '2:5 out-of-range'],
    ['1e309, which would be infinite', { estimate: '1e309 kg' }, '2:5 not-a-number'],
    ['a far station', { x: '1e308 m' }, '2:6 out-of-range'],
    ['a mass below zero', { estimate: '-2 kg' }, '2:5 out-of-range'],
    ['a comma that reads two ways', { estimate: '"1,234 kg"' }, '2:5 ambiguous-comma'],
    ['a thousands separator', { estimate: '"1,234.5 kg"' }, '2:5 not-a-number'],
    ['a share that reads two ways', { allowance: '0.24' }, '2:7 ambiguous-share'],
    ['a share that is no number', { allowance: 'NaN %' }, '2:7 not-a-number'],
    ['a quantity of 0', { quantity: '0' }, '2:4 not-a-count'],
    ['a quantity of 1.5', { quantity: '1.5' }, '2:4 not-a-count'],
    ['a quantity of 1e9', { quantity: '1e9' }, '2:4 not-a-count'],
    ['31 February', { date: '2026-02-31' }, '2:8 not-a-day'],
    ['a day that reads two ways', { date: '03/04/2026' }, '2:8 not-a-day'],
    ['tomorrow', { date: '2026-06-16' }, '2:8 day-in-future'],
    ['a name of 10 kB', { name: 'x'.repeat(10_240) }, '2:2 text-refused'],
    ['a NUL in a name', { name: 'Ri\0b' }, '2:2 text-refused'],
    ['no number', { number: '' }, '2:1 missing'],
    ['no group', { group: '' }, '2:3 missing'],
    ['a station without an estimate', { estimate: '' }, '2:5 estimate-missing'],
  ])('[I5] %s in a parts list is refused in its cell', async (_what, cells, place) => {
    expect(await shop.refusal(await importOf(shop, lines(HEADING, part(cells))))).toEqual([`parts.csv:${place}`]);
  });

  it.each([
    ['gross below tare', { gross: '1 kg', tare: '2 kg' }, '2:4 gross-not-above-tare'],
    ['gross equal to tare in another unit', { gross: '1 lb', tare: '453.59237 g' }, '2:4 gross-not-above-tare'],
    ['a gross of zero', { gross: '0 kg' }, '2:4 gross-not-above-tare'],
    ['a gross below zero', { gross: '-1 kg' }, '2:4 out-of-range'],
    ['NaN', { gross: 'NaN' }, '2:4 not-a-number'],
    ['no gross', { gross: '' }, '2:4 missing'],
    ['a tare without a unit', { tare: '1' }, '2:5 unit-missing'],
    ['piece 5 of 4', { piece: '5' }, '2:2 no-such-piece'],
    ['pieces that end before they begin', { piece: '3-2' }, '2:2 not-piece-numbers'],
    ['no piece, of four', { piece: '' }, '2:2 which-piece'],
    ['a condition that is none', { condition: 'wet' }, '2:6 not-a-choice'],
    ['a cause that is not of the list', { cause: 'gremlins' }, '2:7 not-a-choice'],
    ['tomorrow', { date: '2026-06-16' }, '2:3 day-in-future'],
    ['no part', { part: '' }, '2:1 missing'],
    ['an unknown part', { part: 'Z-9' }, '2:1 unknown-part'],
  ])('[I2] %s in a list of weighings is refused in its cell', async (_what, cells, place) => {
    const words = await importOf(shop, FOUR_PIECES, lines(WEIGHINGS, weighing(cells)));
    expect(await shop.refusal(words)).toEqual([`weighings.csv:${place}`]);
  });

  it('[I2] an unknown part is told with the number that was probably meant', async () => {
    const words = await importOf(shop, FOUR_PIECES, lines(WEIGHINGS, weighing({ part: 'spar-110' })));
    const [problem] = problemsOf(await shop.run([...words, '--json']));
    expect(problem?.words).toBe('No part has the number spar-110.');
    expect(problem?.remedy).toContain('SPAR-101');
  });

  it('[I2] the same weighing twice in one list is refused at the second, which names the first', async () => {
    const words = await importOf(
      shop,
      FOUR_PIECES,
      lines(WEIGHINGS, weighing({}), weighing({ piece: '2' }), weighing({})),
    );
    expect(await shop.refusal(words)).toEqual(['weighings.csv:4:1 row-twice']);
    expect((await shop.run(words)).err).toContain('line 2');
  });

  it('[I2] a number given twice, in any case, is refused at the second, which names the first', async () => {
    const words = await importOf(shop, lines(HEADING, part({}), part({ number: 'C' }), part({ number: ' a ' })));
    expect(await shop.refusal(words)).toEqual(['parts.csv:4:1 number-twice']);
    expect((await shop.run(words)).err).toContain('line 2');
  });

  it('[I2] every problem of a row is told, in the order of the columns', async () => {
    const bad = part({ number: '', quantity: '0', estimate: '2 stone', x: '3', date: '3.12.2025' });
    expect(await shop.refusal(await importOf(shop, lines(HEADING, part({}), bad)))).toEqual([
      'parts.csv:3:1 missing',
      'parts.csv:3:4 not-a-count',
      'parts.csv:3:5 unit-unknown',
      'parts.csv:3:6 unit-missing',
      'parts.csv:3:8 not-a-day',
    ]);
  });

  it('[I3] problems of several files are told together, file by file and line by line', async () => {
    const words = await importOf(
      shop,
      lines(HEADING, part({ estimate: '2' }), part({ number: 'B', x: '1' }), part({ number: 'C', quantity: '0' })),
      lines(WEIGHINGS, weighing({ part: 'Q', condition: 'wet' }), weighing({ part: 'C', gross: '1' })),
    );
    const targets = await shop.file('targets.csv', lines('target,value', 'empty mass,0 kg', 'colour,red'));
    expect(await shop.refusal([...words, '--targets', targets])).toEqual([
      'parts.csv:2:5 unit-missing',
      'parts.csv:3:6 unit-missing',
      'parts.csv:4:4 not-a-count',
      'targets.csv:2:2 target-zero',
      'targets.csv:3:1 not-a-choice',
      'weighings.csv:2:1 unknown-part',
      'weighings.csv:2:6 not-a-choice',
      'weighings.csv:3:4 unit-missing',
    ]);
  });

  it('[I3] one bad row in a list for a known aircraft keeps out all the good ones', async () => {
    const known = ['import', '--aircraft', 'Known', '--parts', await shop.file('parts.csv', FOUR_PIECES)];
    expect((await shop.run(known)).exit).toBe(0);
    const rows = Array.from({ length: 40 }, (_, at) => weighing({ gross: `${at + 1} kg` }));
    const list = await shop.file('weighings.csv', lines(WEIGHINGS, ...rows, weighing({ gross: '1' })));
    expect(await shop.refusal(['import', '--aircraft', 'Known', '--weighings', list])).toEqual([
      'weighings.csv:42:4 unit-missing',
    ]);
  });

  it('[I2] in words, a problem names file, line, column, heading, and what to do', async () => {
    const said = await shop.run(await importOf(shop, lines(HEADING, part({ estimate: '2' }))));
    expect(said.exit).toBe(2);
    expect(said.out).toBe('');
    expect(said.err).toBe(
      lines(
        'parts.csv, line 2, column 5 (estimate): “2” has no unit. Add one behind the number: kg, g, lb, oz. In a list it may stand in the heading, or in a column of its own.',
        '1 problem. Nothing has been recorded.',
      ),
    );
  });
});
