/** The weighing of the whole aircraft as it crosses the wire: the draft that screens share, what was signed, and what the scales found beyond the parts. */
import { z } from 'zod';
import { MOST_DRAFT_FIELDS, MOST_DRAFT_TEXT } from '#shared/aircraft-weighing/draft.ts';
import { AircraftWeighing } from '#shared/ledger/entry.ts';
import { isStorable } from '#shared/ledger/plain-text.ts';

/** Field by field, as the screens write it. */
export const DraftWords = z
  .record(
    z.string().regex(/^[a-zA-Z][\w -]{0,118}$/, 'names of fields are plain words'),
    z.string().max(MOST_DRAFT_TEXT).refine(isStorable, 'has a character in it that cannot be kept: type it again'),
  )
  .refine(
    (words) => Object.keys(words).length <= MOST_DRAFT_FIELDS,
    `must not have more than ${MOST_DRAFT_FIELDS} fields`,
  );

export const WeighingDraftReport = z.object({
  id: z.uuid(),
  version: z.int(),
  by: z.string(),
  changedAt: z.string(),
  words: DraftWords,
});
export type WeighingDraftReport = z.infer<typeof WeighingDraftReport>;

/** `id` is made by the screen that begins, and is the id of the entry that is signed; `after` is the version that was seen, 0 for a new draft. */
export const SentWeighingDraft = z.strictObject({
  id: z.uuid().toLowerCase(),
  after: z.int().min(0).max(1_000_000),
  words: DraftWords,
});
/** What stands now; `isKept` is false where somebody else was faster, and nothing was written. */
export const KeptWeighingDraft = z.object({ isKept: z.boolean(), draft: WeighingDraftReport });
export type KeptWeighingDraft = z.infer<typeof KeptWeighingDraft>;
export const DroppedWeighingDraft = z.object({ isGone: z.boolean() });
export const SentDrop = z.strictObject({ id: z.uuid().toLowerCase(), version: z.int().min(1).max(1_000_000) });

const stationM = z.number().optional();

/** A part near the arm at which an unexplained mass must sit. */
export const NearReport = z.object({
  number: z.string(),
  name: z.string(),
  assembly: z.string().optional(),
  massKg: z.number(),
  massStdKg: z.number(),
  xM: z.number(),
  isWeighed: z.boolean(),
});

/**
 * Rule A3: weighed less what the ledger counts of the parts that were aboard, without allowance and reserve. An arm is only told where the
 * difference in mass is real, a moment only where the CG alone differs.
 */
export const ReconcileReport = z.object({
  ledgerKg: z.number(),
  ledgerStdKg: z.number(),
  ledgerXM: stationM,
  ledgerXStdM: stationM,
  /** Of parts aboard whose station is not known. */
  withoutArmKg: z.number(),
  partCount: z.int(),
  differenceKg: z.number(),
  differenceStdKg: z.number(),
  massIsReal: z.boolean(),
  cgDifferenceM: stationM,
  cgDifferenceStdM: stationM,
  cgIsReal: z.boolean(),
  armM: stationM,
  armStdM: stationM,
  momentKgM: stationM,
  momentStdKgM: stationM,
  near: z.array(NearReport),
});
export type ReconcileReport = z.infer<typeof ReconcileReport>;

/** A weighing that is not signed, for what it would find; stations from the present datum. */
export const SentPoint = z.strictObject({
  happenedOn: z.iso.date(),
  notAboard: z.string().max(20_000),
  massKg: z.number().positive().max(1e6),
  massStdKg: z.number().min(0).max(1e6),
  xM: z.number().min(-1000).max(1000),
  xStdM: z.number().min(0).max(1000),
});
export type SentPoint = z.infer<typeof SentPoint>;

export const SignedWeighingReport = z.object({
  /** Of the entry first made, and of the one that says it now. */
  seq: z.int(),
  latestSeq: z.int(),
  id: z.string(),
  happenedOn: z.string(),
  by: z.string(),
  recordedAt: z.string(),
  /** Stations as they were told, from the datum of that time. */
  statement: AircraftWeighing,
  datumHasMoved: z.boolean(),
  datum: z.string(),
  reconcile: ReconcileReport.optional(),
  /** Numbers of the parts that were not aboard, with their pieces. */
  notAboard: z.string(),
});
export type SignedWeighingReport = z.infer<typeof SignedWeighingReport>;

export const AircraftWeighingsReport = z.object({
  seq: z.int(),
  draft: WeighingDraftReport.optional(),
  /** Newest first by the day. */
  signed: z.array(SignedWeighingReport),
  oilIsEmptyWeight: z.boolean(),
  /** How the aircraft is levelled, in words. */
  levelling: z.string().optional(),
});
export type AircraftWeighingsReport = z.infer<typeof AircraftWeighingsReport>;
