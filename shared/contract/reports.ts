/**
 * The reports as they cross the wire and as `--json` prints them: SI values under names that end in their unit, nothing
 * rounded. Who receives one parses it with these schemas; who makes one has their types.
 */
import { z } from 'zod';
import { CAUSES } from '#shared/ledger/cause.ts';
import { Condition, Entry, Evidence, PartId, Process } from '#shared/ledger/entry.ts';

const share = z.number().optional();
const massKg = z.number();
const stationM = z.number().optional();

export const CgReport = z.object({ xM: stationM, yM: stationM, zM: stationM, percentMac: z.number().optional() });
export type CgReport = z.infer<typeof CgReport>;

export const CgStanding = z.enum(['in range', 'forward of range', 'aft of range']);
export type CgStanding = z.infer<typeof CgStanding>;

/** `marginKg` = target - predicted - reserve; its share is of the target. */
export const TargetReport = z.object({
  revision: z.int(),
  emptyMassKg: massKg,
  reserveKg: massKg,
  marginKg: massKg,
  marginShareOfTarget: z.number(),
  cgForwardM: stationM,
  cgAftM: stationM,
  cgStanding: CgStanding.optional(),
});
export type TargetReport = z.infer<typeof TargetReport>;

export const HeadlineReport = z.object({
  seq: z.int(),
  partCount: z.int(),
  pieceCount: z.int(),
  basicKg: massKg,
  allowanceKg: massKg,
  predictedKg: massKg,
  weighedKg: massKg,
  /** Basic mass of weighed pieces over all basic mass. */
  weighedShare: share,
  installedKg: massKg,
  inStockKg: massKg,
  /** Basic mass whose station is not known; the CG is that of the rest. */
  withoutArmKg: massKg,
  cg: CgReport,
  cgBasic: CgReport,
  targets: TargetReport.optional(),
  withoutEstimate: z.array(z.string()),
  withoutArm: z.array(z.string()),
  driftingCount: z.int(),
  watchCount: z.int(),
  /** Flagged weighings whose cause nobody has stated. */
  withoutCause: z.array(z.string()),
});
export type HeadlineReport = z.infer<typeof HeadlineReport>;

export const BreakdownReport = z.object({
  name: z.string(),
  partCount: z.int(),
  basicKg: massKg,
  predictedKg: massKg,
  weighedKg: massKg,
  weighedShare: share,
  cgXM: stationM,
  targetKg: massKg.optional(),
  marginKg: massKg.optional(),
});
export type BreakdownReport = z.infer<typeof BreakdownReport>;

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
  cause: z.string().optional(),
});
export type DriftReport = z.infer<typeof DriftReport>;

export const EffectReport = z.object({
  cause: z.enum(CAUSES),
  isCorrection: z.boolean(),
  massKg,
  momentXKgM: z.number(),
  momentYKgM: z.number(),
  momentZKgM: z.number(),
  marginKg: massKg,
});
export type EffectReport = z.infer<typeof EffectReport>;

export const EntryReport = z.object({
  seq: z.int(),
  recordedAt: z.string(),
  entry: Entry,
  /** Number and quantity of the part that the entry is about. */
  part: z.string().optional(),
  quantity: z.int().optional(),
  correctedBySeq: z.int().optional(),
  correctsSeq: z.int().optional(),
  effects: z.array(EffectReport),
  predictedKg: massKg,
  cgXM: stationM,
  marginKg: massKg.optional(),
});
export type EntryReport = z.infer<typeof EntryReport>;

export const DayReport = z.object({
  day: z.string(),
  basicKg: massKg,
  predictedKg: massKg,
  cgXM: stationM,
  targetKg: massKg.optional(),
  cgForwardM: stationM,
  cgAftM: stationM,
  marginKg: massKg.optional(),
  effects: z.array(EffectReport),
});
export type DayReport = z.infer<typeof DayReport>;

export const PartReport = z.object({
  partId: PartId,
  number: z.string(),
  name: z.string(),
  group: z.string(),
  assembly: z.string().optional(),
  process: Process,
  quantity: z.int(),
  /** Numbers of the pieces that have been weighed, and of those built in. */
  weighed: z.array(z.int()),
  installed: z.array(z.int()),
  lastWeighedOn: z.string().optional(),
  lastTareKg: massKg.optional(),
  estimateKg: massKg.optional(),
  evidence: Evidence.optional(),
  growth: z.number().optional(),
  flashKg: massKg.optional(),
  laterKg: massKg.optional(),
  basicKg: massKg,
  predictedKg: massKg,
  xM: stationM,
  yM: stationM,
  zM: stationM,
  flag: DriftFlag.optional(),
});
export type PartReport = z.infer<typeof PartReport>;

/**
 * A weighing judged before it is saved (rule W4). `allowanceUsedFraction` is the growth in per cent points of the moulded estimate
 * that the difference uses, `allowanceFraction` what the estimate allowed for.
 */
export const PreviewReport = z.object({
  judgement: JudgementReport.optional(),
  allowanceFraction: z.number().optional(),
  allowanceUsedFraction: z.number().optional(),
  projectedKg: massKg,
  predictedBeforeKg: massKg,
  predictedAfterKg: massKg,
  marginAfterKg: massKg.optional(),
  cgBeforeXM: stationM,
  cgAfterXM: stationM,
  /** Reasons to look twice before saving; empty where there are none. */
  doubts: z.array(z.object({ slip: z.string(), words: z.string() })),
});
export type PreviewReport = z.infer<typeof PreviewReport>;
