/** Lists of weighings (rules I1-I5, W1, W2, L4). */
import { describe, expect, it } from 'vitest';
import { Entry } from '#shared/ledger/entry.ts';
import { importWeighings } from '#shared/table/weighings-file.ts';
import { Chain, estimateOf, partIdOf, partOf } from '../ledger/make-entries.ts';
import { contextOf, recorded, tableOf, told } from './tables.ts';

function parts() {
  const chain = new Chain();
  chain.record(partOf(1, { number: 'RIB-1', quantity: 4 }));
  chain.record(estimateOf(1));
  chain.record(partOf(2, { number: 'FIN' }));
  return chain.entries;
}

const LIST = [
  'part,piece,date,gross,tare,condition,by',
  'RIB-1,1-2,2026-05-04,9.12 kg,120 g,trimmed,Bo',
  'fin,,2026-05-05,4 lb 3 oz,,as released,',
];

function imported(lines: string[], context = contextOf(parts()), renamed = {}) {
  return importWeighings(tableOf(...lines), context, renamed);
}

describe('lists', () => {
  it('[I1] a row makes a weighing of its part', () => {
    const outcome = imported(LIST);
    expect(told(outcome)).toEqual([]);
    expect(outcome.entries).toMatchObject([
      { pieces: [1, 2], netKg: 9, condition: 'trimmed', happenedOn: '2026-05-04', by: 'Bo' },
      { pieces: [1], condition: 'as released', by: 'Ann', readings: [{ typed: { gross: '4 lb 3 oz' } }] },
    ]);
    for (const entry of outcome.entries) expect(Entry.safeParse(entry).success).toBe(true);
  });

  it('[W2] the unit of the heading holds where a cell has none', () => {
    const outcome = imported(['no.,gross [lb],tare (g),weighed as', 'FIN,4.00,100,finished']);
    expect(outcome.entries[0]).toMatchObject({ readings: [{ grossKg: 1.81436948, tareKg: 0.1 }] });
    expect(told(imported(['no.,gross,condition', 'FIN,4.00,finished']))).toEqual(['2:2 unit-missing']);
  });

  it('[I1] decimals with a comma are read where the file is separated by something else', () => {
    const outcome = imported(['part;gross;condition', 'FIN;1,250 kg;trimmed']);
    expect(outcome.entries[0]).toMatchObject({ netKg: 1.25 });
    expect(told(imported(['part,gross,condition', 'FIN,"1,250 kg",trimmed']))).toEqual(['2:2 ambiguous-comma']);
  });

  it('[I2] a part that is weighed as an assembly is told beside what is wrong in its cells', () => {
    const chain = new Chain();
    chain.record(partOf(1, { number: 'BOX' }));
    chain.record(partOf(2, { number: 'RIB', parentPartId: partIdOf(1) }));
    const outcome = imported(['part,gross,condition', 'BOX,4,trimmed', 'RIB,4,trimmed'], contextOf(chain.entries));
    expect(told(outcome)).toEqual(['2:1 is-an-assembly', '2:2 unit-missing', '3:2 unit-missing']);
  });

  it('[I2] every problem is told with its line and column', () => {
    const outcome = imported([
      'part,piece,pieces,gross,tare,condition,date',
      'RIB-1,5,,4 kg,,trimmed,',
      'RIB-1,,,4 kg,5 kg,painted,3.5.2026',
      'RIB-l,1,,4,,trimmed,',
      ',1,,4 kg,,trimmed,',
      'RIB-1,1-2,3,4 kg,,trimmed,2026-07-01',
      'FIN,,,,,,',
    ]);
    expect(told(outcome)).toEqual([
      '2:2 no-such-piece',
      '3:2 which-piece',
      '3:4 gross-not-above-tare',
      '3:6 not-a-choice',
      '3:7 not-a-day',
      '4:1 unknown-part',
      '4:4 unit-missing',
      '5:1 missing',
      '6:3 pieces-disagree',
      '6:7 day-in-future',
      '7:4 missing',
      '7:6 missing',
    ]);
    const unknown = outcome.problems.find(({ refusal }) => refusal.code === 'unknown-part');
    expect(unknown?.refusal).toMatchObject({ part: 'RIB-l', near: 'RIB-1' });
  });

  it('[I2] what the ledger objects to is told at its cell', () => {
    expect(told(imported(['part,gross,condition,date', 'FIN,4 kg,trimmed,2026-07-01']))).toEqual(['2:4 day-in-future']);
  });

  it('[W10] what the process was like has columns, with units in the heading or in the cell', () => {
    const outcome = imported([
      'part,gross,condition,lot,resin batch,made by,temperature [°C],rh (%),fixture',
      'FIN,4 kg,trimmed,L7,R-31,Bo,21.5,55,tray 2',
      'FIN,4.1 kg,trimmed,,,,70 °F,,',
    ]);
    expect(outcome).toMatchObject({ problems: [], warnings: [] });
    expect(outcome.entries).toMatchObject([
      { lot: 'L7', batch: 'R-31', operator: 'Bo', temperatureC: 21.5, humidityFraction: 0.55, fixture: 'tray 2' },
      { typed: { temperature: '70 °F' } },
    ]);
    expect(told(imported(['part,gross,condition,temperature,humidity', 'FIN,4 kg,trimmed,21,140 %']))).toEqual([
      '2:4 unit-missing',
      '2:5 out-of-range',
    ]);
    expect(told(imported(['part,gross,condition,temp [K]', 'FIN,4 kg,trimmed,294']))).toEqual([
      '1:4 column-unit-unknown',
    ]);
  });

  it('[I4] the temperature of a row makes it another row by its value, not by how it is typed', () => {
    const rows = (cell: string) => ['part,gross,condition,temperature', `FIN,4 kg,trimmed,${cell}`];
    const before = recorded(imported(rows('10 °C')), parts());
    expect(imported(rows('50 F'), contextOf(before)).knownRows).toBe(1);
    expect(imported(rows('11 °C'), contextOf(before)).entries).toHaveLength(1);
  });

  it('[I1] a heading can be named for a field', () => {
    const lines = ['part,Gewicht Brutto,Zustand Teil', 'FIN,4 kg,trimmed'];
    expect(told(imported(lines))).toEqual(['1:0 column-missing', '1:0 column-missing']);
    expect(told(imported(lines, contextOf(parts()), { gross: 'Gewicht Brutto', condition: 'Zustand Teil' }))).toEqual(
      [],
    );
  });
});

