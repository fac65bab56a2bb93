/** All permitted loadings against the envelope (rules C2, C5): worked examples, and the search held against a grid. The figures are invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AllLoadings, allLoadings, type Worst } from '#shared/loading/all-loadings.ts';
import { isReadable } from '#shared/loading/envelope.ts';
import type { Loaded } from '#shared/loading/loaded.ts';
import { refusalsOfLimits } from '#shared/loading/refusals.ts';
import { baggageOf, envelopeOf, limitsOf, PILOT, seatOf, tankOf } from './make-limits.ts';
import { type Drawn, drawn, gridOf, isPermitted, limitsPlainly, plainly } from './random-limits.ts';

type Answer = Exclude<AllLoadings, { state: 'nothing permitted' }>;

function answerOf({ limits, empty }: Drawn): Answer {
  const answer = allLoadings({ limits }, empty);
  if (answer.state === 'nothing permitted') throw new Error('nothing is permitted');
  return answer;
}

const listOf = ({ loads }: Loaded) =>
  Object.fromEntries(loads.map((one) => [one.station, one.quantityL ?? one.massKg]));
const at = (answer: Answer, way: Worst['way']) => answer.worst.filter((one) => one.way === way);

const TALL = envelopeOf([300, 1.9], [300, 2.3], [700, 2.3], [700, 1.9]);

describe('by hand', () => {
  it('[C2] with a sloped forward limit the worst loading is not the one of extreme CG: inside at 482 kg, outside at 537', () => {
    const limits = limitsOf({
      stations: [seatOf('Pilot', 1.9, { isPilot: true, leastKg: 82, mostKg: 82 }), baggageOf('Hold', 2.01, 55)],
      maximumKg: 537,
      envelope: envelopeOf([400, 1.9], [400, 2.3], [600, 2.3], [600, 2.05]),
      cases: [],
    });
    const answer = answerOf({ limits, empty: { massKg: 400, xM: 2 } });
    expect(answer.mostForward).toMatchObject({ massKg: 482, loads: [{ station: 'Pilot' }] });
    expect(answer.mostForward.xM).toBeCloseTo((400 * 2 + 82 * 1.9) / 482, 12);
    const [forward] = at(answer, 'forward');
    expect(forward).toMatchObject({ isOutside: true, side: 4, loaded: { massKg: 537 } });
    const xM = (400 * 2 + 82 * 1.9 + 55 * 2.01) / 537;
    const limitM = 1.9 + (0.15 / 200) * 137;
    expect(forward?.outM).toBeCloseTo(limitM - xM, 12);
    expect(forward?.outKg).toBeCloseTo(537 - (400 + ((xM - 1.9) / 0.15) * 200), 9);
    expect(1.9 + (0.15 / 200) * 82).toBeLessThan(answer.mostForward.xM);
    expect(answer.worstOfAll).toEqual(forward);
  });

  it('[C2] the worst may lie between two masses that are inside', () => {
    const limits = limitsOf({
      stations: [{ ...PILOT, leastKg: 60, mostKg: 60 }, baggageOf('Hold', 2.6, 200)],
      envelope: envelopeOf([300, 1.7], [300, 1.94], [620, 2.23], [620, 1.7]),
      maximumKg: 620,
      cases: [],
    });
    const answer = answerOf({ limits, empty: { massKg: 360, xM: 2.05 } });
    const [aft] = at(answer, 'aft');
    // (858 + 2.6 (m - 420))/m grows less and less, the limit by 0.29/320 a kilogram: the farthest where m² = 234/(0.29/320).
    expect(aft?.isOutside).toBe(true);
    expect((858 + 0) / 420).toBeLessThan(1.94 + (0.29 / 320) * 120);
    expect((858 + 2.6 * 200) / 620).toBeLessThan(2.23);
    expect(aft?.loaded.massKg).toBeCloseTo(Math.sqrt(234 / (0.29 / 320)), 6);
  });

  it('[C2] most aft and most forward fill by arm, up to the maximum weight and no further', () => {
    const limits = limitsOf({
      stations: [PILOT, seatOf('Front', 1.9), seatOf('Rear', 2.8), baggageOf('Hold', 3.4, 40), tankOf('Tank', 2.2)],
      maximumKg: 500,
      envelope: TALL,
      cases: [],
    });
    const answer = answerOf({ limits, empty: { massKg: 350, xM: 2.1 } });
    // The pilot as light as may be, the hold full, and 55 of 150 kg left, which the lightest person on the rear seat just fills.
    expect(listOf(answer.mostAft)).toEqual({ Pilot: 55, Hold: 40, Rear: expect.closeTo(55, 9) });
    expect(answer.mostAft.massKg).toBeCloseTo(500, 9);
    expect(listOf(answer.mostForward)).toEqual({ Pilot: 55, Front: expect.closeTo(95, 9) });
  });

  it('[C2] a zero-fuel maximum keeps people and baggage down and lets fuel in', () => {
    const limits = limitsOf({
      stations: [PILOT, baggageOf('Hold', 3, 100), tankOf('Tank', 2.2)],
      envelope: TALL,
      cases: [],
    });
    const empty = { massKg: 350, xM: 2.1 };
    const free = answerOf({ limits, empty });
    expect(listOf(free.mostAft)).toEqual({ Pilot: 55, Hold: 100 });
    const kept = answerOf({ limits: { ...limits, zeroFuelMaximumKg: 430 }, empty });
    expect(listOf(kept.mostAft)).toEqual({ Pilot: 55, Hold: expect.closeTo(25, 9), Tank: 100 });
    expect(kept.heaviest.massKg).toBeCloseTo(430 + 72, 9);
  });

  it('[C2] a tank is worst where its arm is, not where it is full or empty', () => {
    const arm = [
      { quantityL: 0, xM: 2.1 },
      { quantityL: 50, xM: 2.6 },
      { quantityL: 100, xM: 2.3 },
    ];
    const limits = limitsOf({
      stations: [{ ...PILOT, leastKg: 70, mostKg: 70 }, tankOf('Tank', arm, { densityKgPerL: 1 })],
      envelope: TALL,
      cases: [],
    });
    const { mostAft } = answerOf({ limits, empty: { massKg: 350, xM: 2.1 } });
    // From 50 L on the moment is 875 + 2.9 q - 0.006 q²; over 420 + q it is level where 343 - 5.04 q - 0.006 q² = 0.
    const q = (-5.04 + Math.sqrt(5.04 ** 2 + 4 * 0.006 * 343)) / 0.012;
    expect(listOf(mostAft)).toEqual({ Pilot: 70, Tank: expect.closeTo(q, 6) });
    expect(q).toBeGreaterThan(50);
    expect(q).toBeLessThan(100);
  });

  it('[C2] where a limit steps, the wider one holds on the step and the other a milligram beyond', () => {
    const stepped = envelopeOf([400, 1.9], [400, 2.2], [480, 2.2], [480, 2.1], [600, 2.1], [600, 1.9]);
    const stations = [{ ...PILOT, leastKg: 80, mostKg: 80 }, baggageOf('Hold', 1.5, 50)];
    const empty = { massKg: 400, xM: 2.18 };
    const on = answerOf({ limits: limitsOf({ stations: stations.slice(0, 1), envelope: stepped, cases: [] }), empty });
    expect(on.state).toBe('inside');
    const beyond = answerOf({ limits: limitsOf({ stations, envelope: stepped, cases: [] }), empty });
    const [, aft] = at(beyond, 'aft').sort((one, other) => one.loaded.massKg - other.loaded.massKg);
    expect(aft).toMatchObject({ isOutside: true, limitM: 2.1, side: 4 });
    expect(beyond.worst.every(({ isOutside, loaded }) => !isOutside || loaded.massKg > 480)).toBe(true);
  });

  it('[C2] what is lighter or heavier than the envelope is outside it, by its mass', () => {
    const limits = limitsOf({ envelope: envelopeOf([410, 1], [410, 3], [600, 3], [600, 1]), cases: [] });
    const answer = answerOf({ limits, empty: { massKg: 350, xM: 2.1 } });
    expect(at(answer, 'too light')).toMatchObject([{ isOutside: true, outKg: expect.closeTo(-5, 9), limitKg: 410 }]);
    expect(at(answer, 'too heavy')).toMatchObject([{ isOutside: true, outKg: expect.closeTo(50, 9), limitKg: 600 }]);
    expect(answer.state).toBe('outside');
  });

  it('[C2] where even the lightest pilot is too much, nothing is permitted and that is the answer', () => {
    const answer = allLoadings({ limits: limitsOf({ maximumKg: 400 }) }, { massKg: 350, xM: 2.1 });
    expect(answer).toMatchObject({ state: 'nothing permitted', lightest: { massKg: 405 } });
  });

  it('[C2] an envelope in per cent MAC is the same one in stations', () => {
    const chord = { macM: 1.25, lemacM: 1.7 };
    const { envelope } = limitsOf();
    const inPercent = {
      by: 'per cent MAC' as const,
      points: envelope.points.map(({ massKg, at: xM }) => ({ massKg, at: ((xM - 1.7) / 1.25) * 100 })),
    };
    expect([isReadable(inPercent, chord), isReadable(inPercent, undefined), isReadable(envelope, undefined)]).toEqual([
      true,
      false,
      true,
    ]);
    const empty = { massKg: 350, xM: 2.3 };
    const one = answerOf({ limits: limitsOf(), empty });
    const other = allLoadings({ limits: limitsOf({ envelope: inPercent }), chord }, empty) as Answer;
    expect(other.worst.map(({ outM }) => outM ?? 0)).toEqual(one.worst.map(({ outM }) => expect.closeTo(outM ?? 0, 9)));
    expect(other.worstOfAll.loaded.percentMac).toBeCloseTo(((other.worstOfAll.loaded.xM - 1.7) / 1.25) * 100, 9);
  });

  it('[C2] the CG stays between two butt lines, or it is said how far not', () => {
    const stations = [
      { ...PILOT, yM: -0.3 },
      { ...seatOf('Passenger', 2), yM: 0.3 },
      { ...tankOf('Left', 2.2), yM: -1 },
      { ...tankOf('Right', 2.2), yM: 1 },
    ];
    const limits = limitsOf({ stations, lateral: { leftM: -0.2, rightM: 0.2 }, envelope: envelopeOf([300, 1], [300, 3], [700, 3], [700, 1]), cases: [] }); // biome-ignore format: one line
    const answer = answerOf({ limits, empty: { massKg: 350, xM: 2.1, yM: 0.01 } });
    expect(listOf(answer.lateral?.leftmost as Loaded)).toEqual({ Pilot: 110, Left: 100 });
    expect(listOf(answer.lateral?.rightmost as Loaded)).toEqual({ Pilot: 55, Passenger: 110, Right: 100 });
    expect(answer.lateral?.leftOutM).toBeCloseTo(-0.2 - (3.5 - 33 - 72) / 532, 12);
    expect(answer.lateral?.rightOutM).toBeCloseTo((3.5 - 16.5 + 33 + 72) / 587 - 0.2, 12);
    expect(answer).toMatchObject({ state: 'inside', lateral: { isOutside: false } });
    const narrow = answerOf({ limits: { ...limits, lateral: { leftM: -0.2, rightM: 0.1 } }, empty: { massKg: 350, xM: 2.1, yM: 0.01 } }); // biome-ignore format: one line
    expect(narrow).toMatchObject({ state: 'outside', lateral: { isOutside: true } });
    expect(answerOf({ limits, empty: { massKg: 350, xM: 2.1 } }).lateral).toBeUndefined();
  });
});

describe('at random', () => {
  it('[C2] no loading on a grid is worse than the worst, and the worst is permitted and as bad as it says', () => {
    let [compared, outside] = [0, 0];
    fc.assert(
      fc.property(drawn, (random) => {
        expect(refusalsOfLimits(random.limits, { emptyKg: random.empty.massKg, hasChord: false })).toEqual([]);
        const answer = allLoadings({ limits: random.limits }, random.empty);
        const grid = [...gridOf(random, 4)];
        if (answer.state === 'nothing permitted') {
          expect(grid).toEqual([]);
          return;
        }
        compared += grid.length;
        outside += answer.state === 'outside' ? 1 : 0;
        for (const one of [...answer.worst.map(({ loaded }) => loaded), answer.mostAft, answer.mostForward])
          attained(random, one);
        for (const one of answer.worst) asBad(random, one);
        for (const loading of grid) noWorse(random, answer, loading);
      }),
      { numRuns: 1000, seed: 20261130 },
    );
    expect(compared).toBeGreaterThan(100_000);
    expect(outside).toBeGreaterThan(100);
  });
});

/** The loads that are told come to the mass and CG that are told, and may be aboard. */
function attained(random: Drawn, loaded: Loaded): void {
  const amounts = random.limits.stations.map(({ name }) => listOf(loaded)[name] ?? 0);
  const again = plainly(random, amounts);
  expect(isPermitted(random, amounts)).toBe(true);
  expect(loaded.massKg).toBeCloseTo(again.massKg, 7);
  expect(loaded.xM).toBeCloseTo(again.xM, 7);
}

