/**
 * How the aircraft may be loaded, and whether every permitted loading is inside, as it crosses the wire (rules C1-C5). Masses in kilograms,
 * stations in metres from the datum in force, fluids in litres of usable fluid.
 */
import { z } from 'zod';
import { LoadingLimits } from '#shared/loading/limits.ts';

const massKg = z.number();
const stationM = z.number();
const Way = z.enum(['forward', 'aft', 'too light', 'too heavy']);

/** The empty aircraft as it is predicted, as it is forecast, and at the four corners of the forecast's band of mass and CG. */
export const EMPTY_NAMES = [
  'predicted',
  'forecast',
  'light and forward',
  'light and aft',
  'heavy and forward',
  'heavy and aft',
] as const;
export const EmptyName = z.enum(EMPTY_NAMES);
export type EmptyName = z.infer<typeof EmptyName>;

export const EmptyReport = z.object({
  name: EmptyName,
  massKg,
  xM: stationM,
  yM: stationM.optional(),
  zM: stationM.optional(),
});
export type EmptyReport = z.infer<typeof EmptyReport>;

/** The aircraft with its loads; what is empty is not among them. */
export const LoadedReport = z.object({
  massKg,
  xM: stationM,
  yM: stationM.optional(),
  percentMac: z.number().optional(),
  loads: z.array(z.object({ station: z.string(), massKg, quantityL: z.number().optional(), xM: stationM })),
});
export type LoadedReport = z.infer<typeof LoadedReport>;

/** The worst permitted loading at a side of the envelope, or at its least or greatest mass: `outM` and `outKg` are what it is beyond, below 0 room. */
export const WorstReport = z.object({
  way: Way,
  /** By its corner, from 1; a mass has none. */
  side: z.int().optional(),
  isOutside: z.boolean(),
  limitM: stationM.optional(),
  limitKg: massKg.optional(),
  outM: stationM.optional(),
  outKg: massKg.optional(),
  loaded: LoadedReport,
});
export type WorstReport = z.infer<typeof WorstReport>;

const BurnPoint = z.object({ massKg, xM: stationM, burntL: z.number() });

/** A loading case from its start through its burn to its landing, and where it is outside the envelope or above a maximum (rule C3). */
export const CaseReport = z.object({
  name: z.string(),
  state: z.enum(['inside', 'outside']),
  start: LoadedReport,
  landing: LoadedReport,
  withoutFuel: LoadedReport,
  points: z.array(BurnPoint),
  stretches: z.array(
    z.object({
      from: BurnPoint,
      to: BurnPoint,
      worst: z.object({
        way: Way,
        side: z.int().optional(),
        limitM: stationM.optional(),
        outM: stationM.optional(),
        outKg: massKg.optional(),
        massKg,
        xM: stationM,
      }),
    }),
  ),
  above: z.array(
    z.object({ what: z.enum(['maximum weight', 'zero-fuel maximum', 'landing maximum']), massKg, aboveKg: massKg }),
  ),
  /** Beyond the range of butt lines, where it is farthest. */
  across: z
    .object({ side: z.enum(['left', 'right']), massKg, yM: stationM, limitM: stationM, outM: stationM })
    .optional(),
});
export type CaseReport = z.infer<typeof CaseReport>;

const left = {
  /** Below 0 the aircraft is too heavy by that much already. */
  massKg,
  stoppedBy: z.enum(['maximum weight', 'zero-fuel maximum', 'stations', 'tanks']),
};
/** Litres where all tanks hold fluids of one density. */
const FuelLeft = z.object({ ...left, quantityL: z.number().optional(), seatsKg: massKg });

export const PayloadReport = z.object({
  withFullTanks: z.object({ ...left, fuelKg: massKg }),
  withFullSeats: FuelLeft,
  withFullSeatsAndBaggage: FuelLeft,
});
export type PayloadReport = z.infer<typeof PayloadReport>;

/** The loadings farthest to the left and to the right, and how far beyond the range of butt lines they come (below zero: the room left). */
export const LateralReport = z.object({
  leftmost: LoadedReport,
  rightmost: LoadedReport,
  leftOutM: stationM,
  rightOutM: stationM,
  isOutside: z.boolean(),
});
export type LateralReport = z.infer<typeof LateralReport>;

export const AnswerReport = z.object({
  empty: EmptyReport,
  state: z.enum(['nothing permitted', 'inside', 'outside']),
  /** Empty where nothing is permitted. */
  worst: z.array(WorstReport),
  worstOfAll: WorstReport.optional(),
  mostForward: LoadedReport.optional(),
  mostAft: LoadedReport.optional(),
  lightest: LoadedReport,
  lateral: LateralReport.optional(),
  /** Between which CG all permitted loadings of a mass lie; a gap where no loading has such a mass begins another stretch. */
  reach: z.array(z.array(z.object({ massKg, forwardM: stationM, aftM: stationM }))),
  cases: z.array(CaseReport),
  payload: PayloadReport,
});
export type AnswerReport = z.infer<typeof AnswerReport>;

