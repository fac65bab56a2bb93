/** One part with its history, as it crosses the wire. SI values under names that end in their unit; stations are told from the present datum. */
import { z } from 'zod';
import { Geometry } from '#shared/geometry/geometry.ts';
import { LayUp } from '#shared/layup/schedule.ts';
import { ArmWay, Condition, Evidence } from '#shared/ledger/entry.ts';
import { JudgementReport, MarkReport } from './drift.ts';
import { LaminateReport, LayUpReport } from './layup.ts';
import { PartReport } from './reports.ts';

const massKg = z.number();
const stationM = z.number().optional();
/** Who stated it and when; `seq` is the entry to look at, or to correct. */
const stated = { seq: z.int(), happenedOn: z.string(), by: z.string() };

export const EstimateReport = z.object({
  ...stated,
  massKg,
  massStdKg: massKg.optional(),
  xM: stationM,
  yM: stationM,
  zM: stationM,
  armStdM: z.number().optional(),
  evidence: Evidence,
  growth: z.number(),
  laterGrowth: z.number(),
  growthFrom: z.enum(['stated', 'shop default']),
  flashKg: massKg,
  laterKg: massKg,
  finishKg: massKg.optional(),
  /** Its zero told from the present datum, as the stations are. */
  geometry: Geometry.optional(),
  /** Where the masses follow from a schedule. */
  layUp: LayUp.optional(),
  typed: z.record(z.string(), z.string()),
});
export type EstimateReport = z.infer<typeof EstimateReport>;

/** A weighing of the part by itself. Net and judgement are of one piece. */
export const PartWeighingReport = z.object({
  ...stated,
  pieces: z.array(z.int()),
  /** Of these, those it still speaks for: not weighed again in a later condition, not withdrawn. */
  countsFor: z.array(z.int()),
  condition: Condition,
  netKg: massKg,
  netStdKg: massKg,
  scale: z.string().optional(),
  judgement: JudgementReport.optional(),
  cause: z.string().optional(),
  decision: z.string().optional(),
  decidedBy: z.string().optional(),
  marks: z.array(MarkReport),
  /** Where the estimate of its day is one by lay-up. */
  laminate: LaminateReport.optional(),
});
export type PartWeighingReport = z.infer<typeof PartWeighingReport>;

export const PartArmReport = z.object({
  ...stated,
  xM: stationM,
  yM: stationM,
  zM: stationM,
  armStdM: z.number().optional(),
  how: ArmWay.optional(),
});
export type PartArmReport = z.infer<typeof PartArmReport>;

/** One article that had the number of a piece: what ended the one before, and its weighings by their entries. */
const LifeReport = z.object({
  begun: z.object({ ...stated, reason: z.string() }).optional(),
  weighings: z.array(z.int()),
});

export const PieceReport = z.object({ piece: z.int(), isInstalled: z.boolean(), lives: z.array(LifeReport) });
export type PieceReport = z.infer<typeof PieceReport>;

/** An assembly among them counts for everything in it. */
const relative = PartReport.pick({
  partId: true,
  number: true,
  name: true,
  quantity: true,
  predictedKg: true,
  predictedStdKg: true,
  flag: true,
});

/** Newest first, but for the pieces, which are those that something is known of, by their number. */
export const PartPageReport = z.object({
  seq: z.int(),
  part: PartReport,
  /** The entry that says what the part is. */
  added: z.object(stated),
  estimates: z.array(EstimateReport),
  /** Where the estimate in force is one by lay-up. */
  layUp: LayUpReport.optional(),
  weighings: z.array(PartWeighingReport),
  arms: z.array(PartArmReport),
  armStdM: z.number().optional(),
  pieces: z.array(PieceReport),
  assembly: relative.optional(),
  children: z.array(relative),
  /** Of an assembly: everything in it, however deep, with its own. */
  whole: z.object({ predictedKg: massKg, predictedStdKg: massKg, cgXM: stationM, partCount: z.int() }).optional(),
  /** What the differences of the weighed pieces do to the aircraft (rule D2). */
  marginEffectKg: massKg,
  cgEffectM: z.number().optional(),
  /** The aircraft as predicted, with the part and without it. */
  aircraft: z.object({ predictedKg: massKg, cgXM: stationM }),
  without: z.object({ predictedKg: massKg, cgXM: stationM }),
});
export type PartPageReport = z.infer<typeof PartPageReport>;
