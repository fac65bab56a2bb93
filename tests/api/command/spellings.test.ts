/** One list in many dressings says the same; and what is text stays text. */
import { expect, it } from 'vitest';
import { describeInShop, given, lines, type Shop } from './shop.ts';

const PLAIN = lines('number,name,group,estimate,x', 'A,Rib,wing,1.5 kg,0.25 m', 'B,Spar,wing,2.25 kg,0.75 m');
const SEMICOLONS = PLAIN.replaceAll(',', ';');

const DRESSINGS: readonly (readonly [string, string | Uint8Array])[] = [
  ['as it is', PLAIN],
  ['with a byte order mark', `\uFEFF${PLAIN}`],
  ['with CR and LF', PLAIN.replaceAll('\n', '\r\n')],
  ['with lone CR', PLAIN.replaceAll('\n', '\r')],
  ['without a last line end', PLAIN.trimEnd()],
  ['with blank lines and closing separators', PLAIN.replaceAll('\n', ',,\n\n,,,\n')],
  ['with semicolons', SEMICOLONS],
  ['with semicolons and decimal commas', SEMICOLONS.replaceAll('.', ',')],
  ['with tabs', PLAIN.replaceAll(',', '\t')],
  [
    'with decimal commas in quotes',
    PLAIN.replaceAll(/(\d)\.(\d+ k?[mg]+)/g, '"$1,$2"').replaceAll(/,0\.(\d+) m/g, ',"0,$1 m"'),
  ],
  ['with every cell in quotes', PLAIN.replaceAll(/[^,\n]+/g, '"$&"')],
  ['in UTF-16 that says so', Buffer.from(`\uFEFF${PLAIN}`, 'utf16le')],
  ['in UTF-16 of the other order that says so', Buffer.from(`\uFEFF${PLAIN}`, 'utf16le').swap16()],
  ['in other units', PLAIN.replace('1.5 kg', '1500 g').replace('0.25 m', '250 mm').replace('0.75 m', '75 cm')],
  ['with units in the headings', PLAIN.replace('estimate,x', 'estimate [kg],x (m)').replaceAll(/ k?[gm]\b/g, '')],
  [
    'with unit words in the headings',
    PLAIN.replace('estimate,x', 'Estimate kilograms,X metres').replaceAll(/ k?[gm]\b/g, ''),
  ],
  ['under other usual headings', PLAIN.replace('number,name,group,estimate,x', 'Part_No,Description,ATA,Weight,FS')],
  ['with empty and unknown columns', PLAIN.replaceAll('\n', ',,odd\n')],
];

async function figuresOf(shop: Shop, aircraft: string, content: string | Uint8Array) {
  const list = await shop.file('parts.csv', content);
  return given((await shop.report(['import', '--aircraft', aircraft, '--parts', list])).headline);
}

describeInShop('a list in another dressing', 'postgres', (shop) => {
  it.each(DRESSINGS)('[I1] a list %s says the same', async (dressing, content) => {
    const { partCount, basicKg, cg } = await figuresOf(shop, dressing, content);
    expect({ partCount, basicKg }).toEqual({ partCount: 2, basicKg: 3.75 });
    expect(cg.xM).toBeCloseTo((1.5 * 0.25 + 2.25 * 0.75) / 3.75, 12);
  });

  it('[I5] in a file with semicolons 1,234 is a decimal where every number has a comma, and refused where one has a point', async () => {
    const both = (other: string) => lines('number;group;estimate [kg]', 'A;wing;1,234', `B;wing;${other}`);
    expect((await figuresOf(shop, 'Commas', both('0,5'))).basicKg).toBe(1.734);
    const list = await shop.file('parts.csv', both('0.5'));
    expect(await shop.refusal(['import', '--aircraft', 'Mixed', '--parts', list])).toEqual([
      'parts.csv:2:3 ambiguous-comma',
    ]);
  });

  it('[I2] a column that is not used is told in a note, and is no reason to refuse', async () => {
    const words = [
      'import',
      '--aircraft',
      'Odd',
      '--parts',
      await shop.file('parts.csv', PLAIN.replaceAll('\n', ',odd\n')),
    ];
    expect((await shop.run(words)).out).toContain('Note: The column headed odd is not used.');
  });

  it('[L4] a name that looks like a formula, or holds a line break, is kept letter by letter', async () => {
    const names = ['=1+1', '@SUM(A1)', '-2+3', '+cmd', 'two\nlines', 'Flügel 翼 🛩', 'quote " here', 'a,b;c'];
    const rows = names.map((name, at) => `N${at},"${name.replaceAll('"', '""')}",wing`);
    const list = await shop.file('parts.csv', lines('number,name,group', ...rows));
    const { parts } = await shop.report(['import', '--aircraft', 'Names', '--parts', list, '--show', 'parts']);
    expect(given(parts).map((part) => part.name)).toEqual(names);
  });

  it('[L4] what was typed is kept beside the figure in kilograms', async () => {
    const list = await shop.file('parts.csv', lines('number,group,estimate [oz],x', 'A,wing,08.50,5 ft'));
    const { entries } = await shop.report(['import', '--aircraft', 'Typed', '--parts', list, '--show', 'entries']);
    expect(given(entries).at(-1)?.entry).toMatchObject({
      kind: 'estimate',
      massKg: 0.2409709465625,
      xM: 1.524,
      typed: { estimate: '08.50 oz', x: '5 ft' },
    });
  });
});