function asBad({ limits: { envelope } }: Drawn, { way, outM, limitM, limitKg, outKg, loaded, isOutside }: Worst): void {
  if (limitKg !== undefined) {
    expect(outKg).toBeCloseTo(loaded.massKg - limitKg, 7);
    expect(isOutside).toBe(way === 'too light' ? loaded.massKg < limitKg - 1e-9 : loaded.massKg > limitKg + 1e-9);
    return;
  }
  const sign = way === 'aft' ? 1 : -1;
  expect(outM).toBeCloseTo(sign * (loaded.xM - (limitM ?? 0)), 7);
  const limits = limitsPlainly(envelope, loaded.massKg);
  if (isOutside && (outM ?? 0) > 1e-6 && limits !== undefined)
    expect(sign * (loaded.xM - (limits[way === 'aft' ? 1 : 0] ?? 0))).toBeGreaterThan(0);
}

function noWorse(
  { limits: { envelope } }: Drawn,
  answer: Answer,
  { massKg, xM }: { massKg: number; xM: number },
): void {
  const near = 1e-7;
  if (xM > answer.mostAft.xM + near || xM < answer.mostForward.xM - near)
    expect({ xM }).toEqual('between the extremes');
  if (massKg < answer.lightest.massKg - near || massKg > answer.heaviest.massKg + near)
    expect({ massKg }).toEqual('between the extremes');
  const limits = limitsPlainly(envelope, massKg);
  const [forwardM, aftM] = limits ?? [-Infinity, Infinity];
  const isByMass = answer.worst.some(({ limitKg, isOutside }) => limitKg !== undefined && isOutside);
  if (limits === undefined) expect(isByMass).toBe(true);
  const most = (way: Worst['way']) => Math.max(...at(answer, way).map(({ outM }) => outM ?? -Infinity));
  if (xM - aftM > most('aft') + near) expect({ massKg, xM, aftM, said: most('aft') }).toEqual('no worse');
  if (forwardM - xM > most('forward') + near)
    expect({ massKg, xM, forwardM, said: most('forward') }).toEqual('no worse');
}
