/**
 * From what stood on the scales to empty weight and CG (rules A1, U2), for any number of supports and whatever was aboard or missing.
 *
 * net_i = gross_i - tare_i;  W = sum net_i;  x = x_ref + sum net_i x_i / W, likewise y. What does not belong comes off and what is missing
 * goes on, each as mass and moment. Source: the moment formula, as in the handbooks' tables (FAA-H-8083-1 series, chapter 3).
 *
 * Uncertainty: each source of error is shifted by its standard uncertainty, alone, both ways; half of what the results move by is what the
 * source does to them, and these are added in squares. Runs that scatter by s add s/sqrt(n) to each result (rule U1).
 */
import { countedRuns, type Model, modelOf, netsOf, type Point, type Results, resultsOf } from './model.ts';
import { sourcesOf, UNCERTAINTY_FROM, type UncertaintyFrom } from './sources.ts';
import type { Weighed } from './weighing.ts';
/** Mass and CG with their standard uncertainties. What is not known is left out, never guessed. */
export type WeighedPoint = {
  readonly massKg: number;
  readonly massStdKg: number;
  readonly xM: number;
  readonly xStdM: number;
  readonly yM?: number | undefined;
  readonly yStdM?: number | undefined;
  readonly zM?: number | undefined;
  readonly zStdM?: number | undefined;
};

/** What one group of sources does to the empty weight. */
export type Contribution = {
  readonly from: UncertaintyFrom;
  readonly massStdKg: number;
  readonly xStdM: number;
  readonly yStdM?: number;
  readonly zStdM?: number;
};

export type WeighedResult = {
  /** As it stood on the scales. */
  readonly asWeighed: WeighedPoint;
  /** After what was taken off and put on. */
  readonly empty: WeighedPoint;
  /** Mean net of the runs that count, by support, level. */
  readonly netsKg: readonly number[];
  readonly tiltedNetsKg: readonly number[] | undefined;
  readonly contributions: readonly Contribution[];
};

/** The result, which needs inputs that `refusals.ts` has nothing against. */
export function computeWeighing(weighed: Weighed): WeighedResult {
  const model = modelOf(weighed);
  const middle = resultsOf(model);
  const asWeighed = new Spread();
  const empty = new Spread();
  for (const { from, shift } of sourcesOf(weighed)) {
    const up = resultsOf(shift(model, 1));
    const down = resultsOf(shift(model, -1));
    asWeighed.add(from, halfBetween(up.asWeighed, down.asWeighed));
    empty.add(from, halfBetween(up.empty, down.empty));
  }
  for (const attitude of ['levelKg', 'tiltedKg'] as const)
    for (const share of scatterOf(weighed, model, middle, attitude)) {
      asWeighed.add('runs apart', share.asWeighed);
      empty.add('runs apart', share.empty);
    }
  return {
    asWeighed: asWeighed.around(middle.asWeighed),
    empty: empty.around(middle.empty),
    netsKg: model.levelKg,
    tiltedNetsKg: model.tiltedKg,
    contributions: empty.contributions(middle.empty),
  };
}
/** Mass and station of each run of the level attitude by itself, for whether they agree (rule A2). */
export function runPoints(weighed: Weighed): readonly { readonly massKg: number; readonly xM: number }[] {
  const model = modelOf(weighed);
  return countedRuns(weighed.level).map((run) => {
    const { massKg, xM } = resultsOf({ ...model, levelKg: netsOf(run), tiltedKg: undefined }).asWeighed;
    return { massKg, xM };
  });
}

type Shares = { readonly massKg: number; readonly xM: number; readonly yM: number; readonly zM: number };

function halfBetween(up: Point, down: Point): Shares {
  return {
    massKg: (up.massKg - down.massKg) / 2,
    xM: (up.xM - down.xM) / 2,
    yM: ((up.yM ?? 0) - (down.yM ?? 0)) / 2,
    zM: ((up.zM ?? 0) - (down.zM ?? 0)) / 2,
  };
}

/** What each run of an attitude, in the place of the mean, does to the results, so that the squares add up to s²/n. */
function scatterOf(
  weighed: Weighed,
  model: Model,
  middle: Results,
  attitude: 'levelKg' | 'tiltedKg',
): readonly { readonly asWeighed: Shares; readonly empty: Shares }[] {
  const runs = attitude === 'levelKg' ? weighed.level : (weighed.tilted?.runs ?? []);
  const counted = countedRuns(runs);
  if (counted.length < 2 || model[attitude] === undefined) return [];
  const scale = 2 / Math.sqrt(counted.length * (counted.length - 1));
  return counted.map((run) => {
    const alone = resultsOf({ ...model, [attitude]: netsOf(run) });
    const share = (point: Point, mean: Point) => times(halfBetween(point, mean), scale);
    return { asWeighed: share(alone.asWeighed, middle.asWeighed), empty: share(alone.empty, middle.empty) };
  });
}

function times({ massKg, xM, yM, zM }: Shares, by: number): Shares {
  return { massKg: massKg * by, xM: xM * by, yM: yM * by, zM: zM * by };
}

/** Squares of what the sources do, by what they come from. */
class Spread {
  readonly #squares = new Map<UncertaintyFrom, Shares>();

  add(from: UncertaintyFrom, { massKg, xM, yM, zM }: Shares): void {
    const before = this.#squares.get(from) ?? { massKg: 0, xM: 0, yM: 0, zM: 0 };
    this.#squares.set(from, {
      massKg: before.massKg + massKg ** 2,
      xM: before.xM + xM ** 2,
      yM: before.yM + yM ** 2,
      zM: before.zM + zM ** 2,
    });
  }

  around(point: Point): WeighedPoint {
    const all = [...this.#squares.values()];
    const std = (axis: keyof Shares) => Math.sqrt(all.reduce((total, squares) => total + squares[axis], 0));
    return {
      massKg: point.massKg,
      massStdKg: std('massKg'),
      xM: point.xM,
      xStdM: std('xM'),
      ...(point.yM === undefined ? {} : { yM: point.yM, yStdM: std('yM') }),
      ...(point.zM === undefined ? {} : { zM: point.zM, zStdM: std('zM') }),
    };
  }

  contributions(point: Point): readonly Contribution[] {
    return UNCERTAINTY_FROM.flatMap((from) => {
      const squares = this.#squares.get(from);
      if (squares === undefined || Math.max(...Object.values(squares)) === 0) return [];
      return [
        {
          from,
          massStdKg: Math.sqrt(squares.massKg),
          xStdM: Math.sqrt(squares.xM),
          ...(point.yM === undefined ? {} : { yStdM: Math.sqrt(squares.yM) }),
          ...(point.zM === undefined ? {} : { zStdM: Math.sqrt(squares.zM) }),
        },
      ];
    });
  }
}
