/**
 * The sources of error of a weighing of the aircraft (rules U1, U2, A1): what each one's standard uncertainty does to the numbers that the result
 * follows from. What shares a source (the calibration of one scale, the density of one fluid) is shifted together.
 */
import { resolutionStdKg } from '#shared/weighing/net.ts';
import type { Model, Place } from './model.ts';
import { type Run, supportKey, type Weighed } from './weighing.ts';

export const UNCERTAINTY_FROM = [
  'resolution of the scales',
  'calibration of the scales',
  'runs apart',
  'stations of the supports',
  'angle of the tilt',
  'what was taken off and put on',
] as const;
export type UncertaintyFrom = (typeof UNCERTAINTY_FROM)[number];

/** A source of error: what its standard uncertainty does to the numbers of the model. */
export type Shift = (model: Model, way: 1 | -1) => Model;
export type Source = { readonly from: UncertaintyFrom; readonly shift: Shift };

export function sourcesOf(weighed: Weighed): readonly Source[] {
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
