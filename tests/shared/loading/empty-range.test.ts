/** Between which stations the empty CG must lie (rule C2 turned round). The figures are invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allLoadings } from '#shared/loading/all-loadings.ts';
import { emptyRange } from '#shared/loading/empty-range.ts';
import { allLoadingsOfEach, bandLoadings, cornersOf } from '#shared/loading/empty-states.ts';
import { baggageOf, envelopeOf, limitsOf, PILOT } from './make-limits.ts';
import { drawn } from './random-limits.ts';

describe('the range of the empty CG', () => {
  it('[C2] follows from the limits and the loadings that come to them', () => {
    const limits = limitsOf({
      stations: [{ ...PILOT, xM: 1.5 }, baggageOf('Hold', 3, 40)],
      envelope: envelopeOf([300, 2], [300, 2.4], [700, 2.4], [700, 2]),
      cases: [],
    });
    const range = emptyRange({ limits }, 400);
    if (range.state !== 'range') throw new Error(range.why);
    expect(range.forward.xM).toBeCloseTo((510 * 2 - 110 * 1.5) / 400, 9);
    expect(range.forward.loaded).toMatchObject({ massKg: 510, loads: [{ station: 'Pilot', massKg: 110 }] });
    expect(range.aft.xM).toBeCloseTo((495 * 2.4 - 55 * 1.5 - 40 * 3) / 400, 9);
    expect(range.aft.loaded.loads.map(({ massKg }) => massKg)).toEqual([55, 40]);
    expect(range.aft.loaded.xM).toBeCloseTo(2.4, 9);
  });

  it('[C2] there is none where the limits are too close for the loadings, or a mass is outside, or nothing is permitted', () => {
    const stations = [PILOT, baggageOf('Hold', 6, 100)];
    const narrow = limitsOf({ stations, envelope: envelopeOf([300, 2], [300, 2.1], [700, 2.1], [700, 2]), cases: [] });
    expect(emptyRange({ limits: narrow }, 400)).toMatchObject({ state: 'none', why: 'limits too close' });
    const high = limitsOf({ envelope: envelopeOf([500, 2], [500, 2.4], [700, 2.4], [700, 2]), cases: [] });
    expect(emptyRange({ limits: high }, 400)).toMatchObject({ why: 'too light', massKg: 455, limitKg: 500 });
    const low = limitsOf({ envelope: envelopeOf([300, 2], [300, 2.4], [600, 2.4], [600, 2]), cases: [] });
    expect(emptyRange({ limits: low }, 400)).toMatchObject({ why: 'too heavy', massKg: 650, limitKg: 600 });
    expect(emptyRange({ limits: limitsOf() }, 600)).toEqual({ state: 'none', why: 'nothing permitted' });
  });

  it('[C2] just inside the range every loading is inside, and just outside of it one is not', () => {
    let [ranges, none] = [0, 0];
    fc.assert(
      fc.property(drawn, ({ limits, empty: { massKg } }) => {
        const range = emptyRange({ limits }, massKg);
        const stateAt = (xM: number) => allLoadings({ limits }, { massKg, xM }).state;
        if (range.state === 'none') {
          none += 1;
          if (range.why === 'nothing permitted') return;
          const middle = range.why === 'limits too close' ? (range.forward.xM + range.aft.xM) / 2 : 2;
          expect([middle - 0.05, middle, middle + 0.05].map(stateAt)).toEqual(['outside', 'outside', 'outside']);
          return;
        }
        ranges += 1;
        const { forward, aft } = range;
        const into = Math.min(1e-6, (aft.xM - forward.xM) / 4);
        expect([forward.xM + into, (forward.xM + aft.xM) / 2, aft.xM - into].map(stateAt)).toEqual(['inside', 'inside', 'inside']); // biome-ignore format: one line
        expect([forward.xM - 1e-5, aft.xM + 1e-5].map(stateAt)).toEqual(['outside', 'outside']);
      }),
      { numRuns: 600, seed: 20261130 },
    );
    expect([ranges > 30, none > 30]).toEqual([true, true]);
  });
});

describe('several empty aircraft', () => {
  it('[C2] the corners of a band are held against the limits by name, each as by itself', () => {
    const limits = limitsOf({ envelope: envelopeOf([300, 2.05], [300, 2.3], [700, 2.3], [700, 2.05]), cases: [] });
    const corners = cornersOf({ lowKg: 340, highKg: 360, forwardM: 2.1, aftM: 2.25 });
    const each = allLoadingsOfEach({ limits }, [{ name: 'today', massKg: 350, xM: 2.15 }, ...corners]);
    expect(each.map(({ empty }) => empty.name)).toEqual(['today', 'light and forward', 'light and aft', 'heavy and forward', 'heavy and aft']); // biome-ignore format: one line
    for (const { empty, all } of each) expect(all).toEqual(allLoadings({ limits }, empty));
    expect(new Set(corners.map(({ massKg, xM }) => `${massKg} ${xM}`)).size).toBe(4);
  });

  it('[C2] a band may be inside at its corners and outside between them', () => {
    const stations = [{ ...PILOT, leastKg: 80, mostKg: 80 }];
    const dented = envelopeOf([300, 1.9], [300, 2.3], [480, 2.1], [700, 2.3], [700, 1.9]);
    const limits = limitsOf({ stations, envelope: dented, cases: [] });
    const band = { lowKg: 350, highKg: 450, forwardM: 2, aftM: 2.15 };
    expect(allLoadingsOfEach({ limits }, cornersOf(band)).map(({ all }) => all.state)).toEqual(Array(4).fill('inside'));
    const { state, worst } = bandLoadings({ limits }, band);
    expect(state).toBe('outside');
    const aft = worst.filter(({ way, isOutside }) => way === 'aft' && isOutside);
    expect(aft.map(({ empty }) => empty)).toEqual([
      { massKg: 400, xM: 2.15 },
      { massKg: 400, xM: 2.15 },
    ]);
    expect(aft[0]?.outM).toBeCloseTo((400 * 2.15 + 160) / 480 - 2.1, 9);
  });

  it('[C2] no empty aircraft of a band is worse than the worst of the band, and that is one of them', () => {
    const far = fc.record({ kg: fc.integer({ min: 0, max: 40 }), cm: fc.integer({ min: 0, max: 10 }) });
    fc.assert(
      fc.property(drawn, far, ({ limits, empty }, { kg, cm }) => {
        const band = { lowKg: empty.massKg, highKg: empty.massKg + kg, forwardM: empty.xM - cm / 100, aftM: empty.xM };
        const { state, worst } = bandLoadings({ limits }, band);
        const outM = new Map(worst.map((one) => [`${one.way} ${one.side}`, one.outM ?? Math.abs(one.outKg ?? 0)]));
        for (const one of worst) {
          const again = allLoadings({ limits }, one.empty);
          const same = again.state === 'nothing permitted' ? undefined : again.worst.find(({ way, side }) => way === one.way && side === one.side); // biome-ignore format: one line
          expect(same?.outM ?? 0).toBeCloseTo(one.outM ?? 0, 6);
        }
        for (let at = 0; at <= 6; at += 1) {
          const massKg = band.lowKg + (kg * at) / 6;
          for (const xM of [band.forwardM, band.aftM]) {
            const all = allLoadings({ limits }, { massKg, xM });
            if (all.state === 'nothing permitted') continue;
            if (all.state === 'outside') expect(state).toBe('outside');
            for (const { way, side, outM: isM } of all.worst)
              if (isM !== undefined) expect(isM).toBeLessThanOrEqual((outM.get(`${way} ${side}`) ?? -Infinity) + 2e-6);
          }
        }
      }),
      { numRuns: 200, seed: 20261130 },
    );
  });
});
