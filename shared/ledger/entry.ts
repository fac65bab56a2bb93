/**
 * The ledger's only record (domain of rules L1-L4): what was stated, by whom and when it happened. An entry is a flat
 * object; SI values stand under names that end in their unit, and `typed` keeps the words as they were typed.
 * This file says what an entry is. Whether it may be recorded now is `admit.ts`; what it does is `fold.ts`.
 */
import { z } from 'zod';
import { Weighed } from '#shared/aircraft-weighing/weighing.ts';
import { Geometry } from '#shared/geometry/geometry.ts';
import { Material } from '#shared/layup/material.ts';
import { LayUp } from '#shared/layup/schedule.ts';
import { LoadingLimits } from '#shared/loading/limits.ts';
import { MOST_LENGTH_M, MOST_MASS_KG } from '#shared/quantity/typed.ts';
import { LENGTH_UNITS, MASS_UNITS } from '#shared/quantity/units.ts';
import { plainText } from './plain-text.ts';

/** Most pieces of one part. */
export const MOST_PIECES = 10_000;

const uuid = z.uuid().toLowerCase();
export const EntryId = uuid.brand<'EntryId'>();
export const PartId = uuid.brand<'PartId'>();
export const AircraftId = uuid.brand<'AircraftId'>();
export type EntryId = z.infer<typeof EntryId>;
export type PartId = z.infer<typeof PartId>;
export type AircraftId = z.infer<typeof AircraftId>;

const massKg = z.number().min(0).max(MOST_MASS_KG);
const stationM = z.number().min(-MOST_LENGTH_M).max(MOST_LENGTH_M);
const lengthM = z.number().min(0).max(MOST_LENGTH_M);
const day = z.iso.date('must be a day written as 2026-05-31');
const typed = z.record(z.string(), z.string().max(80)).default({});

export const Evidence = z.enum(['estimated', 'calculated']);
export type Evidence = z.infer<typeof Evidence>;

/** What has been done to a piece when it stands on the scale (rule E2). */
export const Condition = z.enum(['as released', 'trimmed', 'fitted', 'finished']);
export type Condition = z.infer<typeof Condition>;

export const Process = z.enum([
  'resin-infused',
  'wet lay-up',
  'prepreg',
  'machined',
  'printed',
  'bought',
  'wiring',
  'bonding',
  'finish',
  'fluid',
  'other',
]);
export type Process = z.infer<typeof Process>;

export const Side = z.enum(['left', 'right', 'centre']);

/** Why a piece came out heavy or light (rule W5). */
export const DriftCause = z.enum([
  'resin-rich',
  'dry',
  'extra reinforcement',
  'core changed',
  'top coat thick',
  'filler or bond',
  'estimate wrong',
  'design changed',
  'scale or tare',
  'other',
]);

const pieceNumber = z.int().min(1).max(MOST_PIECES);
/** A lot is divided by how many pieces are named, so none may be named twice. */
const pieces = z
  .array(pieceNumber)
  .min(1)
  .max(MOST_PIECES)
  .refine((numbers) => new Set(numbers).size === numbers.length, 'must not name a piece twice');

const aircraft = z.strictObject({
  kind: z.literal('aircraft'),
  name: plainText(80),
  datum: plainText(400),
  levelling: plainText(400).optional(),
  macM: lengthM.positive('the mean aerodynamic chord must be longer than 0').optional(),
  lemacM: stationM.optional(),
  massUnit: z.enum(MASS_UNITS),
  lengthUnit: z.enum(LENGTH_UNITS),
  /** Rule A5: whether the oil counts as empty weight; it does where it is not said. Older certification bases take it out. */
  oilIsEmptyWeight: z.boolean().optional(),
  typed,
});

const partAdded = z.strictObject({
  kind: z.literal('part added'),
  partId: PartId,
  number: plainText(60),
  name: plainText(120),
  group: plainText(60),
  parentPartId: PartId.optional(),
  quantity: pieceNumber,
  side: Side.optional(),
  process: Process,
});

const partRemoved = z.strictObject({ kind: z.literal('part removed'), partId: PartId, reason: plainText(400) });

