/**
 * The reports as they cross the wire and as `--json` prints them: SI values under names that end in their unit, nothing
 * rounded. Who receives one parses it with these schemas; who makes one has their types.
 */
import { z } from 'zod';
import { CAUSES } from '#shared/ledger/cause.ts';
import { Condition, Entry, Evidence, PartId, Process, Side, Statement } from '#shared/ledger/entry.ts';
import { CgStanding, DriftFlag, JudgementReport, MarkReport } from './drift.ts';
import { LaminateReport } from './layup.ts';

const share = z.number().optional();
const massKg = z.number();
const stationM = z.number().optional();

/** Each figure with its standard uncertainty (rule U2), where that is reckoned. */
export const CgReport = z.object({
  xM: stationM,
  yM: stationM,
  zM: stationM,
  percentMac: z.number().optional(),
  xStdM: z.number().optional(),
  yStdM: z.number().optional(),
  zStdM: z.number().optional(),
  percentMacStd: z.number().optional(),
});
export type CgReport = z.infer<typeof CgReport>;

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
  /** Within one standard uncertainty of an end of the range (rule D3). */
  cgIsNearEnd: z.boolean(),
});
export type TargetReport = z.infer<typeof TargetReport>;

/** Parts that are on a list, in the order in which they were added: how many, and the numbers of the first ones. */
export const MOST_LISTED = 12;
export const Listed = z.object({ count: z.int(), first: z.array(z.string()).max(MOST_LISTED) });
export type Listed = z.infer<typeof Listed>;

export const HeadlineReport = z.object({
  seq: z.int(),
  partCount: z.int(),
  pieceCount: z.int(),
  basicKg: massKg,
  allowanceKg: massKg,
  predictedKg: massKg,
  /** Standard uncertainty of basic and predicted mass, and so of the margin. */
  predictedStdKg: massKg,
  /** Parts that count as estimated with an uncertainty that nobody stated (rule U2). */
  assumedStdCount: z.int(),
  /** Parts whose station x counts as exact, because nobody stated an uncertainty: the CG is less sure than it looks. */
  exactArmCount: z.int(),
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
  withoutEstimate: Listed,
  withoutArm: Listed,
  driftingCount: z.int(),
  watchCount: z.int(),
  /** Flagged weighings whose cause nobody has stated, and those on which nobody has decided. */
  withoutCause: Listed,
  withoutDecision: Listed,
  /** Weighings that count and whose scale is in doubt. */
  inDoubt: Listed,
  /** Groups predicted over their target, and sums of parts that are each in line (rules D3, D5). */
  groupsOver: z.array(z.string()),
  manySmallCount: z.int(),
});
export type HeadlineReport = z.infer<typeof HeadlineReport>;

export const BreakdownReport = z.object({
  name: z.string(),
  partCount: z.int(),
  basicKg: massKg,
  predictedKg: massKg,
  weighedKg: massKg,
  weighedShare: share,
  predictedStdKg: massKg,
  cgXM: stationM,
  cgXStdM: z.number().optional(),
  targetKg: massKg.optional(),
  marginKg: massKg.optional(),
});
export type BreakdownReport = z.infer<typeof BreakdownReport>;

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

const BridgeEnd = z.object({
  /** The number of the entry, or the day; empty or 0 for the beginning. */
  at: z.string(),
  predictedKg: massKg,
  cgXM: stationM,
  marginKg: massKg.optional(),
});
/** By what a change is told apart: by its causes, by the groups of parts, or by the parts themselves (rule L6). */
export const BRIDGE_KEYS = ['cause', 'group', 'part'] as const;
export const BridgeKey = z.enum(BRIDGE_KEYS);
export type BridgeKey = z.infer<typeof BridgeKey>;

/** What one group or part has to do with a change. The rows add up to it exactly. */
export const BridgeRow = z.object({
  of: z.enum(['group', 'part', 'all other parts', 'aircraft weighed', 'targets']),
  /** Of a group its name, of a part its number. */
  name: z.string(),
  partId: PartId.optional(),
  /** The parts whose change is in it. */
  partCount: z.int(),
  massKg,
  momentXKgM: z.number(),
  marginKg: massKg,
});
export type BridgeRow = z.infer<typeof BridgeRow>;

