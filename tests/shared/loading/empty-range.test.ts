/** Between which stations the empty CG must lie (rule C2 turned round). The figures are invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allLoadings } from '#shared/loading/all-loadings.ts';
import { emptyRange } from '#shared/loading/empty-range.ts';
import { allLoadingsOfEach, cornersOf } from '#shared/loading/empty-states.ts';
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
});
