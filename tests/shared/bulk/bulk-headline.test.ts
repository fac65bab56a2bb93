/** The headline of a whole chain at once against that of the folded ledger, to the last bit, and which parts need more than the columns. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type BulkHeadline, bulkHeadline } from '#shared/bulk/bulk-headline.ts';
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import { foldEntries } from '#shared/ledger/fold.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { asRecorded, makeEntries } from '#tests/bench/make-chain.ts';
import { entriesOn, TODAY } from '#tests/db/demo/story.ts';
import {
  aircraftOf,
  allowancesOf,
  armOf,
  assemblyOf,
  Chain,
  checkOf,
  datumOf,
  dispositionOf,
  estimateOf,
  installedOf,
  noteOf,
  partIdOf,
  partOf,
  removedOf,
  scaleOf,
  sumCauseOf,
  targetsOf,
  weighingOf,
  withdrawnOf,
} from '../ledger/make-entries.ts';
import { chainFrom, randomSteps } from '../ledger/random-chain.ts';

const SEED = Number(process.env['SEED'] ?? 20_260_101);
const RUNS = Number(process.env['RUNS'] ?? 200);

/** `toEqual` tells -0 from 0, and no two numbers that differ are equal to it. */
function expectSame(entries: readonly RecordedEntry[]): BulkHeadline['parts'] {
  const bulk = bulkHeadline(entries);
  if (bulk === undefined && entries.some(isOfAircraftWeighing)) return NOTHING;
  expect(bulk?.headline).toEqual(headlineReport(foldEntries(entries)));
  return bulk?.parts ?? NOTHING;
}

const NOTHING = { flat: 0, inBooks: 0, folded: 0 };

/** Nothing but the whole ledger can tell then. */
function isOfAircraftWeighing({ entry }: RecordedEntry): boolean {
  return (entry.kind === 'correction' ? entry.replacement?.statement : entry)?.kind === 'aircraft weighing';
}

test('[R1] over random chains the headline of all entries at once is that of the folded ledger, to the last bit', () => {
  const chains = fc.property(randomSteps(40), (steps) => void expectSame(chainFrom(steps).entries));
  fc.assert(chains, { seed: SEED, numRuns: RUNS });
});

test('[R1] over the demonstration it is that at many an entry', () => {
  const recorded = asRecorded(entriesOn(TODAY));
  for (let upTo = 0; upTo <= recorded.length; upTo += 97) expectSame(recorded.slice(0, upTo));
  expect(expectSame(recorded).flat).toBeGreaterThan(50);
});

test('[R3] over very many parts, heavy ones and light ones, a third of them weighed, it is that of the folded ledger', () => {
  const entries = asRecorded(makeEntries(900, 300));
  expect(expectSame(entries)).toEqual({ flat: 900, inBooks: 0, folded: 0 });
});

test('[R3] the order in which entries of different parts were recorded makes no difference to it', () => {
  const [parts, others] = [
    [1, 2, 3],
    [4, 5, 6],
  ].map((numbers) => {
    const chain = new Chain();
    for (const number of numbers) {
      chain.record(partOf(number));
      chain.record(estimateOf(number, { massKg: number / 7, xM: number / 3, armStdM: 0.01 }));
      chain.record(weighingOf(number, number / 7.1, { tareResolutionKg: 0.002 }));
    }
    return chain.entries.map(({ entry }) => entry);
  });
  if (parts === undefined || others === undefined) throw new Error('both are there');
  const [one, two] = [
    [...parts, ...others],
    [...others, ...parts],
  ].map((entries) => bulkHeadline(asRecorded(entries)));
  const { seq: _, ...figures } = one?.headline ?? { seq: 0 };
  expect(two?.headline).toMatchObject(figures);
});

