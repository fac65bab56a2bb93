/**
 * From what stood on the scales to empty weight and CG (rules A1, U2), for any number of supports and whatever was aboard or missing.
 *
 * net_i = gross_i - tare_i;  W = sum net_i;  x = x_ref + sum net_i x_i / W, likewise y. What does not belong comes off and what is missing
 * goes on, each as mass and moment. Source: the moment formula, as in the handbooks' tables (FAA-H-8083-1 series, chapter 3).
 *
 * z by a second attitude, tilted nose up by t. Aft along the ground a point of the aircraft lies at x cos t + z sin t, so with the reactions
 * upright at the supports (x_i, z_i) the moments about the ground say
 *   sum R_i (x_i cos t + z_i sin t) = W (x cos t + z sin t),
 * and with x from the level attitude, and X_R, Z_R the means of x_i and z_i weighted by the tilted reactions,
 *   z = Z_R + (X_R - x) / tan t.
 * Source: statics of a rigid body, general mechanics; the supports' z are those of axles or jack points, since a tyre carries below its axle.
 *
 * Uncertainty: each source of error is shifted by its standard uncertainty, alone, both ways; half of what the results move by is what the
 * source does to them, and these are added in squares. Runs that scatter by s add s/sqrt(n) to each result (rule U1).
 */
import { resolutionStdKg } from '#shared/weighing/net.ts';
import { type Run, supportKey, type Weighed, type WeighingCorrection } from './weighing.ts';

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

export const UNCERTAINTY_FROM = [
  'resolution of the scales',
  'calibration of the scales',
  'runs apart',
  'stations of the supports',
  'angle of the tilt',
  'what was taken off and put on',
] as const;
export type UncertaintyFrom = (typeof UNCERTAINTY_FROM)[number];

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
    const up = resultsOf(shifted(model, shift, 1));
    const down = resultsOf(shifted(model, shift, -1));
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

/** The runs that count: those not set aside, or all where none is left. */
export function countedRuns(runs: readonly Run[]): readonly Run[] {
  const counted = runs.filter(({ setAside }) => setAside === undefined);
  return counted.length > 0 ? counted : runs;
}

/** Mass and station of each run of the level attitude by itself, for whether they agree (rule A2). */
export function runPoints(weighed: Weighed): readonly { readonly massKg: number; readonly xM: number }[] {
  const model = modelOf(weighed);
  return countedRuns(weighed.level).map((run) => {
    const { massKg, xM } = resultsOf({ ...model, levelKg: netsOf(run), tiltedKg: undefined }).asWeighed;
    return { massKg, xM };
  });
}

/** True where every support has a y, and they do not all stand in one line seen from above. */
export function givesY({ supports }: Weighed): boolean {
  return supports.every(({ yM }) => yM !== undefined) && !standInLine(supports);
}

/** Closer to one line than a millimetre in its length of a metre is one line: what is between is error of the tape. */
const IN_LINE = 1e-3;

/** True where all supports stand in one line seen from above. */
export function standInLine(supports: readonly { readonly xM: number; readonly yM?: number | undefined }[]): boolean {
  const points = supports.map(({ xM, yM = 0 }) => ({ xM, yM }));
  const [first] = points;
  if (first === undefined) return true;
  const far = points.reduce((a, b) => (apartM(first, b) > apartM(first, a) ? b : a));
  const lengthM = apartM(first, far);
  if (lengthM === 0) return true;
  return points.every((point) => {
    const areaM2 = (far.xM - first.xM) * (point.yM - first.yM) - (far.yM - first.yM) * (point.xM - first.xM);
    return Math.abs(areaM2) / lengthM <= IN_LINE * lengthM;
  });
}

function apartM(a: { readonly xM: number; readonly yM: number }, b: { readonly xM: number; readonly yM: number }) {
  return Math.hypot(a.xM - b.xM, a.yM - b.yM);
}

/** Mass of a correction, positive whichever way it goes. */
export function correctionKg(correction: WeighingCorrection): number {
  return correction.is === 'mass' ? correction.massKg : correction.volumeM3 * correction.densityKgM3;
}

/** The numbers that the results follow from, and that sources of error shift. */
type Model = {
  readonly referenceM: number;
  readonly supports: readonly Place[];
  readonly hasY: boolean;
  readonly levelKg: readonly number[];
  readonly tiltedKg: readonly number[] | undefined;
  readonly angleRad: number;
  readonly corrections: readonly (Place & { readonly sign: 1 | -1; readonly massKg: number; readonly hasZ: boolean })[];
};
type Place = { readonly xM: number; readonly yM: number; readonly zM: number };