/**
 * Rule E1. Masses are per piece. `growth` and `laterGrowth` are the allowances on the moulded mass and on what goes on later.
 * `finishKg` is how much of `laterKg` goes on after fitting out: coats and filler.
 */
const estimate = z.strictObject({
  kind: z.literal('estimate'),
  partId: PartId,
  massKg,
  massStdKg: massKg.optional(),
  xM: stationM.optional(),
  yM: stationM.optional(),
  zM: stationM.optional(),
  armStdM: lengthM.optional(),
  evidence: Evidence,
  growth: z.number().min(0).max(5),
  laterGrowth: z.number().min(0).max(5),
  growthFrom: z.enum(['stated', 'shop default']),
  flashKg: massKg,
  laterKg: massKg,
  finishKg: massKg.optional(),
  /** Rule E5: the mesh from which the stations come. */
  geometry: Geometry.optional(),
  /** What the part is laid up of (rule E3): mass, its uncertainty, later and finish are then what this comes to. */
  layUp: LayUp.optional(),
  typed,
});

/** What a scale showed (rules W1, L4, U1). `netKg` is the mean net of the readings, everything on the scale together. */
const onScale = {
  readings: z
    .array(z.strictObject({ grossKg: massKg, tareKg: massKg, typed: z.record(z.string(), z.string().max(80)) }))
    .min(1)
    .max(100),
  netKg: massKg.positive(),
  grossResolutionKg: massKg,
  tareResolutionKg: massKg,
  resolutionFrom: z.enum(['stated', 'digits typed']),
  scale: plainText(60).optional(),
  /** What carried the load. Weighings that name one fixture and took off one tare share the error of that tare. */
  fixture: plainText(60).optional(),
};

/** Rules W1, W2, W10. What the process was like when the piece was made is kept so that drift can be split by it. */
const weighing = z.strictObject({
  kind: z.literal('weighing'),
  partId: PartId,
  pieces,
  condition: Condition,
  ...onScale,
  lot: plainText(60).optional(),
  batch: plainText(60).optional(),
  operator: plainText(60).optional(),
  temperatureC: z.number().min(-90).max(400).optional(),
  humidityFraction: z.number().min(0).max(1).optional(),
  cause: DriftCause.optional(),
  /** Rule E6: resin mixed for what is on the scale, what was left over, and what stayed in hoses and traps. */
  resin: z.strictObject({ mixedKg: massKg.positive(), leftKg: massKg, inLinesKg: massKg, stdKg: massKg }).optional(),
  /** Resin, temperature and humidity as they were typed. */
  typed: z.record(z.string(), z.string().max(80)).optional(),
});

/** A part that was in the assembly when it was weighed; without `pieces`, all of its pieces. */
const member = z.strictObject({ partId: PartId, pieces: pieces.optional() });
export type Member = z.infer<typeof member>;

/**
 * Rule W7. `partId` is the assembly, which is among its own parts without being named. Stations are those of its measured CG.
 */
const assemblyWeighing = z.strictObject({
  kind: z.literal('assembly weighing'),
  partId: PartId,
  members: z
    .array(member)
    .min(1)
    .max(20_000)
    .refine(
      (members) => new Set(members.map(({ partId }) => partId)).size === members.length,
      'must not name a part twice',
    ),
  condition: Condition,
  ...onScale,
  xM: stationM.optional(),
  yM: stationM.optional(),
  zM: stationM.optional(),
  armStdM: lengthM.optional(),
  typed,
});

/**
 * Rules A1-A4: the whole aircraft on its scales, signed. Mass and CG are those of what stood there, without what does not belong to the empty
 * weight and with what does and is no part; the parts that were not on it are `missing`. All of it follows from `weighed`.
 */