/** What took the aircraft from one moment to another. */
export const BridgeReport = z.object({
  axis: z.enum(['entry', 'day']),
  by: BridgeKey,
  from: BridgeEnd,
  to: BridgeEnd,
  /** By cause, whatever was asked for. */
  effects: z.array(EffectReport),
  /** By group or by part, largest first; empty where it is asked for by cause. */
  rows: z.array(BridgeRow),
});
export type BridgeReport = z.infer<typeof BridgeReport>;

export const EntryReport = z.object({
  seq: z.int(),
  recordedAt: z.string(),
  entry: Entry,
  /** Number and quantity of the part that the entry is about. */
  part: z.string().optional(),
  quantity: z.int().optional(),
  correctedBySeq: z.int().optional(),
  correctsSeq: z.int().optional(),
  /** The correction that names this entry strikes it out. */
  isStruckOut: z.boolean().optional(),
  /** Of a correction that strikes an entry out: what that one said. */
  strikes: Statement.optional(),
  effects: z.array(EffectReport),
  /** Of a weighing: what speaks against its scale. */
  marks: z.array(MarkReport),
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

/** What somebody still has to do about a part. */
export const OPEN_THINGS = [
  'estimate missing',
  'arm missing',
  'cause missing',
  'decision missing',
  'scale in doubt',
] as const;
export const OpenThing = z.enum(OPEN_THINGS);
export type OpenThing = z.infer<typeof OpenThing>;

/** Why something is due for weighing, the most pressing first. */
export const DUE_WHYS = [
  'scale in doubt',
  'reworked',
  'made anew',
  'pieces left',
  'flash on',
  'all in it weighed',
] as const;
export const DueReport = z.object({ why: z.enum(DUE_WHYS), pieces: z.array(z.int()) });
export type DueReport = z.infer<typeof DueReport>;

export const PartReport = z.object({
  partId: PartId,
  number: z.string(),
  name: z.string(),
  group: z.string(),
  assembly: z.string().optional(),
  process: Process,
  side: Side.optional(),
  quantity: z.int(),
  /** Numbers of the pieces that have been weighed, and of those built in. */
  weighed: z.array(z.int()),
  installed: z.array(z.int()),
  /** The last one that counts, of the part itself or as an assembly; the net of one piece. */
  lastWeighing: z.object({ seq: z.int(), weighedOn: z.string(), condition: Condition, netKg: massKg }).optional(),
  estimateKg: massKg.optional(),
  evidence: Evidence.optional(),
  growth: z.number().optional(),
  flashKg: massKg.optional(),
  laterKg: massKg.optional(),
  /** Of what goes on later, the part that goes on after fitting out. */
  finishKg: massKg.optional(),
  basicKg: massKg,
  predictedKg: massKg,
  predictedStdKg: massKg,
  xM: stationM,
  yM: stationM,
  zM: stationM,
  /** An arm along x that was measured, and not estimated. */
  armIsMeasured: z.boolean(),
  /** All weighed pieces together against the estimate for their condition; the fraction is of what was expected of them. */
  differenceKg: massKg.optional(),
  differenceFraction: share,
  flag: DriftFlag.optional(),
  open: z.array(OpenThing),
  /** What of it is due for weighing, and why. */
  due: z.array(DueReport),
  /** Where the part is an assembly: the parts directly in it, and its weighing as a whole if there is one. */
  childCount: z.int(),
  asAssembly: z
    .object({
      weighingSeq: z.int(),
      weighedOn: z.string(),
      condition: Condition,
      projectedKg: massKg,
      residualKg: massKg,
    })
    .optional(),
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
  /** The allowance that is needed no more; less than nothing where more is needed. */
  allowanceFreedKg: massKg,
  marginAfterKg: massKg.optional(),
  cgBeforeXM: stationM,
  cgAfterXM: stationM,
  /** What it says of the laminate (rule E6), where the part has a lay-up schedule. */
  laminate: LaminateReport.optional(),
  /** Reasons to look twice before saving; empty where there are none. */
  doubts: z.array(
    z.object({
      slip: z.string(),
      words: z.string(),
      /** The ways out, where there are any: a condition in which it counts, an entry to put right, parts that it fits. */
      weighAs: z.array(Condition).optional(),
      correctSeq: z.int().optional(),
      parts: z.array(z.string()).optional(),
    }),
  ),
});
export type PreviewReport = z.infer<typeof PreviewReport>;
