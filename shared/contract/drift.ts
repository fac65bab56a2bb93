/** What drifts, as it crosses the wire (rules D1-D3, D5, W7, W9, W10). SI values under names that end in their unit. */

import { z } from 'zod';
import { Condition, Disposition, DriftCause, PartId, Process } from '#shared/ledger/entry.ts';
import { say } from '#shared/words/say.ts';

const share = z.number().optional();
const massKg = z.number();
const stationM = z.number().optional();

export const DriftFlag = z.enum(['in line', 'watch heavy', 'watch light', 'drifting heavy', 'drifting light']);
export type DriftFlag = z.infer<typeof DriftFlag>;

/** How a weighing stands to its estimate (rule D1). Masses are of one piece. */
export const JudgementReport = z.object({
  expectedKg: massKg,
  netKg: massKg,
  netStdKg: massKg,
  differenceKg: massKg,
  differenceFraction: share,
  limitKg: massKg,
  /** The scale tells the difference from zero. */
  isTold: z.boolean(),
  flag: DriftFlag,
});
export type JudgementReport = z.infer<typeof JudgementReport>;

/** What speaks against the scale of a weighing (rules W1, W12). */
export const MarkReport = z.discriminatedUnion('mark', [
  z.object({ mark: z.literal('calibration out of date'), dueOn: z.string() }),
  z.object({ mark: z.literal('check weight failed'), checkSeq: z.int(), checkedOn: z.string() }),
]);
export type MarkReport = z.infer<typeof MarkReport>;

export const DriftReport = JudgementReport.extend({
  number: z.string(),
  name: z.string(),
  group: z.string(),
  process: Process,
  quantity: z.int(),
  pieces: z.array(z.int()),
  /** The entry to look at, or to correct. */
  weighingSeq: z.int(),
  weighedOn: z.string(),
  condition: Condition,
  marginEffectKg: massKg,
  cgEffectM: z.number().optional(),
  /** Of the effect on the CG, what a measured arm adds. */
  armEffectM: z.number().optional(),
  cause: z.string().optional(),
  disposition: Disposition.optional(),
  decidedBy: z.string().optional(),
  /** What was found, where the decision says so. */
  inspection: z.string().optional(),
  marks: z.array(MarkReport),
});
export type DriftReport = z.infer<typeof DriftReport>;

export const GroupDriftReport = z.object({
  group: z.string(),
  predictedKg: massKg,
  forecastKg: massKg,
  forecastStdKg: massKg,
  targetKg: massKg,
  /** Target less forecast: what the excess takes from the aircraft's margin. */
  marginKg: massKg,
  /** What the excess, at the group's own CG, does to the CG of the aircraft. */
  cgEffectM: z.number().optional(),
});
export type GroupDriftReport = z.infer<typeof GroupDriftReport>;

export const CgStanding = z.enum(['in range', 'forward of range', 'aft of range']);
export type CgStanding = z.infer<typeof CgStanding>;

export const CgDriftReport = z.object({
  level: z.enum(['watch', 'drifting']),
  standing: CgStanding,
  xM: z.number(),
  xStdM: z.number().optional(),
  cgForwardM: stationM,
  cgAftM: stationM,
});
export type CgDriftReport = z.infer<typeof CgDriftReport>;

/** A weighed assembly and its residual, a pair of mass and moment. The judgement is of its net against its parts. */
export const AssemblyDriftReport = JudgementReport.extend({
  partId: PartId,
  number: z.string(),
  name: z.string(),
  group: z.string(),
  weighingSeq: z.int(),
  weighedOn: z.string(),
  condition: Condition,
  partCount: z.int(),
  projectedKg: massKg,
  partsKg: massKg,
  residualKg: massKg,
  residualMomentXKgM: z.number(),
  marginEffectKg: massKg,
  cgEffectM: z.number().optional(),
  /** On the assembly's own piece, since it was weighed (rule W11). */
  disposition: Disposition.optional(),
  decidedBy: z.string().optional(),
});
export type AssemblyDriftReport = z.infer<typeof AssemblyDriftReport>;

/** Parts that are each in line and add up beyond twice the standard deviation of their sum. */
export const ManySmallReport = z.object({
  by: z.enum(['group', 'process', 'lot']),
  name: z.string(),
  partCount: z.int(),
  sumKg: massKg,
  sdKg: massKg,
  /** What the sum takes from the margin, and does to the CG, each difference at its part's arm. */
  marginEffectKg: massKg,
  cgEffectM: z.number().optional(),
  /** The stated cause, as long as it speaks of the sum: not once it has grown on. */
  cause: z
    .object({ seq: z.int(), cause: DriftCause, found: z.string().optional(), on: z.string(), by: z.string() })
    .optional(),
});
export type ManySmallReport = z.infer<typeof ManySmallReport>;

/** Everything that drifts. */
export const FindingsReport = z.object({
  parts: z.array(DriftReport),
  groups: z.array(GroupDriftReport),
  cg: CgDriftReport.optional(),
  assemblies: z.array(AssemblyDriftReport),
  manySmall: z.array(ManySmallReport),
});
export type FindingsReport = z.infer<typeof FindingsReport>;

/** By what differences can be split (rule W10). */
export const SPLITS = [
  'process',
  'group',
  'lot',
  'batch',
  'operator',
  'scale',
  'condition',
  'temperature',
  'humidity',
] as const;
export const SplitKey = z.enum(SPLITS);
export type SplitKey = z.infer<typeof SplitKey>;

/** Differences of the weighings that count, pieces counted one by one; fractions are of what was expected. */
export const SplitReport = z.object({
  name: z.string(),
  pieceCount: z.int(),
  sumKg: massKg,
  meanFraction: share,
  sdFraction: share,
});
export type SplitReport = z.infer<typeof SplitReport>;

/** What two weighings of one piece taught (rule W9), by process; fractions are of the trimmed mass. */
export const PairReport = z.object({
  process: Process,
  what: z.enum(['flash', 'later']),
  pairCount: z.int(),
  meanFraction: z.number(),
  sdFraction: share,
  /** What the estimates of these pieces said, in the same measure. */
  estimatedFraction: z.number(),
  /** Parts of the process that are not all weighed, with what the lesson would make of their estimate. */
  offers: z.array(z.object({ number: z.string(), estimatedKg: massKg, offeredKg: massKg })),
});
export type PairReport = z.infer<typeof PairReport>;

export const ScaleReport = z.object({
  scale: z.string(),
  capacityKg: massKg.optional(),
  resolutionKg: massKg.optional(),
  gainStd: z.number(),
  calibratedOn: z.string().optional(),
  dueOn: z.string().optional(),
  lastCheckOn: z.string().optional(),
  lastCheckPassed: z.boolean().optional(),
  weighingCount: z.int(),
  /** The entries on this scale that are in doubt. */
  marked: z.array(z.object({ seq: z.int(), part: z.string().optional(), marks: z.array(MarkReport) })),
});
export type ScaleReport = z.infer<typeof ScaleReport>;

/** The row of what nobody has stated. */
export const NOT_STATED = say`(not stated)`;
