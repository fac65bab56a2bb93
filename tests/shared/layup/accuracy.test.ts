/** Estimates by lay-up against the scale (rule E7): what weighings of one kind say together, and what is offered on. */
import { describe, expect, it } from 'vitest';
import { AccuracyReport } from '#shared/contract/layup.ts';
import { accuracyReport } from '#shared/layup/accuracy.ts';
import { computeLayUp, estimateOfLayUp } from '#shared/layup/compute.ts';
import type { LayUp } from '#shared/layup/schedule.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { predictedOf } from '#shared/ledger/fold.ts';
import { toKg } from '#shared/quantity/exact.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import { Chain, datumOf, estimateOf, partIdOf, partOf, TODAY, uuidOf, weighingOf } from '../ledger/make-entries.ts';
import { ofLines, scheduleOf } from './make-schedules.ts';

/** Five layers of twill on 1 m²: 1 kg of fibre, 0.666 667 kg of resin, and 0.1 kg of primer as finish. */
const SKIN = scheduleOf(
  ofLines({ is: 'ply', material: 'Twill', layers: '5' }, { is: 'coat', material: 'Primer', coverage: '100 %' }),
);
const GLASS = scheduleOf(ofLines({ is: 'ply', material: 'Glass', layers: '10' }));

function laidUp(number: number, layUp: LayUp, changes: Partial<StatementOf<'estimate'>> = {}): StatementOf<'estimate'> {
  const own = { evidence: 'calculated', growth: 0.06, laterGrowth: 0.06, growthFrom: 'shop default', layUp } as const;
  return estimateOf(number, { ...estimateOfLayUp(layUp), ...own, ...changes });
}

/** Parts of the skin that weigh `netsKg` trimmed, and two more that are not weighed yet. */
function shop(netsKg: readonly number[]): Chain {
  const chain = new Chain();
  netsKg.forEach((netKg, at) => {
    chain.record(partOf(at + 1));
    chain.record(laidUp(at + 1, SKIN));
    chain.record(weighingOf(at + 1, netKg, { condition: 'trimmed', grossResolutionKg: 0 }));
  });
  chain.record(partOf(51, { quantity: 2 }));
  chain.record(laidUp(51, SKIN, { xM: 2, yM: -0.5, flashKg: 0.2, typed: { x: '2000 mm' } }));
  chain.record(partOf(52));
  chain.record(laidUp(52, GLASS));
  chain.record(partOf(53));
  chain.record(estimateOf(53));
  return chain;
}

/** 1 kg of fibre in 1.8, 1.9 and 2 kg. */
const WETTER = [1.8, 1.9, 2];

function reportOf(chain: Chain): AccuracyReport {
  const report = accuracyReport(chain.fold());
  expect(AccuracyReport.parse(report)).toEqual(report);
  return report;
}

describe('calculated against weighed', () => {
  it('[E7] number, mean and scatter of the differences, and the fibre fraction there is, by hand', () => {
    const { processes, fabrics, pairs } = reportOf(shop(WETTER));
    const [row] = pairs;
    expect(row).toMatchObject({ name: 'wet lay-up, Twill', count: 3 });
    // Calculated 1.666 667: 8, 14 and 20 % above; mean 14 %, standard deviation 6 %.
    expect(row?.meanFraction).toBeCloseTo(0.14, 9);
    expect(row?.sdFraction).toBeCloseTo(0.06, 9);
    // 1/1.8, 1/1.9, 1/2: mean 0.527 291, standard deviation 0.027 799.
    expect(row?.wf.value).toBeCloseTo(0.527_290_5, 6);
    // Twill 3 % and area 2 % of a fibre fraction are common to them all: 0.527 291 x 0.036 056.
    expect(row?.wf.std).toBeCloseTo(Math.hypot(0.527_290_5 * Math.hypot(0.03, 0.02), 0.027_799 / Math.sqrt(3)), 5);
    expect(row?.plannedWf).toBeCloseTo(0.6, 9);
    expect(processes).toEqual([{ ...row, name: 'wet lay-up' }]);
    expect(fabrics).toEqual([{ ...row, name: 'Twill' }]);
  });

  it('[E7] one weighing has no scatter, one that cannot be teaches nothing, and an estimate in bare words is left out', () => {
    const { pairs, leftOut } = reportOf(shop([1.8, 0.9]));
    expect(pairs).toMatchObject([{ count: 1 }]);
    expect(pairs[0]?.sdFraction).toBeUndefined();
    expect(leftOut).toBe(1);
    expect(reportOf(shop([]))).toMatchObject({ processes: [], fabrics: [], pairs: [], offers: [], leftOut: 0 });
  });
});

