/** Part drift (rules D1, D2). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cgEffectM, judge, judgeWeighing, levelOf, partDrifts, SHOP_PART_LIMIT } from '#shared/drift/part-drift.ts';
import { predictedOf, presentParts } from '#shared/ledger/fold.ts';
import { EMPTY_TALLY, tallyOf, toLengthNm, toMassNg } from '#shared/quantity/exact.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { scalesOf } from '#shared/weighing/scales.ts';
import { Chain, datumOf, estimateOf, partOf, weighingOf } from '../ledger/make-entries.ts';

const exact = { expectedKg: 1, netStdKg: 0, limit: { absoluteKg: 0.02, fraction: 0.06 } };

function driftsOf(chain: Chain) {
  const ledger = chain.fold();
  const aircraft = { predicted: predictedOf(ledger), datumNm: ledger.datumNm, scales: scalesOf(ledger) };
  return presentParts(ledger).flatMap((part) => partDrifts(part, SHOP_PART_LIMIT, aircraft));
}

describe('level', () => {
  it.each([
    [1.0, 'in line', 'in line'],
    [1.039, 'in line', 'in line'],
    [1.041, 'watch heavy', 'watch'],
    [0.959, 'watch light', 'watch'],
    [1.061, 'drifting heavy', 'drifting'],
    [0.939, 'drifting light', 'drifting'],
  ] as const)('[D1] a piece of %d kg where 1 kg is expected is %s', (netKg, flag, level) => {
    const judgement = judge({ ...exact, netKg });
    expect(judgement.flag).toBe(flag);
    expect(levelOf(judgement.flag)).toBe(level);
  });

  it('[D1] the limit is the larger of the absolute one and the share', () => {
    expect(judge({ ...exact, netKg: 1 }).limitKg).toBe(0.06);
    expect(judge({ ...exact, expectedKg: 0.1, netKg: 0.1 }).limitKg).toBe(0.02);
    expect(judge({ ...exact, expectedKg: 0.1, netKg: 0.119 }).flag).toBe('watch heavy');
  });

  it('[D1] what lies exactly on the limit, or on two thirds of it, is within it, on either side', () => {
    const flags = (expectedKg: number, ...netsKg: number[]) =>
      netsKg.map((netKg) => judge({ ...exact, expectedKg, netKg }).flag);
    // 0.26 - 0.24 is 0.020000000000000018 in binary fractions, and 0.24 - 0.22 is 0.01999999999999999.
    expect(flags(0.24, 0.26, 0.22)).toEqual(['watch heavy', 'watch light']);
    expect(flags(0.24, 0.2601, 0.2199)).toEqual(['drifting heavy', 'drifting light']);
    // 4 % and 6 % of what is expected.
    expect(flags(2.1, 2.184, 2.016)).toEqual(['in line', 'in line']);
    expect(flags(2.1, 2.226, 1.974)).toEqual(['watch heavy', 'watch light']);
    const gramsOfParts = Array.from({ length: 3000 }, (_, at) => 300 + at);
    for (const expectedG of gramsOfParts) {
      const expectedKg = expectedG / 1000;
      const limit = { absoluteKg: 0.03, fraction: 0 };
      const flagAt = (offG: number) => judge({ ...exact, limit, expectedKg, netKg: (expectedG + offG) / 1000 }).flag;
      expect([-30, -20, 20, 30].map(flagAt)).toEqual(['watch light', 'in line', 'in line', 'watch heavy']);
    }
  });

  it('[D1] a difference of exactly twice the uncertainty of the scale is not told from zero', () => {
    const judged = (netKg: number, netStdKg: number) => judge({ ...exact, expectedKg: 0.24, netKg, netStdKg }).isTold;
    expect([judged(0.26, 0.01), judged(0.22, 0.01), judged(0.2601, 0.01)]).toEqual([false, false, true]);
  });

  it('[D1] what the scale cannot tell from zero does not drift', () => {
    const heavy = { ...exact, netKg: 1.07 };
    expect(judge({ ...heavy, netStdKg: 0.034 })).toMatchObject({ isTold: true, flag: 'drifting heavy' });
    expect(judge({ ...heavy, netStdKg: 0.036 })).toMatchObject({ isTold: false, flag: 'watch heavy' });
  });

  it('[D1] a difference from nothing has no share', () => {
    expect(judge({ ...exact, expectedKg: 0, netKg: 0.5 })).toMatchObject({
      differenceFraction: undefined,
      flag: 'drifting heavy',
    });
    expect(judge({ ...exact, netKg: 1.5 }).differenceFraction).toBe(0.5);
  });
});

describe('which estimate', () => {
  it('[D1] a weighing is compared with the estimate for the same condition', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1, { massKg: 10, laterKg: 2, flashKg: 0.5 }));
    chain.record(weighingOf(1, 8.5, { condition: 'as released' }));
    expect(driftsOf(chain).map(({ judgement }) => [judgement.expectedKg, judgement.flag])).toEqual([[8.5, 'in line']]);
  });

  it('[D1] the estimate in force on the day of the weighing counts, not one revised afterwards', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1, { massKg: 10 }), { on: '2026-05-01' });
    chain.record(weighingOf(1, 12), { on: '2026-05-10' });
    chain.record(estimateOf(1, { massKg: 12 }), { on: '2026-05-11' });
    expect(driftsOf(chain)[0]?.judgement).toMatchObject({ expectedKg: 10, flag: 'drifting heavy' });
    chain.record(estimateOf(1, { massKg: 11.9 }), { on: '2026-05-09' });
    expect(driftsOf(chain)[0]?.judgement).toMatchObject({ expectedKg: 11.9, flag: 'in line' });
  });

  it('[D1] a weighing older than every estimate is compared with the first one, and one without any with none', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    const weighing = chain.record(weighingOf(1, 12), { on: '2026-05-01' });
    expect(driftsOf(chain)).toEqual([]);
    chain.record(estimateOf(1, { massKg: 11 }), { on: '2026-05-20' });
    chain.record(estimateOf(1, { massKg: 12 }), { on: '2026-05-25' });
    expect(driftsOf(chain)[0]?.judgement.expectedKg).toBe(11);
    const standing = { seq: weighing.seq, happenedOn: '2026-05-01', frameNm: 0n as never, statement: weighingOf(1, 1) };
    expect(judgeWeighing(standing, { estimates: [] }, SHOP_PART_LIMIT, new Map())).toBeUndefined();
  });
});

describe('effect', () => {
  it('[D2] a lot counts with all the pieces it still speaks for', () => {
    const chain = new Chain();
    chain.record(partOf(1, { quantity: 3 }));
    chain.record(estimateOf(1, { massKg: 1, xM: 4 }));
    chain.record(partOf(2));
    chain.record(estimateOf(2, { massKg: 10, xM: 1 }));
    chain.record(weighingOf(1, 3.6, { pieces: [1, 2, 3] }));
    const [first] = driftsOf(chain);
    expect(first?.marginEffectKg).toBeCloseTo(-0.6, 12);
    chain.record(weighingOf(1, 1, { pieces: [2] }));
    expect(driftsOf(chain).map(({ marginEffectKg }) => Number(marginEffectKg.toFixed(9)))).toEqual([-0.4, 0]);
  });

  it('[D2] the effect on CG is the CG with the difference less the CG without it', () => {
    const figures = fc.record({
      restKg: fc.integer({ min: 50, max: 500 }),
      restM: fc.integer({ min: -3, max: 9 }),
      growthG: fc.integer({ min: -3_000, max: 3_000 }),
      armMm: fc.integer({ min: -3_000, max: 9_000 }),
    });
    const effect = fc.property(figures, ({ restKg, restM, growthG, armMm }) => {
      const [growthKg, armM] = [growthG / 1000, armMm / 1000];
      const totalKg = restKg + growthKg;
      const withM = (restKg * restM + growthKg * armM) / totalKg;
      const tally = tallyOf(toMassNg(totalKg), { x: toLengthNm(0), y: undefined, z: undefined });
      const momentNgNm = BigInt(Math.round((restKg * restM + growthKg * armM) * 1e6)) * 10n ** 15n;
      const placed = { ...tally, x: { placedNg: tally.x.placedNg, momentNgNm: momentNgNm as never } };
      const told = cgEffectM({ massKg: growthKg, momentKgM: growthKg * armM }, placed, 'x');
      expect(told).toBeCloseTo(withM - restM, 9);
      expect(told).toBeCloseTo(((armM - restM) * growthKg) / (restKg + growthKg), 9);
    });
    fc.assert(effect, { seed: 20_260_101, numRuns: 200 });
  });

  it('[D2] with no other mass placed, or no arm, there is no effect on CG to tell', () => {
    expect(cgEffectM({ massKg: 1, momentKgM: 2 }, EMPTY_TALLY, 'x')).toBeUndefined();
    const only = tallyOf(toMassNg(1), { x: toLengthNm(2), y: undefined, z: undefined });
    expect(cgEffectM({ massKg: 1, momentKgM: 2 }, only, 'x')).toBeUndefined();
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1));
    chain.record(weighingOf(1, 5));
    expect(driftsOf(chain)[0]).toMatchObject({ cgEffectM: undefined, marginEffectKg: -1 });
  });

  it('[D2] the effect on CG stays as it is when the datum moves', () => {
    const chain = new Chain();
    for (const [number, xM] of [
      [1, 5],
      [2, 1],
    ] as const) {
      chain.record(partOf(number));
      chain.record(estimateOf(number, { massKg: 10, xM }));
    }
    chain.record(weighingOf(1, 11));
    const before = driftsOf(chain)[0]?.cgEffectM;
    const cg = centreOfGravityM(predictedOf(chain.fold()), 'x');
    expect(before).toBeCloseTo((cg.ok ? cg.value : 0) - 3, 12);
    chain.record(datumOf(1.25));
    expect(driftsOf(chain)[0]?.cgEffectM).toBeCloseTo(before ?? 0, 12);
  });
});