/** Three ordinary parts with everything that a headline tells of, and what `more` adds. */
function chainWith(more: (chain: Chain) => void): readonly RecordedEntry[] {
  const chain = new Chain();
  chain.record(aircraftOf({ macM: 1.2, lemacM: 2 }));
  chain.record(targetsOf(20, { reserveKg: 0.5, cgForwardM: 2, cgAftM: 2.1, groups: [{ group: 'wing', massKg: 3 }] }));
  chain.record(scaleOf('bench', { gainStd: 0.002 }));
  chain.record(partOf(1));
  chain.record(
    estimateOf(1, {
      massKg: 4,
      laterKg: 0.3,
      flashKg: 0.1,
      growth: 0.24,
      laterGrowth: 0.1,
      xM: 2.2,
      zM: 0.5,
      armStdM: 0.01,
    }),
  );
  chain.record(partOf(2, { group: 'tail', process: 'machined', quantity: 3 }));
  chain.record(estimateOf(2, { massKg: 1, growth: 0.12, xM: 6, yM: -0.1, massStdKg: 0.05 }));
  chain.record(partOf(5, { process: 'bought' }));
  chain.record(estimateOf(5, { massKg: 0.2, evidence: 'calculated' }));
  more(chain);
  return chain.entries;
}

const ORDINARY: readonly (readonly [why: string, more: (chain: Chain) => void])[] = [
  ['nothing more', () => undefined],
  ['a weighing, as released', (chain) => chain.record(weighingOf(1, 4.3, { condition: 'as released' }))],
  ['a weighing beyond the limit', (chain) => chain.record(weighingOf(1, 4.9, { condition: 'trimmed' }))],
  [
    'a weighing beyond the limit, its cause stated',
    (chain) => chain.record(weighingOf(1, 4.9, { cause: 'resin-rich' })),
  ],
  ['a weighing that is watched', (chain) => chain.record(weighingOf(1, 4.2))],
  ['some pieces weighed as one lot', (chain) => chain.record(weighingOf(2, 2.1, { pieces: [1, 3], lot: 'roll 1' }))],
  [
    'two parts on one scale and one fixture, whose tare they share',
    (chain) => {
      const shared = { scale: 'Bench', fixture: 'cradle', tareResolutionKg: 0.01 };
      chain.record(weighingOf(1, 4.1, { ...shared, pieces: [1] }));
      chain.record(weighingOf(2, 3.1, { ...shared, pieces: [1, 2, 3] }));
    },
  ],
  [
    'two parts a little heavy, which add up',
    (chain) => {
      for (const number of [11, 12, 13]) {
        chain.record(partOf(number));
        chain.record(estimateOf(number, { massKg: 4, massStdKg: 0.01, xM: 1 }));
        chain.record(weighingOf(number, 4.1, { lot: 'roll 2' }));
      }
    },
  ],
  [
    'a weighing whose scale failed its check',
    (chain) => {
      chain.record(checkOf('bench', 10.2));
      chain.record(weighingOf(1, 4.1, { scale: 'bench' }));
    },
  ],
  [
    'a weighing read three times',
    (chain) => {
      const readings = [4.1, 4.12, 4.09].map((grossKg) => ({ grossKg, tareKg: 0, typed: {} }));
      chain.record(weighingOf(1, (4.1 + 4.12 + 4.09) / 3, { readings }));
    },
  ],
  [
    'small differences that add up and are explained',
    (chain) => {
      for (const number of [1, 2, 3, 4]) {
        chain.record(partOf(10 + number));
        chain.record(estimateOf(10 + number, { massStdKg: 0.04 }));
        chain.record(weighingOf(10 + number, 4.1, { grossResolutionKg: 0 }));
      }
      chain.record(sumCauseOf({ by: 'group', name: 'wing', sumKg: 0.4, sdKg: 0.08 }));
    },
  ],
  ['a piece built in', (chain) => chain.record(installedOf(1, [1]))],
  [
    'a weighed piece built in',
    (chain) => {
      chain.record(weighingOf(1, 4.1));
      chain.record(installedOf(1, [1]));
    },
  ],
  ['a part without an estimate', (chain) => chain.record(partOf(3))],
  [
    'a part weighed without an estimate',
    (chain) => {
      chain.record(partOf(3));
      chain.record(weighingOf(3, 2));
    },
  ],
  [
    'an assembly without an estimate',
    (chain) => {
      chain.record(partOf(3));
      chain.record(partOf(4, { parentPartId: partIdOf(3) }));
    },
  ],
  [
    'more than a dozen parts without anything',
    (chain) => {
      for (let number = 40; number > 20; number -= 1) chain.record(partOf(number));
    },
  ],
  [
    'a part that was spoken of before it was added',
    (chain) => {
      chain.record(estimateOf(60));
      for (let number = 41; number < 61; number += 1) chain.record(partOf(number));
      for (let number = 41; number < 60; number += 1) chain.record(estimateOf(number));
    },
  ],
  [
    'a datum moved between the estimates',
    (chain) => {
      chain.record(datumOf(0.4));
      chain.record(partOf(3));
      chain.record(estimateOf(3, { xM: 3 }));
      chain.record(datumOf(-0.1));
    },
  ],
  [
    'a move of the datum corrected',
    (chain) => {
      const moved = chain.record(datumOf(0.4));
      chain.record(partOf(3));
      chain.record(estimateOf(3, { xM: 3 }));
      chain.correct(moved, datumOf(0.3));
    },
  ],
  [
    'targets corrected',
    (chain) => {
      const targets = chain.record(targetsOf(12, { partLimit: { absoluteKg: 0.001, fraction: 0.001 } }));
      chain.record(weighingOf(1, 4.01));
      chain.correct(targets, targetsOf(12, { partLimit: { absoluteKg: 1, fraction: 1 } }));
    },
  ],
  ['two estimates', (chain) => chain.record(estimateOf(1, { massKg: 5 }), { on: '2026-05-03' })],
  [
    'two weighings',
    (chain) => {
      chain.record(weighingOf(1, 4.1, { condition: 'finished' }));
      chain.record(weighingOf(1, 4.2, { condition: 'trimmed' }));
    },
  ],
  ['one of several pieces built in', (chain) => chain.record(installedOf(2, [1]))],
  ['an arm measured', (chain) => chain.record(armOf(1, { xM: 2.3 }))],
  [
    'a piece decided on',
    (chain) => {
      chain.record(weighingOf(1, 4.9));
      chain.record(dispositionOf(1, 'accepted', { inspection: 'sound' }), { on: '2026-05-02' });
    },
  ],
  [
    'an estimate revised after the weighing, and one dated back',
    (chain) => {
      chain.record(weighingOf(1, 4.9), { on: '2026-05-10' });
      chain.record(estimateOf(1, { massKg: 4.9, xM: 2.3 }), { on: '2026-05-12' });
      chain.record(estimateOf(1, { massKg: 4.6, xM: 2.4 }), { on: '2026-05-04' });
    },
  ],
  [
    'pieces weighed by themselves on one scale and one fixture, one of them built in',
    (chain) => {
      const shared = { scale: 'bench', fixture: 'cradle', tareResolutionKg: 0.01, lot: 'roll 3' };
      chain.record(weighingOf(2, 1.03, { ...shared, pieces: [2] }));
      chain.record(weighingOf(2, 1.01, { ...shared, pieces: [1] }), { on: '2026-05-03' });
      chain.record(installedOf(2, [2, 3]));
    },
  ],
  [
    'pieces weighed by themselves, one of them beyond the limit',
    (chain) => {
      chain.record(weighingOf(2, 1.3, { pieces: [2], cause: 'resin-rich' }));
      chain.record(weighingOf(2, 1.01, { pieces: [1], lot: 'roll 3' }));
      chain.record(weighingOf(2, 1.4, { pieces: [3], lot: 'roll 4' }));
    },
  ],
  [
    'pieces of two lots, both in line',
    (chain) => {
      chain.record(weighingOf(2, 1.01, { pieces: [1], lot: 'roll 3' }));
      chain.record(weighingOf(2, 2.04, { pieces: [2, 3], lot: 'roll 4' }));
    },
  ],
  [
    'arms measured along one axis and another, the older one later',
    (chain) => {
      chain.record(armOf(1, { xM: 2.3, armStdM: 0.002 }), { on: '2026-05-09' });
      chain.record(datumOf(0.3));
      chain.record(armOf(1, { xM: 2.1, zM: 0.4 }), { on: '2026-05-08' });
    },
  ],
  [
    'a decision before the weighing, and one on other pieces',
    (chain) => {
      chain.record(weighingOf(2, 1.3, { pieces: [2] }), { on: '2026-05-05' });
      chain.record(dispositionOf(2, 'to be reworked', { pieces: [2] }), { on: '2026-05-04' });
      chain.record(dispositionOf(2, 'to be reworked', { pieces: [1, 3] }), { on: '2026-05-06' });
    },
  ],
  [
    'a part of forty pieces, all weighed as one lot',
    (chain) => {
      const pieces = Array.from({ length: 40 }, (_, at) => at + 1);
      chain.record(partOf(3, { quantity: 40 }));
      chain.record(estimateOf(3, { massKg: 0.1, xM: 3 }));
      chain.record(weighingOf(3, 4.01, { pieces }));
    },
  ],
  ['a piece built in that the part has not', (chain) => chain.record(installedOf(2, [9]))],
  [
    'pieces of two parts off by as much to both sides, which do not add up',
    (chain) => {
      for (const number of [11, 12]) {
        chain.record(partOf(number, { quantity: 2 }));
        chain.record(estimateOf(number, { massKg: 4, massStdKg: 0.001, xM: 1 }));
        chain.record(weighingOf(number, 4.1, { pieces: [1], lot: 'roll 5' }));
        chain.record(weighingOf(number, 3.9, { pieces: [2], lot: 'roll 5' }));
      }
    },
  ],
  [
    'a part with one piece out of line, which is left out of what adds up',
    (chain) => {
      for (const number of [11, 12]) {
        chain.record(partOf(number, { quantity: 2, group: 'body', process: 'machined' }));
        chain.record(estimateOf(number, { massKg: 4, massStdKg: 0.001, xM: 1 }));
        chain.record(weighingOf(number, number === 11 ? 5 : 4.1, { pieces: [1] }));
        chain.record(weighingOf(number, 4.1, { pieces: [2] }));
      }
    },
  ],
  [
    'deviations of its own that the shop stated, and stated anew',
    (chain) => {
      chain.record(weighingOf(1, 4.1, { condition: 'trimmed' }));
      chain.record(allowancesOf(0.1, { pieceToPieceStd: 0.2 }));
      chain.record(allowancesOf(0.1, { pieceToPieceStd: 0.07 }));
    },
  ],
  ['a note on a part', (chain) => chain.record(noteOf('seen', 1))],
];

