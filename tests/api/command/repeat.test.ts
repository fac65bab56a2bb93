/** Importing again: nothing twice, only what is new, and a changed row only where that was asked for. */
import { expect, it } from 'vitest';
import { Verified } from './report-shape.ts';
import { jsonOf } from './run.ts';
import { describeInShops, given, lines, type Shop } from './shop.ts';

const PARTS = ['number,name,group,quantity,estimate [kg],x [m]', 'A,Rib,wing,2,1,1', 'B,Spar,wing,,4,2'];
const WEIGHINGS = ['part,piece,date,gross [kg],tare [kg],condition', 'A,1,2026-05-01,1.5,0.25,trimmed'];

async function importInto(
  shop: Shop,
  aircraft: string,
  lists: { parts?: string[]; weighings?: string[] },
  more: string[] = [],
) {
  const words = ['import', '--aircraft', aircraft, ...more];
  if (lists.parts !== undefined) words.push('--parts', await shop.file('parts.csv', lines(...lists.parts)));
  if (lists.weighings !== undefined)
    words.push('--weighings', await shop.file('weighings.csv', lines(...lists.weighings)));
  return words;
}

describeInShops('a list imported again', (shop) => {
  it('[I4] the same lists again add nothing and say so', async () => {
    const words = await importInto(shop, 'Same', { parts: PARTS, weighings: WEIGHINGS });
    const first = await shop.report(words);
    expect(first.imported).toMatchObject({ isNew: true, recorded: 6 });
    const second = await shop.report(words);
    expect(second.imported).toMatchObject({
      isNew: false,
      recorded: 0,
      files: { parts: { rowCount: 2, knownRows: 2, entryCount: 0 }, weighings: { rowCount: 1, knownRows: 1 } },
    });
    expect(second.headline).toEqual(first.headline);
    expect(await shop.entryCount('Same')).toBe(6);
    expect((await shop.run(words)).out).toContain('parts.csv: 2 rows, 0 new entries, 2 rows in the ledger already');
  });

  it('[I4] a list that has grown adds only its new rows, also between the old ones and by another person later', async () => {
    await shop.report(await importInto(shop, 'Grown', { parts: PARTS, weighings: WEIGHINGS }));
    const [heading = '', ...rows] = PARTS;
    const [weighed = '', ...done] = WEIGHINGS;
    const grown = await importInto(
      shop,
      'Grown',
      {
        parts: [heading, 'C,Skin,wing,,2,3', ...rows],
        weighings: [weighed, 'A,2,2026-05-02,1.75,0.25,trimmed', ...done, 'C,,2026-05-03,2.5,0.25,trimmed'],
      },
      ['--by', 'Bo'],
    );
    const { imported, headline } = await shop.report(grown, { today: '2026-07-01' });
    expect(imported).toMatchObject({ recorded: 4, files: { parts: { knownRows: 2 }, weighings: { knownRows: 1 } } });
    expect(headline?.weighedKg).toBeCloseTo(1.25 + 1.5 + 2.25, 12);
    expect(await shop.entryCount('Grown')).toBe(10);
  });

  it('[I4] an estimate that has changed is refused, and with --revise recorded once', async () => {
    await shop.report(await importInto(shop, 'Revised', { parts: PARTS }));
    const changed = { parts: [...PARTS.slice(0, 2), 'B,Spar,wing,,4.5,2'] };
    expect(await shop.refusal(await importInto(shop, 'Revised', changed))).toEqual(['parts.csv:3:1 number-taken']);
    for (const recorded of [1, 0]) {
      const { imported, headline } = await shop.report(await importInto(shop, 'Revised', changed, ['--revise']));
      expect(imported?.recorded).toBe(recorded);
      expect(headline?.basicKg).toBe(6.5);
    }
  });

  it('[I4] a part that has changed otherwise is refused even with --revise, and what differs is named', async () => {
    await shop.report(await importInto(shop, 'Changed', { parts: PARTS }));
    const changed = { parts: [...PARTS.slice(0, 2), 'B,Beam,tail,3,4,2'] };
    const words = await importInto(shop, 'Changed', changed, ['--revise']);
    expect(await shop.refusal(words)).toEqual(['parts.csv:3:1 number-taken']);
    expect((await shop.run(words)).err).toContain('with another name, group, quantity');
  });

  it('[I4] the same rows in other units, spelled otherwise, are the same parts', async () => {
    await shop.report(await importInto(shop, 'Spelled', { parts: PARTS }));
    const spelled = {
      parts: ['x [mm],Part no,ATA,name,Qty,weight [g]', '1000, a ,wing,Rib,2,1000', '2000,b,wing,Spar,1,4000'],
    };
    const { imported } = await shop.report(await importInto(shop, 'Spelled', spelled));
    expect(imported).toMatchObject({ recorded: 0, files: { parts: { knownRows: 2 } } });
  });

  it('[I4] rows without a day are the same rows when they are imported again on another day', async () => {
    const undated = { parts: PARTS, weighings: ['part,gross [kg],condition', 'B,4.25,trimmed', 'B,4.5,finished'] };
    await shop.report(await importInto(shop, 'Undated', undated));
    const { imported } = await shop.report(await importInto(shop, 'Undated', undated), { today: '2026-06-16' });
    expect(imported).toMatchObject({ recorded: 0, files: { weighings: { knownRows: 2 } } });
    const stated = await shop.report(await importInto(shop, 'Undated', undated, ['--date', '2026-06-10']));
    expect(stated.imported?.files['weighings']).toMatchObject({ entryCount: 2, knownRows: 0 });
  });

  it('[L5] after all of it every chain is whole', async () => {
    for (const one of await shop.aircraft()) {
      const name = one.replace(/ \d+$/, '');
      const verified = jsonOf(await shop.run(['verify', '--aircraft', name, '--json']), Verified);
      expect(verified).toMatchObject({ aircraft: name, ok: true, entryCount: await shop.entryCount(name) });
    }
    expect(given((await shop.aircraft())[0])).toBe('Changed 5');
  });

  it('[W4] a list whose readings look like slips is recorded, and the rows in doubt are told after it', async () => {
    const parts = [...PARTS, 'D,Fin,tail,,8.2,3'];
    const weighings = [...WEIGHINGS, 'D,,2026-05-01,18.4,,trimmed', 'B,,2026-05-01,4,,trimmed'];
    const words = await importInto(shop, 'Doubted', { parts, weighings });
    const { exit, out } = await shop.run(words);
    expect(exit).toBe(0);
    expect(out).toContain(
      'entries recorded.\n\nRecorded, and to be looked at again:\n  weighings.csv, line 3, D: It fits if the display showed pounds',
    );
    expect(out).not.toContain('line 4, B:');
    const again = [...weighings.slice(0, 1), 'B,,2026-05-01,4.00,0,trimmed'];
    const { imported } = await shop.report(await importInto(shop, 'Doubted', { weighings: again }));
    expect(imported?.files['weighings']?.doubts).toMatchObject([{ line: 2, number: 'B', slip: 'entered before' }]);
  });
});