/** The same limits on the empty aircraft of an earlier day (rule F4): what the drift since has done. */
export const EarlierReport = z.object({
  /** The day that was asked for, and the last one until then on which anything happened. */
  since: z.string(),
  day: z.string(),
  predicted: AnswerReport.optional(),
  forecast: AnswerReport.optional(),
});
export type EarlierReport = z.infer<typeof EarlierReport>;

const RangeEnd = z.object({ xM: stationM, side: z.int(), loaded: LoadedReport });

/** Between which stations the empty CG must lie, at an empty mass, so that every permitted loading is inside; with what sets each end. */
export const EmptyRangeReport = z.object({
  of: z.enum(['target', 'forecast']),
  massKg,
  state: z.enum(['range', 'none']),
  why: z.enum(['limits too close', 'too light', 'too heavy', 'nothing permitted']).optional(),
  forward: RangeEnd.optional(),
  aft: RangeEnd.optional(),
});
export type EmptyRangeReport = z.infer<typeof EmptyRangeReport>;

export const StatedLimits = z.object({
  seq: z.int(),
  latestSeq: z.int(),
  happenedOn: z.string(),
  by: z.string(),
  revision: z.int(),
  reason: z.string().optional(),
  limits: LoadingLimits,
});
export type StatedLimits = z.infer<typeof StatedLimits>;

/** Every permitted loading of every empty aircraft in the forecast's band, its corners and all between them; across, its corners. */
export const BandReport = z.object({
  state: AnswerReport.shape.state,
  /** The worst of the band along x, and the empty aircraft with which it is. Undefined where nothing is permitted. */
  worstOfAll: WorstReport.extend({ empty: z.object({ massKg, xM: stationM }) }).optional(),
});
export type BandReport = z.infer<typeof BandReport>;

export const LoadingReport = z.object({
  seq: z.int(),
  /** Undefined until somebody has stated them. */
  stated: StatedLimits.optional(),
  chord: z.object({ macM: z.number(), lemacM: z.number() }).optional(),
  /** None while the aircraft has no mass with a station. */
  empties: z.array(EmptyReport),
  answers: z.array(AnswerReport),
  /** Undefined where there is no forecast to answer for. */
  band: BandReport.optional(),
  ranges: z.array(EmptyRangeReport),
  earlier: EarlierReport.optional(),
});
export type LoadingReport = z.infer<typeof LoadingReport>;

const word = (most: number) => z.string().max(most).optional();

/** Where ballast could be, in words; left out, there may be as much of it as is wanted. */
export const SentBallastPlace = z.strictObject({ name: word(200), x: word(100), y: word(100), most: word(100) });
export type SentBallastPlace = z.infer<typeof SentBallastPlace>;
export const MOST_BALLAST_PLACES = 8;

/** `aim`: the name of a case that is to come inside; left out, every permitted loading. */
export const SentLoadingBallast = z.strictObject({
  places: z.array(SentBallastPlace).max(MOST_BALLAST_PLACES),
  aim: word(200),
});
export type SentLoadingBallast = z.infer<typeof SentLoadingBallast>;

const Checked = z.object({
  state: AnswerReport.shape.state,
  worstOfAll: WorstReport.optional(),
  lateral: LateralReport.optional(),
});

/** The least ballast for one empty weight, and everything held against the limits with it in. */
export const BallastFor = z.object({
  empty: EmptyReport,
  state: z.enum(['not needed', 'found', 'none']),
  why: z.enum(['not enough', 'no mass helps', 'maximum weight', 'wrong side']).optional(),
  massKg: massKg.optional(),
  ballast: z.array(z.object({ station: z.string(), xM: stationM, yM: stationM.optional(), massKg })),
  before: Checked,
  after: Checked.extend({ empty: z.object({ massKg, xM: stationM }) }).optional(),
});
export type BallastFor = z.infer<typeof BallastFor>;

export const LoadingBallastReport = z.object({
  seq: z.int(),
  forecast: BallastFor,
  /** The other empty weights by themselves: the predicted one, and the corners of the forecast's band. */
  others: z.array(BallastFor),
  /** The ballast of the forecast in each corner of its band. */
  ends: z.array(Checked.extend({ name: EmptyName })),
  /** What single parts would have to lose for no ballast to be needed, where that is possible; those first that would lose least of what they have. */
  lighter: z.array(z.object({ part: z.string(), name: z.string(), massKg, lighterKg: massKg })),
});
export type LoadingBallastReport = z.infer<typeof LoadingBallastReport>;