describe('ordinary parts', () => {
  test.each(ORDINARY)('[R1] go flat into the headline: %s', (_, more) => {
    expect(expectSame(chainWith(more))).toMatchObject({ inBooks: 0, folded: 0 });
  });
});

const IN_BOOKS: readonly (readonly [why: string, more: (chain: Chain) => void])[] = [
  ['a piece built in far beyond those of the part', (chain) => chain.record(installedOf(2, [33]))],
  [
    'a piece scrapped',
    (chain) => {
      chain.record(weighingOf(1, 4.9));
      chain.record(dispositionOf(1, 'scrapped'), { on: '2026-05-02' });
    },
  ],
  [
    'a piece of several weighed twice',
    (chain) => {
      chain.record(weighingOf(2, 1.01, { pieces: [1], condition: 'finished' }));
      chain.record(weighingOf(2, 2.04, { pieces: [1, 2], condition: 'trimmed' }));
    },
  ],
  [
    'one of forty pieces built in',
    (chain) => {
      chain.record(partOf(3, { quantity: 40 }));
      chain.record(installedOf(3, [40]));
    },
  ],
  [
    'forty pieces weighed in two lots',
    (chain) => {
      chain.record(partOf(3, { quantity: 40 }));
      chain.record(weighingOf(3, 2, { pieces: [1, 40] }));
      chain.record(weighingOf(3, 2, { pieces: [9, 8] }));
    },
  ],
  ['a piece weighed that the part has not', (chain) => chain.record(weighingOf(1, 8, { pieces: [1, 2] }))],
  ['a piece withdrawn', (chain) => chain.record(withdrawnOf(2, [2]))],
  ['a part removed', (chain) => chain.record(removedOf(1))],
  ['a part added twice', (chain) => chain.record(partOf(1, { number: 'P-1b' }))],
  ['an estimate of a part that nobody added', (chain) => chain.record(estimateOf(9))],
  [
    'a mass beyond plain numbers',
    (chain) => {
      chain.record(partOf(3));
      chain.record(estimateOf(3, { massKg: 300_000.123456789, laterKg: 1, growth: 5, laterGrowth: 5, xM: 3 }));
    },
  ],
  [
    'an arm beyond plain numbers',
    (chain) => {
      for (let move = 0; move < 3; move += 1) chain.record(datumOf(1000));
      chain.record(partOf(3));
      chain.record(estimateOf(3, { massKg: 30, xM: 3.7 }));
    },
  ],
  [
    'a weighed assembly and what is in it',
    (chain) => {
      chain.record(partOf(3));
      chain.record(partOf(4, { parentPartId: partIdOf(3) }));
      chain.record(estimateOf(4, { xM: 2 }));
      chain.record(assemblyOf(3, 4.4, [4], { xM: 2.1 }));
    },
  ],
];

