/**
 * A ledger that gives a forecast little to stand on, or nonsense: every report answers, with numbers that are numbers. What has no answer is left
 * out of the report, never not-a-number. All of it is invented.
 */
import { describe, expect, it } from 'vitest';
import {
  ForecastDayReport,
  ForecastReport,
  GroupForecastReport,
  ProcessDriftReport,
  WhatNextReport,
} from '#shared/contract/forecast.ts';
import { processDrifts } from '#shared/drift/process-drift.ts';
import { growthRate } from '#shared/forecast/growth-rate.ts';
import { forecastByDay } from '#shared/forecast/history.ts';
import { forecastReport, groupForecastReport } from '#shared/forecast/report.ts';
import { whatIf } from '#shared/forecast/what-if.ts';
import { whatNext } from '#shared/forecast/what-next.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { bridgeReport, reversalOf } from '#shared/rollup/bridge.ts';
import { openListReport } from '#shared/rollup/open-list.ts';
import { partsReport } from '#shared/rollup/parts-report.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { whereReport } from '#shared/rollup/where.ts';
import { Chain, estimateOf, partIdOf, partOf, TODAY, targetsOf, weighingOf } from '../ledger/make-entries.ts';

/** Everything that is told of a ledger and could divide by what is not there. */
function told(ledger: Ledger) {
  const partId = partIdOf(2);
  return {
    forecast: ForecastReport.parse(forecastReport(ledger)),
    groups: groupForecastReport(ledger).map((row) => GroupForecastReport.parse(row)),
    days: forecastByDay(ledger).map((day) => ForecastDayReport.parse(day)),
    next: whatNext(ledger).map((row) => WhatNextReport.parse(row)),
    processes: processDrifts(ledger).map((one) => ProcessDriftReport.parse(one)),
    rate: growthRate(forecastByDay(ledger)),
    changed: [
      whatIf(ledger, { changes: [{ act: 'set mass', partId, massKg: 0 }] }),
      whatIf(ledger, { changes: [{ act: 'add mass', partId, massKg: -50 }] }),
      whatIf(ledger, { changes: [{ act: 'remove', partId }], ballastAtM: 0.5 }),
    ],
    headline: headlineReport(ledger),
    parts: partsReport(ledger),
    where: whereReport(ledger),
    open: openListReport(ledger, { today: TODAY, most: 100 }),
    bridges: (['cause', 'group', 'part'] as const).map((by) => bridgeReport(ledger, { axis: 'day' }, by)),
  };
}

/** Where in a report a number is none. */
function strange(value: unknown, at = ''): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [`${at} = ${value}`];
  if (value === null) return [`${at} = null`];
  if (typeof value !== 'object') return [];
  return Object.entries(value as object).flatMap(([name, one]) => strange(one, `${at}/${name}`));
}

/** Part 2 waits, of the same process as what was weighed. */
function waiting(): Chain {
  const chain = new Chain();
  chain.record(targetsOf(20));
  chain.record(partOf(2));
  chain.record(estimateOf(2, { massKg: 8, growth: 0.1, xM: 2 }));
  return chain;
}

function weighed(chain: Chain, number: number, netKg: number, estimate: Parameters<typeof estimateOf>[1]): void {
  chain.record(partOf(number));
  chain.record(estimateOf(number, { growth: 0.1, xM: 1, ...estimate }));
  chain.record(weighingOf(number, netKg));
}