function modelOf(weighed: Weighed): Model {
  const { tilted } = weighed;
  const hasZ = tilted !== undefined && weighed.supports.every(({ zM }) => zM !== undefined);
  return {
    referenceM: weighed.referenceM,
    supports: weighed.supports.map(({ xM, yM = 0, zM = 0 }) => ({ xM, yM, zM })),
    hasY: givesY(weighed),
    levelKg: meanNetsOf(weighed.level),
    tiltedKg: hasZ ? meanNetsOf(tilted.runs) : undefined,
    angleRad: tilted?.angleRad ?? 0,
    corrections: weighed.corrections.map((one) => ({
      ...{ xM: one.xM, yM: one.yM ?? 0, zM: one.zM ?? 0, hasZ: one.zM !== undefined },
      sign: one.way === 'on' ? 1 : -1,
      massKg: correctionKg(one),
    })),
  };
}

function meanNetsOf(runs: readonly Run[]): readonly number[] {
  const counted = countedRuns(runs);
  const count = counted[0]?.readings.length ?? 0;
  return Array.from({ length: count }, (_, at) => {
    const sumKg = counted.reduce((sum, run) => sum + (netsOf(run)[at] ?? 0), 0);
    return sumKg / counted.length;
  });
}

function netsOf({ readings }: Run): readonly number[] {
  return readings.map(({ grossKg, tareKg }) => grossKg - tareKg);
}

type Point = { readonly massKg: number; readonly xM: number; readonly yM?: number; readonly zM?: number };
type Results = { readonly asWeighed: Point; readonly empty: Point };

function resultsOf(model: Model): Results {
  const { referenceM, supports, levelKg, hasY } = model;
  const massKg = sum(levelKg);
  const xM =
    referenceM +
    weightedMean(
      supports.map((place) => place.xM),
      levelKg,
    );
  const yM = hasY
    ? weightedMean(
        supports.map((place) => place.yM),
        levelKg,
      )
    : undefined;
  const zM = heightOf(model, xM);
  const asWeighed = pointOf({ massKg, xM, yM, zM });
  const onKg = model.corrections.map(({ sign, massKg: itemKg }) => sign * itemKg);
  const emptyKg = massKg + sum(onKg);
  const carried = (atM: number, stations: readonly number[]) =>
    (massKg * atM + stations.reduce((moment, stationM, at) => moment + stationM * (onKg[at] ?? 0), 0)) / emptyKg;
  const knowsZ = model.corrections.every(({ hasZ }) => hasZ);
  const empty = pointOf({
    massKg: emptyKg,
    xM: carried(
      xM,
      model.corrections.map((one) => one.xM),
    ),
    yM:
      yM === undefined
        ? undefined
        : carried(
            yM,
            model.corrections.map((one) => one.yM),
          ),
    zM:
      zM === undefined || !knowsZ
        ? undefined
        : carried(
            zM,
            model.corrections.map((one) => one.zM),
          ),
  });
  return { asWeighed, empty };
}

/** Height of the CG from the tilted attitude, where there is one and the heights of the supports are known. */
function heightOf({ referenceM, supports, tiltedKg, angleRad }: Model, xM: number): number | undefined {
  if (tiltedKg === undefined) return undefined;
  const meanXM =
    referenceM +
    weightedMean(
      supports.map((place) => place.xM),
      tiltedKg,
    );
  const meanZM = weightedMean(
    supports.map((place) => place.zM),
    tiltedKg,
  );
  return meanZM + (meanXM - xM) / Math.tan(angleRad);
}

function pointOf({
  massKg,
  xM,
  yM,
  zM,
}: {
  massKg: number;
  xM: number;
  yM: number | undefined;
  zM: number | undefined;
}) {
  return { massKg, xM, ...(yM === undefined ? {} : { yM }), ...(zM === undefined ? {} : { zM }) };
}