describe('parts with more to them', () => {
  test.each(IN_BOOKS)('[R1] have books: %s', (_, more) => {
    const { flat, inBooks, folded } = expectSame(chainWith(more));
    expect(inBooks).toBeGreaterThan(0);
    expect(flat).toBeGreaterThan(0);
    expect(folded).toBe(0);
  });
});

const FOLDED: readonly (readonly [why: string, more: (chain: Chain) => void])[] = [
  ['an estimate corrected', (chain) => chain.correct(chain.record(estimateOf(1)), estimateOf(1, { massKg: 7 }))],
  ['a weighing struck out', (chain) => chain.correct(chain.record(weighingOf(1, 4)), undefined)],
  ['a weighing that was of another part', (chain) => chain.correct(chain.record(weighingOf(1, 4)), weighingOf(2, 1))],
  [
    'a correction corrected',
    (chain) => {
      const first = chain.correct(chain.record(weighingOf(1, 4)), weighingOf(1, 4.1));
      chain.correct(first, weighingOf(1, 4.2));
    },
  ],
  ['a note that should have been a weighing', (chain) => chain.correct(chain.record(noteOf('4 kg')), weighingOf(1, 4))],
  [
    'a weighed assembly corrected',
    (chain) => {
      chain.record(partOf(3));
      chain.record(partOf(4, { parentPartId: partIdOf(3) }));
      chain.record(estimateOf(4, { xM: 2 }));
      chain.correct(chain.record(assemblyOf(3, 4.4, [4])), assemblyOf(3, 4.3, [4]));
    },
  ],
];

describe('corrected parts', () => {
  test.each(FOLDED)('[R1] are folded: %s', (_, more) => {
    const { flat, folded } = expectSame(chainWith(more));
    expect(folded).toBeGreaterThan(0);
    expect(flat).toBeGreaterThan(0);
  });
});

test.each(['aircraft weighing', 'something new'])(
  '[R1] an entry of a kind unknown here leaves all to the folded ledger: %s',
  (kind) => {
    const entries = chainWith((chain) => chain.record(noteOf('x')));
    const last = entries.at(-1);
    const unknown = entries.map((one) =>
      one === last ? ({ ...one, entry: { ...one.entry, kind } } as unknown as RecordedEntry) : one,
    );
    expect(bulkHeadline(unknown)).toBeUndefined();
    const corrected = chainWith((chain) => chain.correct(chain.record(noteOf('x')), { ...noteOf('y'), kind } as never));
    expect(bulkHeadline(corrected)).toBeUndefined();
  },
);