describe('again', () => {
  it('[I4] a list that is imported again adds nothing, and one that has grown its new rows', () => {
    const before = recorded(imported(LIST), parts());
    expect(imported(LIST, contextOf(before))).toMatchObject({ entries: [], problems: [], knownRows: 2 });
    const grown = imported([...LIST, 'RIB-1,3,2026-05-06,4.4 kg,,trimmed,Bo'], contextOf(before));
    expect(grown).toMatchObject({ knownRows: 2, problems: [] });
    expect(grown.entries).toHaveLength(1);
  });

  it('[I4] who wrote a row down is no part of what makes it itself', () => {
    const before = recorded(imported(LIST), parts());
    const signed = LIST.map((line) => line.replace('trimmed,Bo', 'trimmed,Bo B.'));
    expect(imported(signed, contextOf(before)).knownRows).toBe(2);
  });

  it('[I4] a weighing that was struck out does not come back with its list', () => {
    const chain = new Chain();
    chain.entries.push(...recorded(imported(LIST), parts()));
    const last = chain.entries.at(-1);
    if (last === undefined) throw new Error('a weighing');
    chain.correct(last, undefined);
    expect(imported(LIST, contextOf(chain.entries))).toMatchObject({ entries: [], knownRows: 2 });
  });

  it('[I4] the same row twice in one list is a slip, with different notes it is two weighings', () => {
    const twice = ['part,gross,condition,note', 'FIN,4 kg,trimmed,', 'FIN,4 kg,trimmed,'];
    expect(told(imported(twice))).toEqual(['3:1 row-twice']);
    expect(told(imported([...twice.slice(0, 2), 'FIN,4 kg,trimmed,second time']))).toEqual([]);
  });
});