function weightedMean(values: readonly number[], weights: readonly number[]): number {
  return values.reduce((moment, value, at) => moment + value * (weights[at] ?? 0), 0) / sum(weights);
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

/** A source of error: what its standard uncertainty does to the numbers of the model. */
type Shift = (model: Model, way: 1 | -1) => Model;
type Source = { readonly from: UncertaintyFrom; readonly shift: Shift };

function shifted(model: Model, shift: Shift, way: 1 | -1): Model {
  return shift(model, way);
}

function sourcesOf(weighed: Weighed): readonly Source[] {
  return [
    ...weighed.supports.flatMap((_, at) => resolutionSources(weighed, at)),
    ...gainSources(weighed),
    ...stationSources(weighed),
    ...(weighed.tilted === undefined ? [] : [angleSource(weighed.tilted.angleStdRad)]),
    ...weighed.corrections.flatMap((_, at) => correctionSources(weighed, at)),
    ...densitySources(weighed),
  ];
}

const RESOLUTION = 'resolution of the scales';

/** A reading resolved to d has d/sqrt(12), gross and tare each (GUM F.2.2.1); a tare of nothing was not read. */
function resolutionSources({ supports, level, tilted }: Weighed, at: number): readonly Source[] {
  const readStdKg = resolutionStdKg(supports[at]?.resolutionKg ?? 0);
  const stdKg = (runs: readonly Run[]) =>
    runs.some(({ readings }) => (readings[at]?.tareKg ?? 0) > 0) ? Math.SQRT2 * readStdKg : readStdKg;
  const levelStdKg = stdKg(level);
  const tiltedStdKg = stdKg(tilted?.runs ?? []);
  return [
    { from: RESOLUTION, shift: (model, way) => ({ ...model, levelKg: with_(model.levelKg, at, way * levelStdKg) }) },
    {
      from: RESOLUTION,
      shift: (model, way) =>
        model.tiltedKg === undefined ? model : { ...model, tiltedKg: with_(model.tiltedKg, at, way * tiltedStdKg) },
    },
  ];
}

function with_(values: readonly number[], at: number, by: number): readonly number[] {
  return values.map((value, index) => (index === at ? value + by : value));
}

/** Rule U1: what stands on scales of one name shares the error of their calibration, which acts on the net. */
function gainSources({ supports }: Weighed): readonly Source[] {
  const keys = supports.map(({ name, scale }) =>
    scale === undefined ? `support ${name}` : `scale ${supportKey(scale)}`,
  );
  return [...new Set(keys)].map((key): Source => {
    const gain = (nets: readonly number[], way: number) =>
      nets.map((netKg, at) => (keys[at] === key ? netKg * (1 + way * (supports[at]?.gainStd ?? 0)) : netKg));
    return {
      from: 'calibration of the scales',
      shift: (model, way) => ({
        ...model,
        levelKg: gain(model.levelKg, way),
        tiltedKg: model.tiltedKg === undefined ? undefined : gain(model.tiltedKg, way),
      }),
    };
  });
}

function stationSources({ referenceStdM, supports }: Weighed): readonly Source[] {
  const from = 'stations of the supports';
  const place =
    (at: number, shiftM: Partial<Place>): Shift =>
    (model, way) => ({
      ...model,
      supports: model.supports.map((one, index) =>
        index === at
          ? {
              xM: one.xM + way * (shiftM.xM ?? 0),
              yM: one.yM + way * (shiftM.yM ?? 0),
              zM: one.zM + way * (shiftM.zM ?? 0),
            }
          : one,
      ),
    });
  return [
    { from, shift: (model, way) => ({ ...model, referenceM: model.referenceM + way * referenceStdM }) },
    ...supports.flatMap(({ xStdM, yStdM = 0, zStdM = 0 }, at) => [
      { from, shift: place(at, { xM: xStdM }) } as const,
      { from, shift: place(at, { yM: yStdM }) } as const,
      { from, shift: place(at, { zM: zStdM }) } as const,
    ]),
  ];
}

function angleSource(stdRad: number): Source {
  return {
    from: 'angle of the tilt',
    shift: (model, way) => ({ ...model, angleRad: model.angleRad + way * stdRad }),
  };
}

const ITEMS = 'what was taken off and put on';

/** Its volume or mass, and its station along each axis. */
function correctionSources({ corrections }: Weighed, at: number): readonly Source[] {
  const one = corrections[at];
  if (one === undefined) return [];
  const stdKg = one.is === 'mass' ? one.massStdKg : one.volumeStdM3 * one.densityKgM3;
  const item = (shift: Partial<Place & { massKg: number }>): Source => ({
    from: ITEMS,
    shift: (model, way) => ({ ...model, corrections: itemShifted(model.corrections, at, shift, way) }),
  });
  const { armStdM } = one;
  return [
    item({ massKg: stdKg }),
    item({ xM: armStdM }),
    ...(one.yM === undefined ? [] : [item({ yM: armStdM })]),
    ...(one.zM === undefined ? [] : [item({ zM: armStdM })]),
  ];
}

function itemShifted(
  corrections: Model['corrections'],
  at: number,
  shift: Partial<Place & { massKg: number }>,
  way: number,
): Model['corrections'] {
  return corrections.map((one, index) =>
    index === at
      ? {
          ...one,
          massKg: one.massKg + way * (shift.massKg ?? 0),
          xM: one.xM + way * (shift.xM ?? 0),
          yM: one.yM + way * (shift.yM ?? 0),
          zM: one.zM + way * (shift.zM ?? 0),
        }
      : one,
  );
}

/** Rows of one fluid share the error of its density. */
function densitySources({ corrections }: Weighed): readonly Source[] {
  const keys = corrections.map((one) => (one.is === 'fluid' ? supportKey(one.fluid) : undefined));
  const fluids = [...new Set(keys)].filter((key) => key !== undefined);
  return fluids.map(
    (key): Source => ({
      from: ITEMS,
      shift: (model, way) => ({
        ...model,
        corrections: model.corrections.map((one, at) => {
          const row = corrections[at];
          if (row?.is !== 'fluid' || keys[at] !== key) return one;
          return { ...one, massKg: one.massKg + way * row.volumeM3 * row.densityStdKgM3 };
        }),
      }),
    }),
  );
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