export const AircraftWeighing = z.strictObject({
  kind: z.literal('aircraft weighing'),
  massKg: massKg.positive(),
  massStdKg: massKg,
  xM: stationM,
  xStdM: lengthM,
  yM: stationM.optional(),
  yStdM: lengthM.optional(),
  zM: stationM.optional(),
  zStdM: lengthM.optional(),
  missing: z
    .array(member)
    .max(20_000)
    .refine(
      (members) => new Set(members.map(({ partId }) => partId)).size === members.length,
      'must not name a part twice',
    ),
  weighed: Weighed,
  oilIsEmptyWeight: z.boolean(),
  signedBy: plainText(120),
  signedOn: day,
  /** In what capacity: a licence or an authority, in words. */
  signedAs: plainText(200).optional(),
});

/** Rule W6: the loads on two supports and the stations of these, counted from a bench zero that lies at `benchZeroM`. */
const supports = z.strictObject({
  firstNetKg: massKg,
  firstM: stationM,
  secondNetKg: massKg,
  secondM: stationM,
  benchZeroM: stationM,
});
export type Supports = z.infer<typeof supports>;

/** How an arm was found where no station was simply measured. */
export const ArmWay = z.enum(['on two supports', 'balanced on a bar', 'by hand']);
export type ArmWay = z.infer<typeof ArmWay>;

/** Rule W6: where the part balanced, counted from a bench zero that lies at `benchZeroM`; how well that is known is the arm's uncertainty. */
const balance = z.strictObject({ pointM: stationM, benchZeroM: stationM });

const armMeasured = z.strictObject({
  kind: z.literal('arm measured'),
  partId: PartId,
  xM: stationM.optional(),
  yM: stationM.optional(),
  zM: stationM.optional(),
  armStdM: lengthM.optional(),
  how: ArmWay.optional(),
  supports: supports.optional(),
  balance: balance.optional(),
  typed,
});

const pieceWithdrawn = z.strictObject({
  kind: z.literal('piece withdrawn'),
  partId: PartId,
  pieces,
  reason: plainText(400),
});

const pieceInstalled = z.strictObject({
  kind: z.literal('piece installed'),
  partId: PartId,
  pieces,
});

/** Rule W11: what becomes of a piece that was flagged. A piece that is scrapped stops counting, as one withdrawn does. */
export const Disposition = z.enum(['accepted', 'to be reworked', 'scrapped']);
export type Disposition = z.infer<typeof Disposition>;
const disposition = z.strictObject({
  kind: z.literal('disposition'),
  partId: PartId,
  pieces,
  decision: Disposition,
  /** What was inspected and found. A light piece is not accepted without it. */
  inspection: plainText(2000).optional(),
});

/** A sum of small differences (rule D5) as it stood when it was explained. */
const SmallSum = z.strictObject({
  by: z.enum(['group', 'process', 'lot']),
  name: plainText(60),
  sumKg: z.number(),
  sdKg: massKg,
});

/**
 * Why a process changed (rule D4), said of one of its releases, as a rule of the one at which it was called; or why parts that are each in
 * line add up (rule D5). Either `process` and `releaseSeq` are stated, or `sum` (`admit.ts` holds it to that).
 */
const processCause = z.strictObject({
  kind: z.literal('process cause'),
  process: Process.optional(),
  /** The entry of the release. */
  releaseSeq: z.int().min(1).optional(),
  sum: SmallSum.optional(),
  cause: DriftCause,
  found: plainText(2000).optional(),
});

/**
 * A scale and its calibration (rules W1, U1), stated anew at each calibration. `gainStd` is the relative standard uncertainty of what it
 * shows, common to everything weighed on it: the certificate's figure divided by the certificate's coverage factor.
 */
const scale = z.strictObject({
  kind: z.literal('scale'),
  scale: plainText(60),
  capacityKg: massKg.positive().optional(),
  resolutionKg: massKg.positive().optional(),
  calibratedOn: day.optional(),
  dueOn: day.optional(),
  gainStd: z.number().min(0).max(1),
  typed,
});

/** A material of the shop's list (rule E3), stated anew when it changes. One that is withdrawn is offered no more. */
const material = z.strictObject({
  kind: z.literal('material'),
  material: Material,
  isWithdrawn: z.literal(true).optional(),
});

