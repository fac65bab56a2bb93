/** What the set-up of an aircraft says, as it crosses the wire. SI values; stations are told from the present datum, but where they say otherwise. */
import { z } from 'zod';
import { Material } from '#shared/layup/material.ts';
import { Evidence, PartLimit, Process } from '#shared/ledger/entry.ts';
import { LENGTH_UNITS, MASS_UNITS } from '#shared/quantity/units.ts';

const massKg = z.number();
const stationM = z.number().optional();
/** Who stated it and when; `seq` is the entry first made, `latestSeq` the one that a correction would name. */
const stated = { seq: z.int(), latestSeq: z.int(), happenedOn: z.string(), by: z.string() };
const typed = z.record(z.string(), z.string());

export const DescriptionReport = z.object({
  ...stated,
  name: z.string(),
  datum: z.string(),
  levelling: z.string().optional(),
  macM: z.number().optional(),
  lemacM: stationM,
  massUnit: z.enum(MASS_UNITS),
  lengthUnit: z.enum(LENGTH_UNITS),
  typed,
});
export type DescriptionReport = z.infer<typeof DescriptionReport>;

export const DatumMoveReport = z.object({ ...stated, shiftM: z.number(), datum: z.string(), reason: z.string() });
export type DatumMoveReport = z.infer<typeof DatumMoveReport>;

export const RevisionReport = z.object({
  ...stated,
  revision: z.int(),
  emptyMassKg: massKg,
  reserveKg: massKg,
  cgForwardM: stationM,
  cgAftM: stationM,
  groups: z.array(z.object({ group: z.string(), massKg: massKg.optional() })),
  partLimit: PartLimit,
  reason: z.string().optional(),
  /** What today's predicted mass leaves of it. */
  marginKg: massKg,
  typed,
});
export type RevisionReport = z.infer<typeof RevisionReport>;

/** The shop's own growth allowances (rule E1), and how far its processes and pieces are off (F1). */
export const AllowancesReport = z.object({
  ...stated,
  shares: z.array(z.object({ process: Process, evidence: Evidence, growth: z.number() })),
  /** Rule F1: as fractions; what is not stated stays as common practice has it. */
  processShiftStd: z.number().optional(),
  pieceToPieceStd: z.number().optional(),
  reason: z.string().optional(),
  typed,
});
export type AllowancesReport = z.infer<typeof AllowancesReport>;

export const MaterialReport = z.object({ ...stated, material: Material, isWithdrawn: z.boolean() });
export type MaterialReport = z.infer<typeof MaterialReport>;

/**
 * Moves in the order in which they were recorded; revisions and allowances oldest first by their day, the last one in force. Materials by
 * name, each as it was stated last.
 */
export const SetUpReport = z.object({
  seq: z.int(),
  description: DescriptionReport.optional(),
  moves: z.array(DatumMoveReport),
  revisions: z.array(RevisionReport),
  allowances: z.array(AllowancesReport),
  materials: z.array(MaterialReport),
});
export type SetUpReport = z.infer<typeof SetUpReport>;
