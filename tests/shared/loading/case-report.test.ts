/** A loading case from start to landing (rules C3, C5): by hand, and against a walk in small steps. The figures are invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BurnPoint, caseReport } from '#shared/loading/case-report.ts';
import type { EmptyState, LoadingCase, LoadingLimits } from '#shared/loading/limits.ts';
import { refusalsOfLimits } from '#shared/loading/refusals.ts';
import { caseText } from '#shared/loading/say.ts';
import { envelopeOf, limitsOf, PILOT, tankOf } from './make-limits.ts';
import { drawn, limitsPlainly, plainly } from './random-limits.ts';

const SHARE = fc.integer({ min: 0, max: 1000 }).map((whole) => whole / 1000);
const EMPTY = { massKg: 350, xM: 2.15 };
const BOX = envelopeOf([300, 2], [300, 2.2], [700, 2.2], [700, 2]);

function reportOf(changes: Partial<LoadingLimits>, empty: EmptyState = EMPTY) {
  const limits = limitsOf(changes);
  const [one] = limits.cases;
  if (one === undefined) throw new Error('no case');
  return caseReport({ limits }, one, empty);
}

describe('by hand', () => {
  it('[C3] start, burn and landing are those of the loads, and inside is said', () => {
    const report = reportOf({ envelope: envelopeOf([300, 1.5], [300, 2.5], [700, 2.5], [700, 1.5]) });
    expect(report).toMatchObject({ name: 'Two up', state: 'inside', stretches: [], above: [] });
    const dry = 350 * 2.15 + 80 * 2 + 75 * 2.1;
    expect(report.start.massKg).toBeCloseTo(505 + 64.8, 9);
    expect(report.start.xM).toBeCloseTo((dry + 64.8 * 2.3) / 569.8, 12);
    expect(report.landing.massKg).toBeCloseTo(505 + 21.6, 9);
    expect(report.landing.xM).toBeCloseTo((dry + 21.6 * 2.3) / 526.6, 12);
    expect(report.withoutFuel.xM).toBeCloseTo(dry / 505, 12);
    expect(report.points[0]).toEqual({ massKg: report.start.massKg, xM: report.start.xM, burntL: 0 });
    expect(report.points.at(-1)).toEqual({
      massKg: expect.closeTo(report.landing.massKg, 9),
      xM: expect.closeTo(report.landing.xM, 9),
      burntL: expect.closeTo(60, 9),
    });
  });

  it('[C3] a case that passes the range of butt lines while one wing is emptied is outside, though start and landing are inside', () => {
    const wing = (name: string, yM: number) => ({ ...tankOf(name, 2.1, { densityKgPerL: 1 }), yM });
    const stations = [{ ...PILOT, yM: 0 }, wing('Left', -2), wing('Right', 2)];
    const loads = [
      { station: 'Pilot', massKg: 80 },
      { station: 'Left', quantityL: 40 },
      { station: 'Right', quantityL: 40 },
    ];
    const burn = [
      { tank: 'Left', quantityL: 40 },
      { tank: 'Right', quantityL: 40 },
    ];
    const of = (rightM: number, empty: EmptyState = { ...EMPTY, yM: 0 }) =>
      reportOf(
        { stations, lateral: { leftM: -0.1, rightM }, cases: [{ name: 'A', loads, burn }], envelope: BOX },
        empty,
      );
    // 40 kg at 2 m on 470 kg.
    const yM = 80 / 470;
    expect(of(0.1)).toMatchObject({
      state: 'outside',
      stretches: [],
      across: { side: 'right', massKg: 470, yM: expect.closeTo(yM, 9), limitM: 0.1, outM: expect.closeTo(yM - 0.1, 9) },
    });
    expect(of(0.2)).toMatchObject({ state: 'inside', across: undefined });
    // Nothing is said across of an aircraft whose empty CG is not known there.
    expect(of(0.1, EMPTY)).toMatchObject({ state: 'inside', across: undefined });
  });

  it('[C3] tanks are emptied in the order of the burn, along their tables', () => {
    const arm = [
      { quantityL: 0, xM: 2 },
      { quantityL: 40, xM: 3 },
      { quantityL: 80, xM: 2.5 },
    ];
    const stations = [PILOT, tankOf('Front', 1, { densityKgPerL: 1 }), tankOf('Rear', arm, { densityKgPerL: 1 })];
    const loads = [
      { station: 'Pilot', massKg: 80 },
      { station: 'Front', quantityL: 20 },
      { station: 'Rear', quantityL: 60 },
    ];
    const burn = [
      { tank: 'rear', quantityL: 50 },
      { tank: 'Front', quantityL: 20 },
      { tank: 'Rear', quantityL: 10 },
    ];
    const { pieces, landing } = reportOf({ stations, cases: [{ name: 'A', loads, burn }] });
    expect(pieces.map(({ tank, fromKg, toKg, burntBeforeL }) => [tank, fromKg, toKg, burntBeforeL])).toEqual([
      ['Rear', 510, 490, 0],
      ['Rear', 490, 460, 20],
      ['Front', 460, 440, 50],
      ['Rear', 440, 430, 70],
    ]);
    expect(landing.xM).toBeCloseTo((350 * 2.15 + 160) / 430, 12);
  });

  it('[C5] where a limit is crossed in flight, and how far, is told from litre to litre', () => {
    const stations = [PILOT, tankOf('Tank', 1.5, { densityKgPerL: 1 })];
    const loads = [
      { station: 'Pilot', massKg: 100 },
      { station: 'Tank', quantityL: 100 },
    ];
    const cases = [{ name: 'A', loads, burn: [{ tank: 'Tank', quantityL: 100 }] }];
    const report = reportOf({
      stations,
      cases,
      envelope: envelopeOf([300, 2.05], [300, 2.5], [700, 2.5], [700, 2.05]),
    });
    // (952.5 + 1.5 t)/(450 + t) = 2.05 at t = 30/0.55.
    const crossing = 30 / 0.55;
    expect(report.state).toBe('outside');
    expect(report.stretches).toHaveLength(1);
    const [stretch] = report.stretches;
    expect(stretch?.from.burntL).toBe(0);
    expect(stretch?.to.burntL).toBeCloseTo(100 - crossing, 9);
    expect(stretch?.worst).toMatchObject({ way: 'forward', limitM: 2.05, massKg: 550 });
    expect(stretch?.worst.outM).toBeCloseTo(2.05 - (952.5 + 150) / 550, 12);
  });

  it('[C5] a case may be inside at start and landing and outside between', () => {
    const arm = [
      { quantityL: 0, xM: 2.1 },
      { quantityL: 50, xM: 2.7 },
      { quantityL: 100, xM: 2.1 },
    ];
    const stations = [PILOT, tankOf('Tank', arm, { densityKgPerL: 1 })];
    const loads = [
      { station: 'Pilot', massKg: 100 },
      { station: 'Tank', quantityL: 100 },
    ];
    const cases = [{ name: 'A', loads, burn: [{ tank: 'Tank', quantityL: 100 }] }];
    const { start, landing, stretches } = reportOf({ stations, cases, envelope: envelopeOf([300, 2], [300, 2.15], [700, 2.15], [700, 2]) }); // biome-ignore format: one line
    expect([start.xM, landing.xM].every((xM) => xM < 2.15)).toBe(true);
    expect(stretches).toHaveLength(1);
    expect(stretches[0]?.from.burntL).toBeGreaterThan(0);
    expect(stretches[0]?.to.burntL).toBeLessThan(100);
    expect(stretches[0]?.worst.way).toBe('aft');
  });

  it('[C5] passing the maximum weight, the zero-fuel maximum or the landing maximum is told by how much', () => {
    const changes = { maximumKg: 560, zeroFuelMaximumKg: 500, landingMaximumKg: 520, envelope: BOX };
    const report = reportOf(changes);
    expect(report.state).toBe('outside');
    expect(report.above).toEqual([
      { what: 'maximum weight', massKg: expect.closeTo(569.8, 9), aboveKg: expect.closeTo(9.8, 9) },
      { what: 'zero-fuel maximum', massKg: 505, aboveKg: 5 },
      { what: 'landing maximum', massKg: expect.closeTo(526.6, 9), aboveKg: expect.closeTo(6.6, 9) },
    ]);
    expect(reportOf({ ...changes, maximumKg: 569.8, zeroFuelMaximumKg: 505, landingMaximumKg: 526.6 }).above).toEqual(
      [],
    );
  });

  it('[C5] a case that burns nothing is one point, outside by its mass where it is too heavy for the envelope', () => {
    const cases = [{ name: 'A', loads: [{ station: 'Pilot', massKg: 80 }], burn: [] }];
    const report = reportOf({ cases, envelope: envelopeOf([300, 1], [300, 3], [400, 3], [400, 1]) });
    expect(report.points).toHaveLength(1);
    expect(report.stretches).toMatchObject([{ worst: { way: 'too heavy', outKg: expect.closeTo(30, 9) } }]);
  });

  it('[C5] too heavy at a station at which no mass is inside is told without a figure, never as 0', () => {
    const units = { mass: 'kg', length: 'm' } as const;
    const loads = [
      { station: 'Pilot', massKg: 80 },
      { station: 'Wing tanks', quantityL: 100 },
    ];
    const burn = [{ tank: 'Wing tanks', quantityL: 90 }];
    const box = envelopeOf([300, 1], [300, 2.14], [450, 2.14], [450, 1]);
    const words = (changes: Partial<LoadingLimits>) => {
      // As the door sends it.
      const sent: Parameters<typeof caseText>[0] = JSON.parse(JSON.stringify(reportOf({ envelope: box, ...changes })));
      return caseText(sent, units);
    };
    // By hand: the start is 502 kg at 2.1476 m, the landing 437.2 kg at 2.1250 m, which is inside.
    expect(words({ cases: [{ name: 'A', loads, burn }] })).toMatch(
      /^outside: too heavy for the envelope at worst, between 502 kg and 4\d\d(\.\d)? kg$/,
    );
    expect(words({ cases: [{ name: 'A', loads, burn: [] }] })).toBe('outside: too heavy for the envelope at 502 kg');
  });
});

describe('at random', () => {
  it('[C5] a walk through the burn in small steps is outside where the report says so, and nowhere else', () => {
    let outside = 0;
    fc.assert(
      fc.property(drawn, fc.array(SHARE, { minLength: 12, maxLength: 12 }), (random, shares) => {
        const { limits, empty } = random;
        const one = caseOf(limits, shares);
        expect(refusalsOfLimits({ ...limits, cases: [one] }, { hasChord: false })).toEqual([]);
        const { stretches, points } = caseReport({ limits }, one, empty);
        for (const walked of walk(limits, one, empty)) {
          const at = limitsPlainly(limits.envelope, walked.massKg);
          const depth = at === undefined ? 1 : Math.max(at[0] - walked.xM, walked.xM - at[1]);
          const isTold = stretches.some(
            ({ from, to }) => walked.massKg <= from.massKg + 1e-6 && walked.massKg >= to.massKg - 1e-6,
          );
          if (depth > 1e-6) expect({ walked, depth, isTold }).toMatchObject({ isTold: true });
          const isDeepInside = at !== undefined && at[0] - walked.xM < -1e-4 && walked.xM - at[1] < -1e-4;
          if (isTold && isDeepInside) expect(isAtAnEnd(walked, stretches)).toBe(true);
          outside += depth > 1e-6 ? 1 : 0;
        }
        expect(points.every(({ xM }) => Number.isFinite(xM))).toBe(true);
      }),
      { numRuns: 300, seed: 20261130 },
    );
    expect(outside).toBeGreaterThan(500);
  });
});

function isAtAnEnd({ massKg }: { massKg: number }, stretches: readonly { from: BurnPoint; to: BurnPoint }[]): boolean {
  return stretches.some(({ from, to }) => Math.min(from.massKg - massKg, massKg - to.massKg) < 0.2);
}

/** Loads within the bounds of the stations, and from every tank some of what it may give, in two rounds. */
function caseOf({ stations }: LoadingLimits, shares: readonly number[]): LoadingCase {
  const share = (at: number) => shares[at % shares.length] ?? 0;
  const loads = stations.map((one, at) => {
    const within = (least: number, most: number) => least + (most - least) * share(at);
    if (one.what === 'tank') return { station: one.name, quantityL: within(one.leastL ?? 0, one.usableL) };
    return { station: one.name, massKg: within(one.what === 'seat' ? one.leastKg : 0, one.mostKg) };
  });
  const round = stations.flatMap((one, at) => {
    if (one.what !== 'tank') return [];
    const load = loads[at];
    const spareL = load !== undefined && 'quantityL' in load ? (load.quantityL ?? 0) - (one.leastL ?? 0) : 0;
    return [{ tank: one.name, quantityL: Math.max(0, spareL) * share(at + 6) * 0.5 }];
  });
  return { name: 'Drawn', loads, burn: [...round, ...round] };
}

function* walk(limits: LoadingLimits, { loads, burn }: LoadingCase, empty: EmptyState) {
  const amounts = loads.map((load) => ('quantityL' in load ? load.quantityL : load.massKg));
  yield plainly({ limits, empty }, amounts);
  for (const { tank, quantityL } of burn) {
    const at = loads.findIndex(({ station }) => station === tank);
    const fromL = amounts[at] ?? 0;
    for (let step = 1; step <= 40; step += 1) {
      amounts[at] = fromL - (quantityL * step) / 40;
      yield plainly({ limits, empty }, amounts);
    }
  }
}
