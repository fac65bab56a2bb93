/**
 * What is kept of a whole aircraft on its scales (rules A1, A2): supports, readings, what was aboard and does not belong, what belongs and
 * was not aboard, and the checklist. What follows from it is worked out in `compute.ts`; what makes no sense in it is told by `refusals.ts`.
 *
 * Stations of supports are counted from a reference on the aircraft, which itself has a station; those of corrections from the datum.
 */
import { z } from 'zod';
import { plainText } from '#shared/ledger/plain-text.ts';
import { MOST_DENSITY_KG_PER_M3, MOST_LENGTH_M, MOST_MASS_KG, MOST_VOLUME_M3 } from '#shared/quantity/typed.ts';

export const MOST_SUPPORTS = 12;
export const MOST_RUNS = 10;
export const MOST_CORRECTIONS = 60;
/** The shop's scales and a plumb line cannot tell a smaller tilt from level, and an airframe is not stood up further. */
export const LEAST_TILT_RAD = (0.5 * Math.PI) / 180;
export const MOST_TILT_RAD = (45 * Math.PI) / 180;

const massKg = z.number().min(0).max(MOST_MASS_KG);
const stationM = z.number().min(-MOST_LENGTH_M).max(MOST_LENGTH_M);
const lengthM = z.number().min(0).max(MOST_LENGTH_M);
const typed = z.record(z.string(), z.string().max(80)).default({});

export const SupportKind = z.enum(['nosewheel', 'tailwheel', 'main', 'jack', 'other']);
export type SupportKind = z.infer<typeof SupportKind>;

/** `gainStd` is a copy of what the shop knew of the scale's calibration then: common to all that stands on scales of one name. */
const support = z.strictObject({
  name: plainText(60),
  is: SupportKind,
  xM: stationM,
  xStdM: lengthM,
  yM: stationM.optional(),
  yStdM: lengthM.optional(),
  /** Of the point that carries: an axle, or a jack point. */
  zM: stationM.optional(),
  zStdM: lengthM.optional(),
  scale: plainText(60).optional(),
  gainStd: z.number().min(0).max(1),
  resolutionKg: massKg,
  resolutionFrom: z.enum(['stated', 'scale', 'digits typed']),
  typed,
});
export type WeighedSupport = z.infer<typeof support>;

/** One reading for each support, in their order. A run that is set aside stays with its reason, and does not count. */
const run = z.strictObject({
  readings: z
    .array(z.strictObject({ grossKg: massKg, tareKg: massKg, typed }))
    .min(1)
    .max(MOST_SUPPORTS),
  setAside: plainText(400).optional(),
});
export type Run = z.infer<typeof run>;

const runs = z.array(run).min(1).max(MOST_RUNS);

/** Nose up is positive. */
const tilted = z.strictObject({
  angleRad: z.number().min(-MOST_TILT_RAD).max(MOST_TILT_RAD),
  angleStdRad: z.number().min(0).max(0.2),
  runs,
  typed,
});

const ofCorrection = {
  /** `off`: it was aboard and does not belong to the empty weight. `on`: it belongs, and was not aboard. */
  way: z.enum(['off', 'on']),
  name: plainText(80),
  xM: stationM,
  yM: stationM.optional(),
  zM: stationM.optional(),
  armStdM: lengthM,
  typed,
};
/** A fluid, by volume as dipped and density. Rows of one `fluid` share the error of its density. */
const fluidCorrection = z.strictObject({
  is: z.literal('fluid'),
  ...ofCorrection,
  fluid: plainText(60),
  volumeM3: z.number().min(0).max(MOST_VOLUME_M3),
  volumeStdM3: z.number().min(0).max(MOST_VOLUME_M3),
  densityKgM3: z.number().positive().max(MOST_DENSITY_KG_PER_M3),
  densityStdKgM3: z.number().min(0).max(MOST_DENSITY_KG_PER_M3),
});
const massCorrection = z.strictObject({ is: z.literal('mass'), ...ofCorrection, massKg, massStdKg: massKg });
const correction = z.discriminatedUnion('is', [fluidCorrection, massCorrection]);
export type WeighingCorrection = z.infer<typeof correction>;

/** Rule A2, and what a shop looks at before it believes a scale. Common practice, no source. */
export const CHECKS = [
  'level',
  'hangar closed',
  'scales in calibration',
  'weighed twice',
  'equipment list',
  'fluids',
  'nothing left aboard',
] as const;
export const WeighingCheck = z.enum(CHECKS);
export type WeighingCheck = z.infer<typeof WeighingCheck>;

const check = z.strictObject({ check: WeighingCheck, isSo: z.boolean(), words: plainText(400).optional() });

/** Everything that was put in. */
export const Weighed = z.strictObject({
  /** From where the stations of the supports were measured, in words, and where that lies. */
  reference: plainText(200),
  referenceM: stationM,
  referenceStdM: lengthM,
  supports: z
    .array(support)
    .min(1)
    .max(MOST_SUPPORTS)
    .refine(
      (supports) => new Set(supports.map(({ name }) => supportKey(name))).size === supports.length,
      'must not name a support twice',
    ),
  level: runs,
  tilted: tilted.optional(),
  /** How far runs may lie apart, in mass and in the CG's station. */
  agreement: z.strictObject({
    massKg: massKg.positive(),
    cgM: lengthM.positive(),
    from: z.enum(['stated', 'common practice']),
  }),
  corrections: z.array(correction).max(MOST_CORRECTIONS),
  checklist: z
    .array(check)
    .max(CHECKS.length)
    .refine(
      (checks) => new Set(checks.map((one) => one.check)).size === checks.length,
      'must not answer a check twice',
    ),
  typed,
});
export type Weighed = z.infer<typeof Weighed>;

/** Names of supports are one name whatever their case and outer spaces. */
export function supportKey(name: string): string {
  return name.trim().toLowerCase().normalize('NFC');
}
