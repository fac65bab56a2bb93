/** The highest moment for every mass (rule C2), against lists of loadings that just come to that mass. The figures are invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestMoments } from '#shared/loading/best-moments.ts';
import { amountsOf, piecesOf } from '#shared/loading/curve.ts';
import { type LoadingStation, MOST_SEATS } from '#shared/loading/limits.ts';
import { tankArmM } from '#shared/loading/loaded.ts';
import { valueAt } from '#shared/loading/quadratic.ts';
import { baggageOf, PILOT, seatOf, tankOf } from './make-limits.ts';
import { drawn } from './random-limits.ts';

const SHARE = fc.integer({ min: 0, max: 1000 }).map((whole) => whole / 1000);
const FREE = { allKg: 1e6, dryKg: 1e6 };

function curveAt(stations: readonly LoadingStation[], massKg: number, way: 1 | -1 = 1): number | undefined {
  const heights = piecesOf(bestMoments(stations, FREE, { axis: 'x', way }))
    .filter(({ fromKg, toKg }) => fromKg <= massKg + 1e-9 && toKg >= massKg - 1e-9)
    .map((piece) => valueAt(piece, massKg));
  return heights.length === 0 ? undefined : Math.max(...heights);
}

describe('against lists', () => {
  it('[C2] with level arms: the best of all corners with one station that fills up to the mass', () => {
    let compared = 0;
    fc.assert(
      fc.property(drawn, SHARE, ({ limits }, share) => {
        const stations = limits.stations.map((one) => (one.what === 'tank' ? { ...one, arm: typeof one.arm === 'number' ? one.arm : 2 } : one)); // biome-ignore format: one line
        const mostKg = stations.reduce((sum, one) => sum + endsOf(one)[1], 0);
        const massKg = mostKg * share;
        const [listed, told] = [bestListed(stations, massKg), curveAt(stations, massKg)];
        if (listed === undefined) expect(told).toBeUndefined();
        else expect(told).toBeCloseTo(listed, 6);
        compared += listed === undefined ? 0 : 1;
      }),
      { numRuns: 1000, seed: 20261130 },
    );
    expect(compared).toBeGreaterThan(700);
  });

  it('[C2] two tanks with tables: no share of the fluid between them is better, and one of a fine list is nearly as good', () => {
    const row = fc.record({ stepL: fc.integer({ min: 5, max: 40 }), xM: fc.integer({ min: 150, max: 300 }) });
    const arm = fc.array(row, { minLength: 2, maxLength: 4 }).map((rows) => {
      let quantityL = -5;
      return rows.map(({ stepL, xM }) => {
        quantityL += stepL;
        return { quantityL, xM: xM / 100 };
      });
    });
    fc.assert(
      fc.property(arm, arm, SHARE, fc.constantFrom(1, -1), (one, other, at, way) => {
        const usableL = (rows: typeof one) => rows.at(-1)?.quantityL ?? 0;
        const tanks = [
          tankOf('One', one, { usableL: usableL(one), densityKgPerL: 1 }),
          tankOf('Other', other, { usableL: usableL(other), densityKgPerL: 0.8 }),
        ] as const;
        const [first, second] = tanks;
        const massKg = at * (first.usableL + second.usableL * 0.8);
        const told = curveAt(tanks, massKg, way as 1 | -1) ?? Number.NaN;
        let best = -Infinity;
        for (let step = 0; step <= 2000; step += 1) {
          const firstL = (first.usableL * step) / 2000;
          const secondL = (massKg - firstL) / 0.8;
          if (secondL < -1e-9 || secondL > second.usableL + 1e-9) continue;
          const momentKgM = firstL * tankArmM(first, firstL) + secondL * 0.8 * tankArmM(second, secondL);
          best = Math.max(best, way * momentKgM);
        }
        expect(best).toBeLessThanOrEqual(told + 1e-6);
        expect(best).toBeGreaterThan(told - 0.5);
        expect({ at, tight: best > told - 0.002 * (first.usableL + second.usableL) }).toMatchObject({ tight: true });
      }),
      { numRuns: 500, seed: 20261130 },
    );
  });

  it('[C2] the shares that are told of a point come to its mass and moment', () => {
    fc.assert(
      fc.property(drawn, SHARE, ({ limits: { stations } }, share) => {
        for (const piece of piecesOf(bestMoments(stations, FREE, { axis: 'x', way: 1 }))) {
          const massKg = piece.fromKg + (piece.toKg - piece.fromKg) * share;
          const amounts = amountsOf(piece, massKg);
          let [sumKg, momentKgM] = [0, 0];
          for (const [index, kg] of amounts) {
            const one = stations[index];
            if (one === undefined) throw new Error('no such station');
            sumKg += kg;
            momentKgM += kg * (one.what === 'tank' ? tankArmM(one, kg / one.densityKgPerL) : one.xM);
          }
          expect(sumKg).toBeCloseTo(massKg, 7);
          expect(momentKgM).toBeCloseTo(valueAt(piece, massKg), 6);
        }
      }),
      { numRuns: 200, seed: 20261130 },
    );
  });
});

describe('many stations', () => {
  it('[C2] as many seats as may be, none like another, stay a curve that can be gone through', () => {
    const seats = Array.from({ length: MOST_SEATS - 1 }, (_, at) =>
      seatOf(`Seat ${at}`, 2 + at * 0.37, { leastKg: 50 + at * 1.3, mostKg: 50 + at * 1.3 }),
    );
    const lone = piecesOf(bestMoments([{ ...PILOT, leastKg: 70, mostKg: 70 }, ...seats], FREE, { axis: 'x', way: 1 }));
    expect(lone.length).toBeLessThanOrEqual(2 ** seats.length);
    const people = seats.map((seat) => ({ ...seat, mostKg: seat.leastKg + 40 }));
    const holds = Array.from({ length: 6 }, (_, at) => baggageOf(`Hold ${at}`, 1 + at * 0.71, 20 + at));
    const curve = bestMoments([PILOT, ...people, ...holds], FREE, { axis: 'x', way: 1 });
    expect(piecesOf(curve).length).toBeLessThan(1000);
  });
});

function endsOf(one: LoadingStation): readonly [number, number] {
  if (one.what === 'tank') return [(one.leastL ?? 0) * one.densityKgPerL, one.usableL * one.densityKgPerL];
  return [one.what === 'seat' ? one.leastKg : 0, one.mostKg];
}

/** Every station empty, least or most but one, which takes the rest of the mass; the highest moment of those. */
function bestListed(stations: readonly LoadingStation[], massKg: number): number | undefined {
  let best: number | undefined;
  const armM = (one: LoadingStation) => (one.what === 'tank' ? (one.arm as number) : one.xM);
  const choices = stations.map((one) => {
    const isSeat = one.what === 'seat' && one.isPilot !== true;
    return [...new Set([...(isSeat ? [0] : []), ...endsOf(one)])];
  });
  for (const [free, one] of stations.entries()) {
    const [least, most] = endsOf(one);
    (function next(at: number, sumKg: number, momentKgM: number): void {
      const other = stations[at];
      if (other === undefined) {
        const restKg = massKg - sumKg;
        if (restKg < least - 1e-9 || restKg > most + 1e-9) return;
        const whole = momentKgM + restKg * armM(one);
        if (best === undefined || whole > best) best = whole;
      } else if (at === free) next(at + 1, sumKg, momentKgM);
      else for (const kg of choices[at] ?? []) next(at + 1, sumKg + kg, momentKgM + kg * armM(other));
    })(0, 0, 0);
  }
  return best;
}
