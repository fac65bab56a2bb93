/** The forecast by group (rules D3, F2): its rows by hand, against targets, and that they add up. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupDrifts } from '#shared/drift/larger-drift.ts';
import { groupForecasts } from '#shared/forecast/by-group.ts';
import { forecastOf } from '#shared/forecast/forecast.ts';
import { groupForecastReport } from '#shared/forecast/report.ts';
import { scopeOf } from '#shared/forecast/scope.ts';
import { predictedOf } from '#shared/ledger/fold.ts';
import { openList } from '#shared/rollup/open-list.ts';
import { Chain, estimateOf, partOf, TODAY, targetsOf, weighingOf } from '../ledger/make-entries.ts';
import { chainFrom, randomSteps } from '../ledger/random-chain.ts';

/** Wing: 10 kg released 10 % heavy, and 20 kg open. Tail: 5 kg open of the same process. Body: 4 kg open of another. */
function aircraft(): Chain {
  const chain = new Chain();
  const parts = [
    [1, 'wing', 10, 'prepreg'],
    [2, 'wing', 20, 'prepreg'],
    [3, 'tail', 5, 'prepreg'],
    [4, 'body', 4, 'machined'],
  ] as const;
  for (const [number, group, massKg, process] of parts) {
    chain.record(partOf(number, { group, process }));
    chain.record(estimateOf(number, { massKg, massStdKg: 0.03 * massKg, growth: 0, xM: number }));
  }
  chain.record(weighingOf(1, 11, { grossResolutionKg: 0 }));
  return chain;
}

const SHIFT = 0.1 / 0.0009 / (1 / 0.0064 + 1 / 0.0009);
const SHIFT_STD = 1 / Math.sqrt(1 / 0.0064 + 1 / 0.0009);

describe('the forecast by group', () => {
  it('[D3] adds what processes have shown to the open pieces of each group', () => {
    const [wing, tail, body] = groupForecastReport(aircraft().fold());
    expect(wing).toMatchObject({ group: 'wing', partCount: 2, predictedKg: 31 });
    expect(wing?.forecastKg).toBeCloseTo(31 + 20 * SHIFT, 9);
    expect(tail?.forecastKg).toBeCloseTo(5 + 5 * SHIFT, 9);
    expect(body?.forecastKg).toBeCloseTo(4, 12);
  });

  it('[D3] has a band of its own: the process over what the group has open, with its own estimates', () => {
    const [wing, tail, body] = groupForecastReport(aircraft().fold());
    expect(wing?.forecastStdKg).toBeCloseTo(Math.hypot(20 * SHIFT_STD, 0.6), 9);
    expect(tail?.forecastStdKg).toBeCloseTo(Math.hypot(5 * SHIFT_STD, 0.15), 9);
    expect(body?.forecastStdKg).toBeCloseTo(Math.hypot(4 * 0.08, 0.12), 9);
    expect((wing?.highKg ?? 0) - (wing?.forecastKg ?? 0)).toBeCloseTo(1.644_853_6 * (wing?.forecastStdKg ?? 0), 6);
  });

  it('[D3] a group that is predicted within its target and forecast beyond it is a finding, with what it takes from the margin', () => {
    const chain = aircraft();
    chain.record(
      targetsOf(60, {
        groups: [
          { group: 'wing', massKg: 32 },
          { group: 'tail', massKg: 6 },
          { group: 'fairings', massKg: 1 },
        ],
      }),
    );
    const ledger = chain.fold();
    const overKg = 31 + 20 * SHIFT - 32;
    expect(overKg).toBeGreaterThan(0);
    const found = groupDrifts(ledger);
    expect(found).toMatchObject([{ group: 'wing', predictedKg: 31, targetKg: 32 }]);
    expect(found[0]?.marginKg).toBeCloseTo(-overKg, 9);
    const open = openList(ledger, { today: TODAY }).filter(({ what }) => what === 'group over target');
    expect(open).toMatchObject([{ subject: 'wing' }]);
    expect(open[0]?.marginKg).toBeCloseTo(-overKg, 9);
    const empty = groupForecastReport(ledger).find(({ group }) => group === 'fairings');
    expect(empty).toMatchObject({ partCount: 0, forecastKg: 0, forecastStdKg: 0, marginKg: 1 });
  });

  it('[D3] adds up to the forecast, and to the predicted mass, to the last nanogram', () => {
    const anyLedger = fc.property(randomSteps(), (steps) => {
      const ledger = chainFrom(steps).fold();
      const rows = groupForecasts(ledger);
      const sum = (of: (row: (typeof rows)[number]) => bigint) => rows.reduce((all, row) => all + of(row), 0n);
      expect(sum(({ forecastNg }) => forecastNg)).toBe(forecastOf(ledger).tally.massNg);
      expect(sum(({ predictedNg }) => predictedNg)).toBe(predictedOf(ledger).massNg);
      for (const { forecastStdKg } of rows) expect(Number.isFinite(forecastStdKg)).toBe(true);
    });
    fc.assert(anyLedger, { seed: 20_261_130, numRuns: 200 });
  });
});

describe('the scope of a forecast', () => {
  it('[F2] is obviously not whole below half of the target', () => {
    expect(scopeOf({ predictedKg: 49.9, emptyMassKg: 100 })).toMatchObject({ isIncomplete: true });
    expect(scopeOf({ predictedKg: 50, emptyMassKg: 100 })).toEqual({ share: 0.5, isIncomplete: false });
  });
});
