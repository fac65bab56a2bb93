/** Differences split by what the pieces had in common, and what two weighings of one piece teach (rules W9, W10). */
import { describe, expect, it } from 'vitest';
import { NOT_STATED, SPLITS } from '#shared/contract/drift.ts';
import { splitReport } from '#shared/drift/report.ts';
import { pairReport } from '#shared/weighing/pairs.ts';
import { Chain, dispositionOf, estimateOf, partOf, weighingOf, withdrawnOf } from '../ledger/make-entries.ts';

type Weighed = Parameters<typeof weighingOf>[2];

/** Parts of 4 kg, one for each net mass. */
function weighed(...nets: readonly (readonly [netKg: number, changes: Weighed])[]): Chain {
  const chain = new Chain();
  nets.forEach(([netKg, changes], at) => {
    chain.record(partOf(at + 1));
    chain.record(estimateOf(at + 1));
    chain.record(weighingOf(at + 1, netKg, changes));
  });
  return chain;
}

describe('splits', () => {
  it('[W10] differences are split by lot, with count, sum, mean and standard deviation', () => {
    const ledger = weighed(
      [4.4, { lot: 'roll 2' }],
      [4.2, { lot: 'roll 2' }],
      [3.8, { lot: 'roll 1' }],
      [4, {}],
    ).fold();
    const rows = splitReport(ledger, 'lot');
    expect(rows.map(({ name, pieceCount }) => [name, pieceCount])).toEqual([
      ['roll 1', 1],
      ['roll 2', 2],
      [NOT_STATED, 1],
    ]);
    expect(rows[1]?.sumKg).toBeCloseTo(0.6, 12);
    expect(rows[1]?.meanFraction).toBeCloseTo(0.075, 12);
    // 10 % and 5 %: their mean is 7.5 %, their sample deviation sqrt(2 x 2.5^2) %.
    expect(rows[1]?.sdFraction).toBeCloseTo(Math.SQRT2 * 0.025, 12);
    expect(rows[0]?.sdFraction).toBeUndefined();
  });

  it.each([
    ['batch', { batch: 'R-12' }, 'R-12'],
    ['operator', { operator: 'Ann' }, 'Ann'],
    ['scale', { scale: 'bench' }, 'bench'],
    ['condition', { condition: 'trimmed' }, 'trimmed'],
    ['temperature', { temperatureC: 20 }, '20 to 25 °C'],
    ['temperature', { temperatureC: 19.99 }, '15 to 20 °C'],
    ['temperature', { temperatureC: -0.5 }, '-5 to 0 °C'],
    ['humidity', { humidityFraction: 0.6 }, '60 to 70 %'],
    ['humidity', { humidityFraction: 0.58 }, '50 to 60 %'],
    ['group', {}, 'wing'],
    ['process', {}, 'wet lay-up'],
  ] as const)('[W10] by %s: %j stands under %s', (key, changes, name) => {
    expect(splitReport(weighed([4.4, changes as Weighed]).fold(), key).map((row) => row.name)).toEqual([name]);
  });

  it('[W10] bands come in their order, and what is not stated last', () => {
    const ledger = weighed([4, { temperatureC: 31 }], [4, {}], [4, { temperatureC: 8 }]).fold();
    expect(splitReport(ledger, 'temperature').map(({ name }) => name)).toEqual([
      '5 to 10 °C',
      '30 to 35 °C',
      NOT_STATED,
    ]);
  });

  it('[W10] whatever they are split by, the sums are the same', () => {
    const ledger = weighed([4.4, { lot: 'a', humidityFraction: 0.4 }], [4.1, { batch: 'b' }], [3.7, {}]).fold();
    for (const key of SPLITS)
      expect(splitReport(ledger, key).reduce((sum, { sumKg }) => sum + sumKg, 0)).toBeCloseTo(0.2, 12);
  });
});

describe('pairs', () => {
  const twice = (...nets: readonly (readonly ['as released' | 'trimmed' | 'finished', number])[]) => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1, { massKg: 5, flashKg: 0.2, laterKg: 1 }));
    for (const [condition, netKg] of nets) chain.record(weighingOf(1, netKg, { condition }));
    return chain;
  };

  it('[W9] released and trimmed teach the flash, trimmed and finished what went on later', () => {
    const rows = pairReport(twice(['as released', 4.4], ['trimmed', 4], ['finished', 5.2]).fold());
    expect(rows.map(({ process, what, pairCount }) => [process, what, pairCount])).toEqual([
      ['wet lay-up', 'flash', 1],
      ['wet lay-up', 'later', 1],
    ]);
    expect(rows[0]?.meanFraction).toBeCloseTo(0.1, 12);
    expect(rows[0]?.estimatedFraction).toBeCloseTo(0.05, 12);
    expect(rows[1]?.meanFraction).toBeCloseTo(0.3, 12);
    expect(rows[1]?.estimatedFraction).toBeCloseTo(0.25, 12);
  });

  it('[W9] one weighing, or released and finished alone, teaches nothing', () => {
    expect(pairReport(twice(['as released', 4.4]).fold())).toEqual([]);
    expect(pairReport(twice(['as released', 4.4], ['finished', 5.2]).fold())).toEqual([]);
  });

  it('[W9] two articles with one number are no pair', () => {
    const chain = twice(['as released', 4.4]);
    chain.record(withdrawnOf(1, [1]));
    chain.record(weighingOf(1, 4, { condition: 'trimmed' }));
    expect(pairReport(chain.fold())).toEqual([]);
  });

  it('[W9] what rework took off between two weighings is no flash', () => {
    const chain = twice(['as released', 4.4]);
    chain.record(dispositionOf(1, 'to be reworked'));
    chain.record(weighingOf(1, 3.8, { condition: 'trimmed' }));
    expect(pairReport(chain.fold())).toEqual([]);
    chain.record(weighingOf(1, 4.1, { condition: 'as released' }));
    chain.record(weighingOf(1, 3.9, { condition: 'trimmed' }));
    expect(pairReport(chain.fold())[0]?.meanFraction).toBeCloseTo(0.2 / 3.9, 12);
  });

  it('[W9] the lesson is offered to parts of the process that are not all weighed', () => {
    const chain = twice(['as released', 4.4], ['trimmed', 4]);
    chain.record(partOf(2));
    chain.record(estimateOf(2, { massKg: 11, flashKg: 0.3, laterKg: 1 }));
    chain.record(partOf(3, { process: 'prepreg' }));
    chain.record(estimateOf(3));
    const [row] = pairReport(chain.fold());
    expect(row?.offers.map(({ number }) => number)).toEqual(['P-2']);
    expect(row?.offers[0]).toMatchObject({ estimatedKg: 0.3 });
    expect(row?.offers[0]?.offeredKg).toBeCloseTo(1, 12);
  });
});