describe('offers', () => {
  it('[E7] a part like them that is not weighed is offered the fraction they have, and what that changes', () => {
    const chain = shop(WETTER);
    const { offers, predictedKg, predictedWithOffersKg } = reportOf(chain);
    expect(offers).toMatchObject([{ number: 'P-51', wf: { value: 0.527 }, plannedWf: expect.closeTo(0.6, 12) }]);
    const [offer] = offers;
    // 1 kg of fibre at 52.7 % and the primer.
    expect(offer?.massKg).toBeCloseTo(1 / 0.527 + 0.1, 9);
    expect(offer?.wasKg).toBeCloseTo(1.766_666_667, 9);
    // Two pieces, with 6 % allowance.
    const changeKg = 2 * 1.06 * (1 / 0.527 - 1 / 0.6);
    expect(offer?.changeKg).toBeCloseTo(changeKg, 8);
    expect(predictedKg).toBe(toKg(predictedOf(chain.fold()).massNg));
    expect(predictedWithOffersKg - predictedKg).toBeCloseTo(changeKg, 8);
  });

  it('[E7] an offer that is recorded does what it said, keeps what stood beside the schedule, and is made no more', () => {
    const chain = shop(WETTER);
    chain.record(datumOf(0.5));
    const before = reportOf(chain);
    const words = before.offers[0]?.words;
    const entry = entryFromWords(words, { ledger: chain.fold(), day: TODAY, by: 'Ann', newId: () => uuidOf(999) });
    if (!entry.ok || entry.value.kind !== 'estimate') throw new Error(JSON.stringify(entry));
    expect(objectionsTo(entry.value, chain.fold(), TODAY)).toEqual([]);
    // The station is told from the datum as it is now, half a metre aft.
    expect(entry.value).toMatchObject({ xM: 1.5, yM: -0.5, flashKg: 0.2, growth: 0.06, growthFrom: 'shop default' });
    expect(entry.value.layUp?.laminate).toMatchObject({ fibreBy: 'mass', fibreFraction: 0.527 });
    chain.add(entry.value);
    const after = reportOf(chain);
    expect(after.predictedKg).toBeCloseTo(before.predictedWithOffersKg, 9);
    expect(after.offers).toEqual([]);
  });

  it('[E7] nothing is offered on from too few, to another fabric, or to a part that is weighed', () => {
    expect(reportOf(shop(WETTER.slice(1))).offers).toEqual([]);
    const chain = shop(WETTER);
    chain.record(weighingOf(51, 1.8, { condition: 'trimmed' }));
    expect(reportOf(chain).offers).toEqual([]);
  });

  it('[E7] nothing is offered where the laminates are as planned', () => {
    const kg = computeLayUp(SKIN).byOn.moulded.massKg;
    expect(reportOf(shop([kg, kg, kg])).offers).toEqual([]);
  });

  it('[E7] a schedule by volume is offered the fraction by mass', () => {
    const { 'fibre by mass': _, ...others } = ofLines({ is: 'ply', material: 'Twill', layers: '5' });
    const chain = shop(WETTER);
    const byVolume = scheduleOf({ ...others, 'fibre by volume': '50 %' });
    chain.record(partOf(60));
    chain.record(laidUp(60, byVolume));
    const offer = reportOf(chain).offers.find(({ partId }) => partId === partIdOf(60));
    expect(offer?.massKg).toBeCloseTo(1 / 0.527, 9);
    expect(offer?.words).toMatchObject({ layUp: { 'fibre by mass': '52.7 %' } });
  });
});
