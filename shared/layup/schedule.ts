/**
 * A lay-up schedule (rules E3, E4): what a part is laid up of, region by region and line by line, with the figures of its materials as they
 * were when it was computed. It is kept inside an estimate. `compute.ts` makes masses of it; `refusals.ts` says what makes no sense.
 */
import { z } from 'zod';
import { plainText } from '#shared/ledger/plain-text.ts';
import { MOST_AREA_M2, MOST_LENGTH_M } from '#shared/quantity/typed.ts';
import { Material } from './material.ts';

export const MOST_REGIONS = 60;
export const MOST_LINES = 100;
export const MOST_LAYERS = 500;
export const MOST_FITTINGS = 10_000;
/** Laps can make a layer cover more than its region. */
export const MOST_COVERAGE = 2;

const material = plainText(80);
const areaM2 = z.number().positive().max(MOST_AREA_M2);
const lengthM = z.number().positive().max(MOST_LENGTH_M);
const coverage = z.number().positive().max(MOST_COVERAGE);
const share = z.number().gt(0).lt(1);
const typed = z.record(z.string(), z.string().max(80)).default({});

/** When it is on the part: out of the mould, after trim, or with the finish. */
export const On = z.enum(['moulded', 'later', 'finish']);
export type On = z.infer<typeof On>;

/** `areaM2` where a reinforcement has an area of its own instead of its region's. */
const ply = z.strictObject({
  is: z.literal('ply'),
  material,
  layers: z.int().min(1).max(MOST_LAYERS),
  coverage,
  areaM2: areaM2.optional(),
  angle: plainText(40).optional(),
  on: On,
  typed,
});

/** The larger face is `areaM2`, or else the region's area x coverage, and `perimeterM` or else the region's goes around it. */
const core = z.strictObject({
  is: z.literal('core'),
  material,
  coverage,
  areaM2: areaM2.optional(),
  perimeterM: lengthM.optional(),
  /** Measured from the panel's plane. */
  bevelDeg: z.number().gt(0).max(90).optional(),
  outline: z.enum(['rectangle', 'other']),
  /** Cuts that let the core bend: they take foam away and fill with resin. */
  kerfs: z.strictObject({ lengthM, widthM: lengthM, depthM: lengthM }).optional(),
  /** How many faces take up resin. */
  faces: z.int().min(0).max(2),
  on: On,
  typed,
});

const coat = z.strictObject({
  is: z.literal('coat'),
  material,
  coverage,
  areaM2: areaM2.optional(),
  faces: z.int().min(1).max(2),
  on: On,
  typed,
});

const bond = {
  material,
  lengthM,
  sectionM2: z.number().positive().max(1),
  on: On,
  typed,
};
const bondLine = z.strictObject({ is: z.literal('bond line'), ...bond });
const fillet = z.strictObject({ is: z.literal('fillet'), ...bond });

const insert = z.strictObject({
  is: z.literal('insert'),
  material,
  count: z.int().min(1).max(MOST_FITTINGS),
  on: On,
  typed,
});

export const Line = z.discriminatedUnion('is', [ply, core, coat, bondLine, fillet, insert]);
export type Line = z.infer<typeof Line>;
export type LineKind = Line['is'];
export type LineOf<Kind extends LineKind> = Extract<Line, { is: Kind }>;
export const LINE_KINDS: readonly LineKind[] = ['ply', 'core', 'coat', 'bond line', 'fillet', 'insert'];

/** Where a line stands unless it is said. */
export const USUALLY_ON: Readonly<Record<LineKind, On>> = {
  ply: 'moulded',
  core: 'moulded',
  coat: 'finish',
  'bond line': 'later',
  fillet: 'later',
  insert: 'later',
};

const region = z.strictObject({
  name: plainText(80),
  areaM2,
  /** Relative standard uncertainty of the area. */
  areaStd: z.number().min(0).max(1),
  perimeterM: lengthM.optional(),
  lines: z.array(Line).max(MOST_LINES),
  typed,
});
export type Region = z.infer<typeof region>;

/** How the plies are wetted: the resin, the fibre fraction as it was stated, and between what mass fractions of fibre the process lies. */
const laminate = z.strictObject({
  resin: material,
  fibreBy: z.enum(['mass', 'volume']),
  fibreFraction: share,
  fibreFractionStd: z.number().min(0).max(0.5),
  band: z.strictObject({ lowWf: share, highWf: share, from: z.enum(['stated', 'shop default']) }),
});
export type Laminate = z.infer<typeof laminate>;

export const LayUp = z.strictObject({
  /** Not needed where nothing is wetted. */
  laminate: laminate.optional(),
  materials: z.array(Material).min(1).max(MOST_LINES),
  regions: z.array(region).min(1).max(MOST_REGIONS),
  typed,
});
export type LayUp = z.infer<typeof LayUp>;

/** What a line covers: an area of its own, or its share of the region. */
export function coveredM2(
  line: { readonly areaM2?: number | undefined; readonly coverage: number },
  within: Pick<Region, 'areaM2'>,
): number {
  return line.areaM2 ?? within.areaM2 * line.coverage;
}

/** The region's perimeter goes around all of the region: a core that covers less of it has one of its own, or none that is known. */
export function corePerimeterM(line: LineOf<'core'>, within: Pick<Region, 'perimeterM'>): number | undefined {
  const isWhole = line.areaM2 === undefined && line.coverage === 1;
  return line.perimeterM ?? (isWhole ? within.perimeterM : undefined);
}
