/**
 * The forecast that follows its ledger entry by entry: against that of a ledger read anew, to the last bit; and against one that is made
 * plainly of all parts, all releases and every source of error, each process charted from its first release.
 */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cusumChart, ewmaChart, SHOP_CUSUM, SHOP_EWMA } from '#shared/drift/control-charts.ts';
import { processDrifts, withoutProcessCause } from '#shared/drift/process-drift.ts';
import { recordsOf } from '#shared/drift/process-records.ts';
import { deviationOf, missOf, type Release, releasesOfPart } from '#shared/drift/process-releases.ts';
import { watched } from '#shared/drift/process-watch.ts';
import { errorBasisOf } from '#shared/estimate/shop-errors.ts';
import { forecastFrom } from '#shared/forecast/forecast.ts';
import { updateNormal } from '#shared/forecast/normal-update.ts';
import { openPartOf } from '#shared/forecast/open-pieces.ts';
import { SHOP_PRIOR_STD } from '#shared/forecast/process-shift.ts';
import { figuresOf, forecastReport } from '#shared/forecast/report.ts';
import { runningForecastOf } from '#shared/forecast/running-forecast.ts';
import { whatNext } from '#shared/forecast/what-next.ts';
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import {
  applyEntry,
  foldEntries,
  inForce,
  type Ledger,
  openLedger,
  predictedOf,
  presentParts,
} from '#shared/ledger/fold.ts';
import { byWhatHappened } from '#shared/ledger/part-state.ts';
import { type LengthNm, seenFrom, toKg } from '#shared/quantity/exact.ts';
import { shiftsIn } from '#shared/uncertainty/ledger-shifts.ts';
import { sumShifts } from '#shared/uncertainty/shift.ts';
import { BY, entriesOn, TODAY } from '#tests/db/demo/story.ts';
import { chanceOf } from '#tests/support/chance.ts';
import { chainFrom, randomSteps } from '../ledger/random-chain.ts';
import { withUncertainArms } from './uncertain-arms.ts';

const SEED = Number(process.env['SEED'] ?? 20_260_101);
const RUNS = Number(process.env['RUNS'] ?? 100);

function onRandomChains(check: (entries: readonly RecordedEntry[]) => void): void {
  const chains = fc.property(randomSteps(60), (steps) => check(withUncertainArms(chainFrom(steps).entries)));
  fc.assert(chains, { seed: SEED, numRuns: RUNS });
}

const demonstration = withUncertainArms(entriesOn(TODAY).map((entry, at) => ({ seq: at + 1, recordedAt: BY, entry })));

function expectCarriedOn(entries: readonly RecordedEntry[], every: number): void {
  const figuresOn = (ledger: Ledger) => ({
    forecast: forecastReport(ledger),
    processes: processDrifts(ledger),
    called: withoutProcessCause(ledger),
    next: whatNext(ledger),
  });
  const ledger = openLedger();
  for (const [at, recorded] of entries.entries()) {
    applyEntry(ledger, recorded);
    if (at % every !== 0 && at !== entries.length - 1) continue;
    expect(figuresOn(ledger)).toEqual(figuresOn(foldEntries(entries.slice(0, at + 1))));
  }
}

test('[F2] over random chains the running forecast is that of a ledger read anew, to the last bit', () => {
  onRandomChains((entries) => expectCarriedOn(entries, 3));
});

test('[F2] over the demonstration the running forecast is that of a ledger read anew, to the last bit', () => {
  expectCarriedOn(demonstration, 60);
});

/** All charts from the first release, begun anew about the level that the process changed to; the releases since, estimate by estimate. */
function plainShift(released: readonly Release[]) {
  const since = released.slice(plainChange(released.map(deviationOf)));
  const under = Map.groupBy(since, ({ partId, estimateSeq }) => `${partId} ${estimateSeq}`);
  const seen = [...under.values()].map((each) => {
    const scale = each.map((release) => ({
      value: missOf(release),
      precision: 1 / release.scaleStdFraction ** 2,
    }));
    const exact = scale.filter(({ precision }) => precision === Number.POSITIVE_INFINITY);
    const [weights, values] = exact.length > 0 ? [exact.map(() => 1), exact] : [scale.map((o) => o.precision), scale];
    const total = weights.reduce((sum, weight) => sum + weight, 0);
    const value = values.reduce((sum, one, at) => sum + one.value * (weights[at] ?? 0), 0) / total;
    return { value, variance: (exact.length > 0 ? 0 : 1 / total) + (each[0]?.estimateStdFraction ?? 0) ** 2 };
  });
  const shift = updateNormal({ mean: 0, std: SHOP_PRIOR_STD }, seen);
  // At most the whole of a piece comes off.
  return {
    ...shift,
    mean: Math.max(-1, shift.mean),
    releaseCount: since.length,
    earlierCount: released.length - since.length,
    first: since[0],
  };
}