/** Rule W12: a mass that is known, as the scale shows it. It passes within `limitKg`. */
const checkWeight = z.strictObject({
  kind: z.literal('check weight'),
  scale: plainText(60),
  referenceKg: massKg.positive(),
  shownKg: massKg,
  limitKg: massKg,
  typed,
});

/** The datum goes `shiftM` aft: every arm becomes x - shiftM. */
const datumMoved = z.strictObject({
  kind: z.literal('datum moved'),
  shiftM: stationM,
  datum: plainText(400),
  reason: plainText(400),
  typed,
});

/** The limits of rule D1: a part drifts beyond the larger of the two. */
export const PartLimit = z.strictObject({ absoluteKg: massKg, fraction: z.number().min(0).max(5) });
export type PartLimit = z.infer<typeof PartLimit>;

const targets = z.strictObject({
  kind: z.literal('targets'),
  emptyMassKg: massKg.positive(),
  cgForwardM: stationM.optional(),
  cgAftM: stationM.optional(),
  reserveKg: massKg,
  /** A group without a mass is listed, and has no target of its own. */
  groups: z.array(z.strictObject({ group: plainText(60), massKg: massKg.optional() })).max(500),
  partLimit: PartLimit,
  reason: plainText(400).optional(),
  typed,
});

/**
 * Rule E1: the shop's own growth allowances; rule F1: how far its processes are believed to be off, and how far one piece differs from the
 * next, as standard deviations. What is left out stays as common practice has it.
 */
const allowances = z.strictObject({
  kind: z.literal('allowances'),
  shares: z
    .array(z.strictObject({ process: Process, evidence: Evidence, growth: z.number().min(0).max(5) }))
    .max(Process.options.length * Evidence.options.length)
    .refine(
      (shares) => new Set(shares.map(({ process, evidence }) => `${process} ${evidence}`)).size === shares.length,
      'must not state an allowance twice',
    ),
  processShiftStd: z.number().positive().max(1).optional(),
  pieceToPieceStd: z.number().positive().max(1).optional(),
  reason: plainText(400).optional(),
  typed,
});

/** Rule C1: how the aircraft may be loaded, as a whole; the next statement takes the place of this one. */
const loading = z.strictObject({
  kind: z.literal('loading'),
  limits: LoadingLimits,
  reason: plainText(400).optional(),
});

const note = z.strictObject({ kind: z.literal('note'), partId: PartId.optional(), text: plainText(2000) });

const STATED = [
  aircraft,
  partAdded,
  partRemoved,
  estimate,
  weighing,
  assemblyWeighing,
  AircraftWeighing,
  armMeasured,
  pieceWithdrawn,
  pieceInstalled,
  disposition,
  processCause,
  scale,
  checkWeight,
  material,
  datumMoved,
  targets,
  allowances,
  loading,
  note,
] as const;

/** What an entry states, apart from who and when. */
export const Statement = z.discriminatedUnion('kind', STATED);
export type Statement = z.infer<typeof Statement>;
export type StatementOf<Kind extends Statement['kind']> = Extract<Statement, { kind: Kind }>;

const stamp = {
  id: EntryId,
  happenedOn: day,
  by: plainText(60),
  remark: plainText(2000).optional(),
};

/** Rule L2: what the corrected entry should have said, or null where it should never have been made. */
const correction = z.strictObject({
  ...stamp,
  kind: z.literal('correction'),
  supersedesId: EntryId,
  reason: plainText(400),
  replacement: z.strictObject({ happenedOn: day, statement: Statement }).nullable(),
});
export type Correction = z.infer<typeof correction>;

const [first, ...rest] = STATED;
/** One entry as it is hashed and stored; rule L5 adds its number, its day of record and its hash around it. */
export const Entry = z.discriminatedUnion('kind', [
  first.extend(stamp),
  ...rest.map((shape) => shape.extend(stamp)),
  correction,
]);
export type Stamp = { id: EntryId; happenedOn: string; by: string; remark?: string | undefined };
export type Entry = (Statement & Stamp) | Correction;

/** An entry in its place in the chain. `seq` counts from 1 within the aircraft. */
export type RecordedEntry = { readonly seq: number; readonly recordedAt: string; readonly entry: Entry };
