/** Doubts about the weighings of a list, and what of it drifts (rules W4, D1). */
import { expect, it } from 'vitest';
import { importWeighings } from '#shared/table/weighings-file.ts';
import { Chain, estimateOf, partIdOf, partOf, weighingOf } from '../ledger/make-entries.ts';
import { contextOf, recorded, tableOf, told } from './tables.ts';

function shop() {
  const chain = new Chain();
  for (const [at, number, massKg] of [
    [1, 'W-100', 8.2],
    [2, 'W-101', 18.4],
    [3, 'T-1', 2],
  ] as const) {
    chain.record(partOf(at, { number }));
    chain.record(estimateOf(at, { massKg, laterKg: 0, flashKg: 0 }));
  }
  return chain;
}

const HEAD = 'part,gross [kg],condition,date,note';
const imported = (chain: Chain, ...rows: string[]) => importWeighings(tableOf(HEAD, ...rows), contextOf(chain.entries));
const asked = ({ doubts }: ReturnType<typeof imported>) => doubts.map(({ line, slip }) => `${line} ${slip}`);

it('[W4] a row that looks like a slip is doubted and is no problem; one in line is neither', () => {
  const outcome = imported(shop(), 'W-100,18.4,trimmed,2026-05-04,', 'T-1,2.0,trimmed,2026-05-04,');
  expect(told(outcome)).toEqual([]);
  expect(outcome.entries).toHaveLength(2);
  expect(asked(outcome)).toEqual(['2 another part', '2 kg for lb']);
  expect(outcome.doubts[0]).toMatchObject({ number: 'W-100', words: expect.stringContaining('W-101') });
});

it('[W4] a part that an earlier row weighed is no other part that would fit', () => {
  const outcome = imported(shop(), 'W-101,18.4,trimmed,2026-05-04,', 'W-100,18.4,trimmed,2026-05-04,');
  expect(asked(outcome)).toEqual(['3 kg for lb']);
});

it('[W4] the same reading again is doubted whether the ledger has it or a row before it', () => {
  const chain = shop();
  chain.record(weighingOf(3, 2, { condition: 'trimmed' }), { on: '2026-05-04' });
  const seq = chain.entries.length;
  const outcome = imported(
    chain,
    'T-1,2.0,trimmed,2026-05-04,a',
    'W-100,8.2,trimmed,2026-05-05,a',
    'W-100,8.2,trimmed,2026-05-05,b',
  );
  expect(outcome.doubts.map(({ line, words }) => `${line} ${words.split(' of ')[0]}`)).toEqual([
    `2 Entry ${seq}`,
    '4 Line 3',
  ]);
});

it('[W4] a row that the ledger holds already is not doubted again', () => {
  const chain = shop();
  const first = imported(chain, 'W-100,18.4,trimmed,2026-05-04,');
  const again = importWeighings(
    tableOf(HEAD, 'W-100,18.4,trimmed,2026-05-04,'),
    contextOf(recorded(first, chain.entries)),
  );
  expect(again).toMatchObject({ knownRows: 1, entries: [], doubts: [], drifts: [] });
});

it('[W4] an assembly is doubted against its parts as the whole list leaves them', () => {
  const chain = new Chain();
  chain.record(partOf(1, { number: 'BOX' }));
  chain.record(partOf(2, { number: 'SKIN', parentPartId: partIdOf(1) }));
  chain.record(estimateOf(2, { massKg: 4, laterKg: 0, flashKg: 0 }));
  const outcome = importWeighings(
    tableOf('part,gross [kg],condition,not yet in', 'BOX,12,finished,none', 'SKIN,4,finished,'),
    contextOf(chain.entries),
  );
  expect(told(outcome)).toEqual([]);
  expect(asked(outcome)).toEqual(['2 far above']);
  expect(outcome.drifts).toMatchObject([{ line: 2, name: 'BOX', flag: 'drifting heavy' }]);
});

it('[D1] what drifts once the list is recorded is told, the largest effect first, and what is overruled is not', () => {
  const outcome = imported(
    shop(),
    'T-1,2.4,trimmed,2026-05-04,',
    'W-100,9.6,trimmed,2026-05-04,',
    'W-101,30,trimmed,2026-05-04,',
    'W-101,18.4,trimmed,2026-05-05,',
  );
  expect(outcome.drifts).toMatchObject([
    { line: 3, partId: partIdOf(1), name: 'W-100', flag: 'drifting heavy' },
    { line: 2, name: 'T-1', flag: 'drifting heavy' },
  ]);
  expect(outcome.drifts[0]?.differenceKg).toBeCloseTo(1.4, 9);
});
