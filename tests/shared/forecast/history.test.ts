/** The forecast by the day (rule F4), against forecasts that are made anew for every day; and figures that are numbers on any chain. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ForecastDayReport, ForecastReport, ProcessDriftReport, WhatNextReport } from '#shared/contract/forecast.ts';
import { processDrifts } from '#shared/drift/process-drift.ts';
import { forecastByDay } from '#shared/forecast/history.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import { whatNext } from '#shared/forecast/what-next.ts';
import { enter, openBooks } from '#shared/ledger/books.ts';
import { foldEntries, isOfPart, type Ledger } from '#shared/ledger/fold.ts';
import { inOrderOfDays } from '#shared/ledger/history.ts';
import { Chain, datumOf, estimateOf, partOf, targetsOf, weighingOf } from '../ledger/make-entries.ts';
import { chainFrom, randomSteps } from '../ledger/random-chain.ts';
import { withUncertainArms } from './uncertain-arms.ts';

const RUNS = Number(process.env['RUNS'] ?? 60);
const SEED = Number(process.env['SEED'] ?? 20_260_101);

function onRandomChains(check: (ledger: Ledger) => void, maxLength: number): void {
  fc.assert(
    fc.property(randomSteps(maxLength), (steps) => check(foldEntries(withUncertainArms(chainFrom(steps).entries)))),
    { seed: SEED, numRuns: RUNS },
  );
}

/** The ledger of what had happened by the end of a day, its books written from the beginning. */
function asOf(ledger: Ledger, day: string): Ledger {
  const books = openBooks();
  const happened = inOrderOfDays(ledger).filter(({ happenedOn }) => happenedOn <= day);
  for (const standing of happened) if (isOfPart(standing)) enter(books, standing);
  const targets = new Map([...ledger.whole.targets].filter(([, { happenedOn }]) => happenedOn <= day));
  return { ...ledger, books, whole: { ...ledger.whole, targets } };
}

describe('the forecast by the day', () => {
  it('[F4] is on every day what a forecast of that day would have been', () => {
    let days = 0;
    onRandomChains((ledger) => {
      for (const day of forecastByDay(ledger)) {
        const anew = forecastReport(asOf(ledger, day.day));
        days += 1;
        expect(day.predictedKg).toBe(anew.predictedKg);
        expect(day.forecastKg).toBeCloseTo(anew.forecastKg, 9);
        // A difference of squares: where the uncertainty is nothing, its root may be off by the root of the last digit.
        expect(day.forecastStdKg).toBeCloseTo(anew.forecastStdKg, 6);
        expect(day.cgX === undefined).toBe(anew.cg.x === undefined);
        expect(day.cgX?.atM ?? 0).toBeCloseTo(anew.cg.x?.atM ?? 0, 9);
        expect(day.cgX?.stdM ?? 0).toBeCloseTo(anew.cg.x?.stdM ?? 0, 6);
        expect(day.targetKg).toBe(anew.targets?.emptyMassKg);
      }
    }, 40);
    expect(days).toBeGreaterThan(300);
  });

  it('[F4] ends with the forecast of the ledger, and has one line a day with the target of that day', () => {
    const chain = new Chain();
    const on = (day: number) => ({ on: `2026-05-0${day}` });
    chain.record(targetsOf(20), on(1));
    for (const [number, day] of [
      [1, 1],
      [2, 1],
      [3, 2],
    ] as const) {
      chain.record(partOf(number), on(day));
      chain.record(estimateOf(number, { massKg: 5, xM: number, growth: 0.1 }), on(day));
    }
    chain.record(weighingOf(1, 6), on(4));
    chain.record(targetsOf(18), on(5));
    chain.record(datumOf(0.5), on(6));
    const ledger = chain.fold();
    const days = forecastByDay(ledger).map((day) => ForecastDayReport.parse(day));
    expect(days.map(({ day, targetKg }) => [day.slice(-1), targetKg])).toEqual([
      ['1', 20],
      ['2', 20],
      ['4', 20],
      ['5', 18],
    ]);
    expect(days[0]?.forecastKg).toBeCloseTo(11, 9);
    // A fifth above its estimate: the other two are expected to grow as well.
    expect(days[2]?.forecastKg).toBeGreaterThan(6 + 11);
    const { forecastKg, cg, targets } = forecastReport(ledger);
    expect(days[3]?.forecastKg).toBe(forecastKg);
    expect(days[3]?.withinTarget).toBeCloseTo(targets?.withinTarget ?? 0, 9);
    expect(days[3]?.cgX?.atM).toBe(cg.x?.atM);
    expect(forecastByDay(new Chain().fold())).toEqual([]);
  });
});

describe('any chain', () => {
  it('[F2] has figures that are numbers, chances from 0 to 1, and a band around its forecast', () => {
    onRandomChains((ledger) => {
      const report = ForecastReport.parse(forecastReport(ledger));
      expect(report.lowKg).toBeLessThanOrEqual(report.forecastKg);
      expect(report.highKg).toBeGreaterThanOrEqual(report.forecastKg);
      const { withinTarget = 0, withinTargetLessReserve = 0, cgInRange = 0 } = report.targets ?? {};
      for (const chance of [withinTarget, withinTargetLessReserve, cgInRange]) {
        expect(chance).toBeGreaterThanOrEqual(0);
        expect(chance).toBeLessThanOrEqual(1);
      }
      expect(withinTargetLessReserve).toBeLessThanOrEqual(withinTarget);
      for (const process of processDrifts(ledger)) ProcessDriftReport.parse(process);
    }, 60);
  });

  it('[F5] no part takes more than all of the variance away, and the surest comes first', () => {
    onRandomChains((ledger) => {
      const rows = whatNext(ledger).map((row) => WhatNextReport.parse(row));
      for (const { massShare } of rows) expect(massShare).toBeLessThanOrEqual(1 + 1e-9);
      expect(rows.map(({ massShare }) => massShare)).toEqual(
        rows.map(({ massShare }) => massShare).sort((a, b) => b - a),
      );
    }, 60);
  });
});