function plainChange(deviations: readonly number[]): number {
  let [from, watchedFrom, level] = [0, 0, 0];
  for (;;) {
    const watch = deviations.slice(watchedFrom);
    const ewma = ewmaChart(watch, { target: level, sd: 1, ...SHOP_EWMA });
    const cusum = cusumChart(watch, { target: level, ...SHOP_CUSUM });
    const at = watch.findIndex((_, place) => ewma[place]?.side !== undefined || cusum[place]?.side !== undefined);
    if (at < 0) return from;
    const side = ewma[at]?.side ?? cusum[at]?.side;
    from = watchedFrom + ((side === 'high' ? cusum[at]?.highFrom : cusum[at]?.lowFrom) ?? at);
    watchedFrom += at + 1;
    const since = deviations.slice(from, watchedFrom);
    level = since.reduce((sum, deviation) => sum + deviation, 0) / since.length;
  }
}

function plainReleases(ledger: Ledger): ReadonlyMap<string, readonly Release[]> {
  const all = [...ledger.books.byPart.values()].flatMap(({ state }) => releasesOfPart(state, errorBasisOf(ledger)));
  const ordered = all.sort((a, b) => byWhatHappened(a.weighing, b.weighing)).map(({ release }) => release);
  return Map.groupBy(ordered, (release) => release.process);
}

/** Within a thousandth of a millionth of itself, or of a microgram or a nanometre. */
function expectClose(is: number | undefined, shouldBe: number | undefined): void {
  expect(is === undefined).toBe(shouldBe === undefined);
  expect(Math.abs((is ?? 0) - (shouldBe ?? 0))).toBeLessThan(1e-9 * (1 + Math.abs(shouldBe ?? 0)));
}

function expectPlain(ledger: Ledger): void {
  const releases = plainReleases(ledger);
  const parts = presentParts(ledger);
  const plain = forecastFrom({
    predicted: seenFrom(predictedOf(ledger), -ledger.datumNm as LengthNm),
    shifts: sumShifts(parts.map(shiftsIn(ledger))),
    open: parts.flatMap((part) => openPartOf(part, ledger.books) ?? []),
    shiftOf: (name) => plainShift(releases.get(name) ?? []),
  });
  const running = runningForecastOf(ledger);
  const report = forecastReport(ledger);
  const figures = figuresOf(plain, { datumNm: ledger.datumNm, targets: inForce(ledger, 'targets') });
  expectClose(report.forecastKg, figures.forecastKg);
  expectClose(report.forecastStdKg, figures.forecastStdKg);
  for (const chance of ['withinTarget', 'withinTargetLessReserve'] as const)
    expect(report.targets?.[chance] ?? 0).toBeCloseTo(figures.targets?.[chance] ?? 0, 6);
  for (const axis of ['x', 'y', 'z'] as const) {
    // A CG of next to nothing is off by more than is worth telling.
    if (toKg(plain.tally[axis].placedNg) < 1) continue;
    expectClose(report.cg[axis]?.atM, figures.cg[axis]?.atM);
    // A difference of squares: where it is nothing, its root may be off by the root of the last digit.
    const [is, shouldBe] = [report.cg[axis]?.stdM, figures.cg[axis]?.stdM];
    expect(Math.abs((is ?? 0) - (shouldBe ?? 0))).toBeLessThan(1e-7 * (1 + (shouldBe ?? 0)));
  }
  expect(running.processes.map((one) => one.process)).toEqual(plain.processes.map((one) => one.process));
  for (const [at, { atRisk, openPieces, shift }] of running.processes.entries()) {
    const one = plain.processes[at];
    if (one === undefined) continue;
    expectClose(atRisk.massKg, one.atRisk.massKg);
    expect(openPieces).toBe(one.open.reduce((sum, { pieceCount }) => sum + pieceCount, 0));
    expectClose(shift.mean, one.shift.mean);
    expectClose(shift.std, one.shift.std);
    expect({ ...shift, mean: 0, std: 0 }).toEqual({ ...one.shift, mean: 0, std: 0 });
  }
  expect([...recordsOf(ledger)].map(([name, { releases: list }]) => [name, list])).toEqual([...releases]);
}

test('[F2] over random chains it is the one made plainly of all parts', () => {
  let arms = 0;
  onRandomChains((entries) => {
    const ledger = foldEntries(entries);
    expectPlain(ledger);
    arms += presentParts(ledger).filter(({ armStdM }) => armStdM.x > 0).length;
  });
  expect(arms).toBeGreaterThan(RUNS);
});

test('[F2] over the demonstration it is the one made plainly of all parts, on any day of its', () => {
  for (const share of [0.3, 0.6, 0.8, 1]) {
    const ledger = openLedger();
    for (const recorded of demonstration.slice(0, Math.round(share * demonstration.length))) {
      applyEntry(ledger, recorded);
      if (recorded.seq % 25 === 0) forecastReport(ledger);
    }
    expectPlain(ledger);
  }
});

test('[D4] a process watched release by release is seen to change where its charts, drawn anew after each change, say so', () => {
  const { uniform } = chanceOf(SEED);
  let changes = 0;
  for (let run = 0; run < 300; run += 1) {
    const levels = Array.from({ length: 1 + Math.floor(uniform() * 4) }, () => (uniform() - 0.5) * 8);
    const deviations = levels.flatMap((level) =>
      Array.from({ length: Math.floor(uniform() * 20) }, () => level + (uniform() - 0.5) * 3),
    );
    const { from, count } = watched(deviations);
    expect([from, count]).toEqual([plainChange(deviations), deviations.length]);
    if (from > 0) changes += 1;
  }
  expect(changes).toBeGreaterThan(100);
});