describe('what a forecast is made of', () => {
  it('[D4] [F1] one weighing makes a forecast and calls nothing by itself', () => {
    const chain = waiting();
    weighed(chain, 1, 4.4, { massKg: 4, massStdKg: 0.2 });
    const { forecast, processes, ...rest } = told(chain.fold());
    expect(strange({ forecast, processes, ...rest })).toEqual([]);
    expect(processes).toMatchObject([{ process: 'wet lay-up', points: [{ part: 'P-1' }] }]);
    expect(processes[0]?.signal).toBeUndefined();
    expect(forecast.processes).toMatchObject([{ releaseCount: 1, openPieces: 1 }]);
    expect(forecast.processes[0]?.shiftFraction).toBeCloseTo(0, 9);
    // One day is no rate.
    expect(rest.rate).toBeUndefined();
  });

  it.each([
    ['as estimated and allowed', 4.4, undefined],
    ['at their estimates, the allowance to spare', 4, 'allowance to spare'],
    ['above', 6, 'heavy'],
  ])(
    '[D4] thirty weighings that are all equal, %s, are limits and figures, without any spread to divide by',
    (_, netKg, reading) => {
      const chain = waiting();
      for (let number = 3; number < 33; number += 1) weighed(chain, number, netKg, { massKg: 4, massStdKg: 0.2 });
      const all = told(chain.fold());
      expect(strange(all)).toEqual([]);
      expect(all.processes[0]?.points).toHaveLength(30);
      expect(all.processes[0]?.signal?.reading).toBe(reading);
      const [shift] = all.forecast.processes;
      expect(shift?.shiftStdFraction).toBeGreaterThan(0);
      // Pulled to what was seen.
      expect(Math.abs((shift?.shiftFraction ?? 0) - (netKg / 4 - 1.1))).toBeLessThan(0.02);
    },
  );

  it('[D4] equal weighings on a scale and under estimates that call themselves exact are taken to differ as pieces do', () => {
    const chain = waiting();
    for (let number = 3; number < 12; number += 1) {
      chain.record(partOf(number));
      chain.record(estimateOf(number, { massKg: 4, massStdKg: 0, growth: 0, xM: 1 }));
      chain.record(weighingOf(number, 4.4, { grossResolutionKg: 0 }));
    }
    const all = told(chain.fold());
    expect(strange(all)).toEqual([]);
    expect(all.processes[0]?.points[0]?.stdFraction).toBeCloseTo(0.03, 9);
    expect(all.forecast.processes[0]?.shiftStdFraction).toBeGreaterThan(0);
  });

  it.each([
    ['of nothing', { massKg: 0 }],
    ['of nothing, with a deviation', { massKg: 0, massStdKg: 0.1 }],
    ['of what goes on later and nothing moulded', { massKg: 1, laterKg: 1 }],
  ])(
    '[F1] an estimate %s expects no mass of the mould: the weighing counts, and speaks for no process',
    (_, estimate) => {
      const chain = waiting();
      weighed(chain, 1, 0.5, estimate);
      const all = told(chain.fold());
      expect(strange(all)).toEqual([]);
      expect(all.processes).toEqual([]);
      expect(all.forecast.processes[0]).toMatchObject({ releaseCount: 0, shiftFraction: 0 });
    },
  );

  it('[F2] an aircraft whose every estimate is nothing is forecast at nothing, without a CG', () => {
    const chain = new Chain();
    chain.record(targetsOf(20));
    for (const number of [1, 2]) {
      chain.record(partOf(number));
      chain.record(estimateOf(number, { massKg: 0, massStdKg: 0, xM: 1 }));
    }
    const all = told(chain.fold());
    expect(strange(all)).toEqual([]);
    expect(all.forecast).toMatchObject({ forecastKg: 0, forecastStdKg: 0, targets: { withinTarget: 1 } });
    expect(all.forecast.cg.x).toBeUndefined();
    expect(all.next).toEqual([]);
  });

  it('[F1] [F2] parts that weigh next to nothing take a process down by no more than their whole mass', () => {
    const chain = waiting();
    for (let number = 3; number < 23; number += 1)
      weighed(chain, number, 1e-9, { massKg: 4, massStdKg: 0.01, growth: 0 });
    const all = told(chain.fold());
    expect(strange(all)).toEqual([]);
    expect(all.processes[0]?.points[0]?.differenceFraction).toBeCloseTo(-1, 9);
    expect(all.processes[0]?.signal?.reading).toBe('light');
    const { forecastKg, processes, predictedKg } = all.forecast;
    expect(processes[0]?.shiftFraction).toBeGreaterThan(-1.0001);
    expect(processes[0]?.shiftFraction).toBeLessThan(-0.9);
    expect(forecastKg).toBeLessThan(predictedKg);
    expect(forecastKg).toBeGreaterThan(0);
  });

  it('[F1] releases that used up neither estimate nor allowance leave a part without allowance nothing, and not less', () => {
    const chain = new Chain();
    chain.record(targetsOf(20));
    chain.record(partOf(2));
    chain.record(estimateOf(2, { massKg: 8, growth: 0, xM: 2 }));
    for (let number = 3; number < 23; number += 1)
      weighed(chain, number, 1e-9, { massKg: 4, massStdKg: 0.01, growth: 1 });
    const all = told(chain.fold());
    expect(strange(all)).toEqual([]);
    expect(all.forecast.processes[0]?.shiftFraction).toBe(-1);
    expect(all.forecast.forecastKg).toBeCloseTo(2e-8, 12);
    expect(all.days.at(-1)?.forecastKg).toBe(all.forecast.forecastKg);
  });

  it('[F2] one estimate of a crumb under a part of kilograms is a number too', () => {
    const chain = waiting();
    weighed(chain, 1, 900, { massKg: 1e-6, massStdKg: 1e-9 });
    weighed(chain, 3, 1e-6, { massKg: 900_000 });
    const all = told(chain.fold());
    expect(strange(all)).toEqual([]);
  });
});

describe('days and entries that are not there', () => {
  const chain = waiting();
  weighed(chain, 1, 4.4, { massKg: 4, massStdKg: 0.2 });
  const ledger = chain.fold();

  it.each([
    ['after the last day', { axis: 'day', from: '2090-01-01' }],
    ['after the last day up to a later one', { axis: 'day', from: '2090-01-01', to: '2099-01-01' }],
    ['before the first day', { axis: 'day', from: '1950-01-01', to: '1960-01-01' }],
    ['up to before the first day', { axis: 'day', to: '1960-01-01' }],
    ['beyond the last entry', { axis: 'entry', from: 5000 }],
    ['between two entries beyond the last', { axis: 'entry', from: 5000, to: 6000 }],
  ] as const)('[L6] nothing happened %s', (_, period) => {
    for (const by of ['cause', 'group', 'part'] as const) {
      const bridge = bridgeReport(ledger, period, by);
      expect(strange(bridge)).toEqual([]);
      expect(bridge).toMatchObject({ effects: [], rows: [] });
      expect(bridge.to.predictedKg).toBe(bridge.from.predictedKg);
      expect(bridge.from.at <= bridge.to.at).toBe(true);
    }
  });

  it('[L6] a period that ends before it begins is none', () => {
    expect(reversalOf({ axis: 'day', from: '2026-05-02', to: '2026-05-01' })?.code).toBe('period-reversed');
    expect(reversalOf({ axis: 'entry', from: 10, to: 9 })?.code).toBe('period-reversed');
    expect(reversalOf({ axis: 'entry', from: 9, to: 10 })).toBeUndefined();
    expect(reversalOf({ axis: 'day', from: '2026-05-01', to: '2026-05-01' })).toBeUndefined();
    expect(reversalOf({ axis: 'day' })).toBeUndefined();
  });
});
