/** Ballast, and parts made lighter instead (rule C4): by hand, and at random against every smaller mass. The figures are invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allLoadings } from '#shared/loading/all-loadings.ts';
import { type BallastStation, ballastAmong, ballastAt, lighterParts } from '#shared/loading/ballast.ts';
import { caseReport } from '#shared/loading/case-report.ts';
import { leastChange, withChange } from '#shared/loading/least-change.ts';
import type { LoadingLimits } from '#shared/loading/limits.ts';
import { baggageOf, envelopeOf, limitsOf, PILOT, tankOf } from './make-limits.ts';
import { drawn } from './random-limits.ts';

const ONE = { ...PILOT, leastKg: 80, mostKg: 80 };
const UPRIGHT = envelopeOf([300, 1.9], [300, 2.1], [800, 2.1], [800, 1.9]);
const NOSE: BallastStation = { name: 'Nose', xM: 0.5 };

function taken(limits: Partial<LoadingLimits>, empty: { massKg: number; xM: number }, station = NOSE) {
  const answer = ballastAt({ limits: limitsOf({ cases: [], ...limits }) }, empty, station);
  if (!answer.ok) throw new Error(answer.refusal.code);
  return answer.value;
}

describe('by hand', () => {
  it('[C4] with upright limits it is W x (distance out)/(station - limit), and all is inside with it', () => {
    const answer = taken({ stations: [ONE], envelope: UPRIGHT, maximumKg: 800 }, { massKg: 400, xM: 2.2 });
    const cg = (400 * 2.2 + 80 * 2) / 480;
    expect(answer).toMatchObject({
      state: 'found',
      before: { all: { state: 'outside' } },
      after: { all: { state: 'inside' } },
    });
    if (answer.state !== 'found') return;
    expect(answer.massKg).toBeCloseTo((480 * (cg - 2.1)) / (2.1 - 0.5), 6);
    expect(answer.ballast).toEqual([{ station: 'Nose', xM: 0.5, massKg: answer.massKg }]);
    expect(answer.after.empty.massKg).toBeCloseTo(400 + answer.massKg, 9);
  });

  it('[C4] a tail-heavy one is cured in front and a nose-heavy one behind; the wrong side is refused', () => {
    const limits = limitsOf({ stations: [ONE], envelope: UPRIGHT, maximumKg: 800, cases: [] });
    const tail = { name: 'Tail', xM: 5 };
    const aftHeavy = { massKg: 400, xM: 2.2 };
    const noseHeavy = { massKg: 400, xM: 1.8 };
    expect(ballastAt({ limits }, aftHeavy, tail)).toMatchObject({ ok: false, refusal: { code: 'ballast-on-wrong-side', stationM: 5, toM: 2.1, way: 'forward' } }); // biome-ignore format: one line
    expect(ballastAt({ limits }, noseHeavy, NOSE)).toMatchObject({ ok: false, refusal: { stationM: 0.5, toM: 1.9, way: 'aft' } }); // biome-ignore format: one line
    expect(ballastAt({ limits }, noseHeavy, tail)).toMatchObject({ ok: true, value: { state: 'found' } });
  });

  it('[C4] along a sloped limit it is not what the upright formula gives', () => {
    const sloped = envelopeOf([300, 1.8], [300, 2.3], [800, 2.3], [800, 2.15]);
    const answer = taken(
      { stations: [ONE], envelope: sloped, maximumKg: 800 },
      { massKg: 500, xM: 1.93 },
      { name: 'Tail', xM: 5 },
    );
    if (answer.state !== 'found') throw new Error(answer.state);
    // (1125 + 5 t) = (580 + t)(1.8 + 0.0007 (280 + t))
    const [a, b, c] = [0.0007, 1.8 + 0.0007 * 860 - 5, 580 * (1.8 + 0.0007 * 280) - 1125];
    expect(answer.massKg).toBeCloseTo((-b - Math.sqrt(b * b - 4 * a * c)) / (2 * a), 6);
    const cg = 1125 / 580;
    const upright = (580 * (1.8 + 0.0007 * 280 - cg)) / (5 - (1.8 + 0.0007 * 280));
    expect(answer.massKg / upright).toBeGreaterThan(1.01);
  });

  it('[C4] none is needed where all is inside already', () => {
    expect(taken({ stations: [ONE], envelope: UPRIGHT, maximumKg: 800 }, { massKg: 400, xM: 2 }).state).toBe(
      'not needed',
    );
  });

  it('[C4] a place that holds too little, a maximum weight that is met before, and ballast that breaks the other limit are no cure', () => {
    const aftHeavy = { massKg: 400, xM: 2.2 };
    const wide = { stations: [ONE], envelope: UPRIGHT, maximumKg: 800 };
    expect(taken(wide, aftHeavy, { ...NOSE, mostKg: 10 })).toMatchObject({
      state: 'none',
      why: 'not enough',
      out: { way: 'aft' },
    });
    expect(taken(wide, aftHeavy, { ...NOSE, mostKg: 23 }).state).toBe('found');
    expect(taken({ ...wide, maximumKg: 490 }, aftHeavy)).toMatchObject({ state: 'none', why: 'maximum weight' });
    const both = [{ ...PILOT, xM: 1.6, leastKg: 55, mostKg: 110 }];
    const narrow = envelopeOf([300, 2.05], [300, 2.1], [800, 2.1], [800, 2.05]);
    expect(taken({ ...wide, stations: both, envelope: narrow }, aftHeavy)).toMatchObject({ state: 'none' });
  });

  it('[C4] too light for the envelope is cured by what is missing, wherever it lies', () => {
    const answer = taken({ stations: [ONE], envelope: envelopeOf([500, 1.5], [500, 2.5], [800, 2.5], [800, 1.5]), maximumKg: 800 }, { massKg: 400, xM: 2 }); // biome-ignore format: one line
    expect(answer).toMatchObject({ state: 'found', massKg: expect.closeTo(20, 6) });
  });

  it('[C4] for one case it is the ballast of that case, over all of its burn', () => {
    const stations = [ONE, tankOf('Tank', 1.6)];
    const loads = [
      { station: 'Pilot', massKg: 80 },
      { station: 'Tank', quantityL: 100 },
    ];
    const one = { name: 'A', loads, burn: [{ tank: 'Tank', quantityL: 60 }] };
    const limits = limitsOf({ stations, envelope: UPRIGHT, maximumKg: 800, cases: [one] });
    const empty = { massKg: 400, xM: 2.2 };
    const answer = ballastAt({ limits }, empty, NOSE, one);
    if (!answer.ok || answer.value.state !== 'found') throw new Error('no ballast');
    // At landing 40 L are left, which is when it is worst.
    const [massKg, momentKgM] = [480 + 28.8, 400 * 2.2 + 80 * 2 + 28.8 * 1.6];
    expect(answer.value.massKg).toBeCloseTo((momentKgM - massKg * 2.1) / 1.6, 6);
    expect(answer.value.after.one?.state).toBe('inside');
    expect(answer.value.after.all.state).toBe('outside');
    expect(ballastAt({ limits: { ...limits, maximumKg: 500 } }, empty, NOSE, one)).toMatchObject({ value: { state: 'none', why: 'maximum weight' } }); // biome-ignore format: one line
  });

  it('[C4] of several stations the one that needs least; where none is enough, the farthest is filled first', () => {
    const limits = limitsOf({ stations: [ONE], envelope: UPRIGHT, maximumKg: 800, cases: [] });
    const empty = { massKg: 400, xM: 2.2 };
    const firewall = { name: 'Firewall', xM: 1.3 };
    const among = (...stations: BallastStation[]) => {
      const answer = ballastAmong({ limits }, empty, stations);
      if (!answer.ok || answer.value.state !== 'found') throw new Error('no ballast');
      return answer.value;
    };
    const tail = { name: 'Tail', xM: 5 };
    expect(among(firewall, NOSE, tail).ballast.map(({ station }) => station)).toEqual(['Nose']);
    const { ballast, after } = among({ ...firewall, mostKg: 30 }, { ...NOSE, mostKg: 10 }, tail);
    // 480 (cg - 2.1) = 32 kg m: 10 kg take 16, the rest at 0.8 m takes 20 kg.
    expect(ballast).toEqual([
      { station: 'Nose', xM: 0.5, massKg: 10 },
      { station: 'Firewall', xM: 1.3, massKg: expect.closeTo(20, 6) },
    ]);
    expect(after.all.state).toBe('inside');
    expect(ballastAmong({ limits }, empty, [{ ...NOSE, mostKg: 10 }, { ...firewall, mostKg: 10 }])).toMatchObject({ value: { state: 'none', why: 'not enough' } }); // biome-ignore format: one line
    expect(ballastAmong({ limits }, empty, [tail])).toMatchObject({
      ok: false,
      refusal: { code: 'ballast-on-wrong-side' },
    });
    expect(ballastAmong({ limits }, empty, [])).toMatchObject({ value: { state: 'none', why: 'not enough' } });
  });

  it('[C4] it is told how much lighter each part would have to be instead, and of which no lightness is enough', () => {
    const limits = limitsOf({ stations: [ONE], envelope: UPRIGHT, maximumKg: 800, cases: [] });
    const parts = [
      { id: 'tail', massKg: 30, xM: 5.3 },
      { id: 'fin', massKg: 5, xM: 5.3 },
      { id: 'engine', massKg: 80, xM: 0.4 },
    ];
    expect(lighterParts({ limits }, { massKg: 400, xM: 2.2 }, parts)).toEqual([
      { id: 'tail', lighterKg: expect.closeTo(32 / 3.2, 6) },
      { id: 'fin', lighterKg: undefined },
      { id: 'engine', lighterKg: undefined },
    ]);
  });

  it('[C4] what ballast beside the middle does across is held against the range of butt lines', () => {
    const limits = {
      ...{ stations: [{ ...ONE, yM: 0 }], envelope: UPRIGHT, maximumKg: 800 },
      lateral: { leftM: -0.02, rightM: 0.02 },
    };
    const empty = { massKg: 400, xM: 2.2, yM: 0.01 };
    for (const yM of [0, -0.1, -0.8]) {
      const answer = taken(limits, empty, { ...NOSE, yM });
      if (answer.state !== 'found') throw new Error(answer.state);
      const { massKg, ballast, before, after } = answer;
      expect(ballast).toEqual([{ station: 'Nose', xM: 0.5, yM, massKg }]);
      // The pilot lies in the middle.
      const acrossM = (400 * 0.01 + massKg * yM) / (480 + massKg);
      const { all } = after;
      if (all.state === 'nothing permitted') throw new Error(all.state);
      expect(all.lateral?.leftOutM).toBeCloseTo(-0.02 - acrossM, 12);
      expect(all.lateral?.rightOutM).toBeCloseTo(acrossM - 0.02, 12);
      expect(before.all).toMatchObject({ lateral: { isOutside: false } });
      expect(all.state).toBe(acrossM < -0.02 ? 'outside' : 'inside');
    }
    expect(taken(limits, empty, { ...NOSE, yM: -0.8 })).toMatchObject({ after: { all: { state: 'outside' } } });
  });

  it('[C4] the butt line goes with the ballast', () => {
    const changed = withChange({ massKg: 400, xM: 2, yM: 0.01 }, { way: 1, xM: 1, yM: -0.4 }, 10);
    expect(changed).toMatchObject({ massKg: 410, yM: expect.closeTo(0, 12) });
    expect(withChange({ massKg: 400, xM: 2, yM: 0.01 }, { way: 1, xM: 1 }, 10).yM).toBe(0.01);
  });
});

describe('at random', () => {
  const place = fc.integer({ min: -100, max: 600 }).map((cm) => cm / 100);

  it('[C4] with the ballast every loading is inside, and with any less of it, a tenth of a per cent less too, one is outside', () => {
    const count = { found: 0, none: 0, most: 0 };
    fc.assert(
      fc.property(drawn, place, fc.constantFrom(1, -1), ({ limits, empty }, xM, way) => {
        const change = { way: way as 1 | -1, xM, mostKg: way === 1 ? 300 : 60 };
        const answer = leastChange({ limits }, empty, change);
        const stateWith = (massKg: number) => allLoadings({ limits }, withChange(empty, change, massKg)).state;
        if (answer.state === 'none') {
          count.none += 1;
          for (let at = 0; at <= 12; at += 1) expect(stateWith((change.mostKg * at) / 12)).not.toBe('inside');
          return;
        }
        const { massKg, steps } = answer;
        count.most = Math.max(count.most, steps);
        expect(stateWith(massKg)).toBe('inside');
        if (massKg < 0.01) return;
        count.found += 1;
        for (const share of [0, 0.25, 0.5, 0.75, 0.9, 0.99, 0.999])
          expect(stateWith(massKg * share)).not.toBe('inside');
      }),
      { numRuns: 1000, seed: 20261130 },
    );
    expect([count.found > 50, count.none > 100]).toEqual([true, true]);
    expect(count.most).toBeLessThan(100);
  });

  it('[C4] the same for one case', () => {
    let found = 0;
    fc.assert(
      fc.property(drawn, place, ({ limits, empty }, xM) => {
        const loads = limits.stations.map((one) => (one.what === 'tank' ? { station: one.name, quantityL: one.usableL } : { station: one.name, massKg: one.mostKg })); // biome-ignore format: one line
        const burn = limits.stations.flatMap((one) => (one.what === 'tank' ? [{ tank: one.name, quantityL: one.usableL - (one.leastL ?? 0) }] : [])); // biome-ignore format: one line
        const one = { name: 'Full', loads, burn };
        const roomy = { ...limits, maximumKg: 2000, zeroFuelMaximumKg: undefined };
        const change = { way: 1, xM, mostKg: 300 } as const;
        const answer = leastChange({ limits: roomy }, empty, change, one);
        const stateWith = (massKg: number) =>
          caseReport({ limits: roomy }, one, withChange(empty, change, massKg)).state;
        if (answer.state === 'none') {
          for (let at = 0; at <= 12; at += 1) expect(stateWith(25 * at)).toBe('outside');
        } else {
          expect(stateWith(answer.massKg)).toBe('inside');
          if (answer.massKg < 0.01) return;
          found += 1;
          for (const share of [0, 0.5, 0.9, 0.999]) expect(stateWith(answer.massKg * share)).toBe('outside');
        }
      }),
      { numRuns: 500, seed: 20261130 },
    );
    expect(found).toBeGreaterThan(10);
  });

  it('[C4] a mass put on never lets a maximum be passed', () => {
    const stations = [ONE, baggageOf('Hold', 4, 60)];
    const limits = limitsOf({ stations, envelope: UPRIGHT, maximumKg: 540, cases: [] });
    const answer = ballastAt({ limits }, { massKg: 400, xM: 2 }, NOSE);
    if (!answer.ok || answer.value.state !== 'found') throw new Error('no ballast');
    const { all } = answer.value.after;
    expect(all.state === 'inside' && all.heaviest.massKg).toBeCloseTo(540, 6);
    // The hold gives way to the ballast: (800 + 160 + 4 (60 - t) + 0.5 t) = 2.1 x 540.
    expect(answer.value.massKg).toBeCloseTo((960 + 240 - 2.1 * 540) / 3.5, 6);
  });
});
