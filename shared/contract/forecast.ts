/**
 * Processes in the order of their releases, and the forecast, as they cross the wire (rules D4, F1-F6). SI values under names that end in
 * their unit, stations from the datum in force; fractions are of the moulded mass of an estimate, chances from 0 to 1.
 */
import { z } from 'zod';
import { DriftCause, PartId, Process } from '#shared/ledger/entry.ts';
import { MOST_LENGTH_M, MOST_MASS_KG } from '#shared/quantity/typed.ts';

const massKg = z.number();
const share = z.number();

/** The entry, the part and the day of a release. */
const Place = z.object({ seq: z.int(), part: z.string(), on: z.string() });

/** Pieces that were first weighed together, against the estimate in force on that day (rule D4). */
export const ReleaseReport = Place.extend({
  pieces: z.array(z.int()),
  differenceFraction: share,
  allowanceFraction: share,
  /** Of the difference: what the estimate and the scale leave open, together. */
  stdFraction: share,
  /** Difference less allowance, in these standard deviations. */
  deviation: z.number(),
  ewma: z.number(),
  ewmaLower: z.number(),
  ewmaUpper: z.number(),
  cusumHigh: z.number(),
  cusumLow: z.number(),
});
export type ReleaseReport = z.infer<typeof ReleaseReport>;

/** The first release at which a chart called the process. Heavy and light are against estimate and allowance together. */
export const ProcessSignal = Place.extend({
  direction: z.enum(['heavy', 'light']),
  chart: z.enum(['ewma', 'cusum', 'both']),
  /** Where the shift began, by the cumulative sum, and how many releases later it was seen. */
  began: Place,
  releasesSince: z.int(),
  /**
   * Light against estimate and allowance together need not be light against the estimate: then the allowance is only more than is needed.
   */
  reading: z.enum(['heavy', 'light', 'allowance to spare']),
});
export type ProcessSignal = z.infer<typeof ProcessSignal>;

export const ProcessDriftReport = z.object({
  process: Process,
  points: z.array(ReleaseReport),
  signal: ProcessSignal.optional(),
  /** Of what was stated since the shift began, the latest. */
  cause: z
    .object({ seq: z.int(), cause: DriftCause, found: z.string().optional(), on: z.string(), by: z.string() })
    .optional(),
  limits: z.object({ lambda: z.number(), sigmas: z.number(), k: z.number(), h: z.number() }),
  /** Releases on average before a chart, and either of them, calls a process that has not changed. */
  falseAlarmEvery: z.object({ ewma: z.number(), cusum: z.number(), either: z.number() }),
});
export type ProcessDriftReport = z.infer<typeof ProcessDriftReport>;

/** A figure with its standard uncertainty and the band that holds it nine times in ten. */
const StationForecast = z.object({ atM: z.number(), stdM: z.number(), lowM: z.number(), highM: z.number() });
export type StationForecast = z.infer<typeof StationForecast>;

/** What the targets ask of the forecast, and how likely it is that they get it (rule F2). */
export const ChancesReport = z.object({
  emptyMassKg: massKg,
  reserveKg: massKg,
  /** Target less forecast less reserve. */
  marginKg: massKg,
  withinTarget: share,
  withinTargetLessReserve: share,
  cgForwardM: z.number().optional(),
  cgAftM: z.number().optional(),
  /** Undefined without a range, or without a CG. */
  cgInRange: share.optional(),
});
export type ChancesReport = z.infer<typeof ChancesReport>;

/** What a process has shown, and what it has still to release (rules F1, F2). */
export const ProcessForecastReport = z.object({
  process: Process,
  /** Of the moulded mass, beyond estimate and allowance. */
  shiftFraction: share,
  shiftStdFraction: share,
  /** Releases that say so; those before the process last changed are left out. */
  releaseCount: z.int(),
  earlierCount: z.int(),
  /** The first of them, where earlier ones are left out. */
  since: Place.optional(),
  openPieces: z.int(),
  openKg: massKg,
  /** What the shift adds to the forecast, and the standard uncertainty of that. */
  effectKg: massKg,
  effectStdKg: massKg,
});
export type ProcessForecastReport = z.infer<typeof ProcessForecastReport>;

/** What a group will weigh, against its target (rule D3). The rows add up to the forecast; their uncertainties share processes and do not. */
export const GroupForecastReport = z.object({
  group: z.string(),
  partCount: z.int(),
  predictedKg: massKg,
  forecastKg: massKg,
  forecastStdKg: massKg,
  lowKg: massKg,
  highKg: massKg,
  targetKg: massKg.optional(),
  /** Target less forecast. */
  marginKg: massKg.optional(),
});
export type GroupForecastReport = z.infer<typeof GroupForecastReport>;

export const ForecastReport = z.object({
  seq: z.int(),
  predictedKg: massKg,
  forecastKg: massKg,
  forecastStdKg: massKg,
  lowKg: massKg,
  highKg: massKg,
  cg: z.object({
    x: StationForecast.optional(),
    y: StationForecast.optional(),
    z: StationForecast.optional(),
  }),
  targets: ChancesReport.optional(),
  processes: z.array(ProcessForecastReport),
  /** Those that were called and whose cause nobody has stated (rule D4). */
  processesCalled: z.array(Process),
  /** What is believed of a process before it has released anything, and of its pieces (rule F1); whether the shop stated it. */
  assumed: z.object({
    processShiftStd: share,
    isOwnShift: z.boolean(),
    pieceToPieceStd: share,
    isOwnPiece: z.boolean(),
  }),
});
export type ForecastReport = z.infer<typeof ForecastReport>;

/** The forecast at the end of a day (rule F4). */
export const ForecastDayReport = z.object({
  day: z.string(),
  predictedKg: massKg,
  forecastKg: massKg,
  forecastStdKg: massKg,
  lowKg: massKg,
  highKg: massKg,
  cgX: StationForecast.optional(),
  targetKg: massKg.optional(),
  withinTarget: share.optional(),
  cgInRange: share.optional(),
});
export type ForecastDayReport = z.infer<typeof ForecastDayReport>;

const goneShares = { massShare: share, cgShare: share.optional() };

/** What weighing a part would do to the variance of the forecast (rule F5). A share may be below 0: of the CG, where errors offset each other. */
export const WhatNextReport = z.object({
  partId: PartId,
  part: z.string(),
  name: z.string(),
  process: Process,
  act: z.enum(['weigh', 'weigh when finished']),
  openPieces: z.int(),
  ...goneShares,
  /** The same for an estimate that is worked out to what pieces differ by, where it is not as good yet. */
  workedOut: z.object(goneShares).optional(),
});
export type WhatNextReport = z.infer<typeof WhatNextReport>;

export const GroupForecastListReport = z.object({ seq: z.int(), groups: z.array(GroupForecastReport) });

/** As the doors answer: `seq` is the entry up to which the ledger was read. */
export const ForecastDaysReport = z.object({ seq: z.int(), days: z.array(ForecastDayReport) });
export const ReleasesReport = z.object({ seq: z.int(), processes: z.array(ProcessDriftReport) });
export const WhatNextListReport = z.object({ seq: z.int(), rows: z.array(WhatNextReport) });

const heldKg = z.number().min(0).max(MOST_MASS_KG);
const stationM = z.number().min(-MOST_LENGTH_M).max(MOST_LENGTH_M).optional();

/** One scratch change (rule F6). Masses are of all pieces of a part together; a part alone is meant, and not what is in it. */
export const WhatIfChange = z.discriminatedUnion('act', [
  z.strictObject({ act: z.literal('set mass'), partId: PartId, massKg: heldKg, massStdKg: heldKg.optional() }),
  /** Below 0 it takes mass off. */
  z.strictObject({
    act: z.literal('add mass'),
    partId: PartId,
    massKg: z.number().min(-MOST_MASS_KG).max(MOST_MASS_KG),
  }),
  z.strictObject({ act: z.literal('set arm'), partId: PartId, xM: stationM, yM: stationM, zM: stationM }),
  z.strictObject({ act: z.literal('move'), partId: PartId, xM: stationM, yM: stationM, zM: stationM }),
  z.strictObject({ act: z.literal('remove'), partId: PartId }),
  z.strictObject({
    act: z.literal('add part'),
    massKg: heldKg,
    massStdKg: heldKg.optional(),
    xM: stationM,
    yM: stationM,
    zM: stationM,
  }),
]);
export type WhatIfChange = z.infer<typeof WhatIfChange>;

/** What a forecast is told by. */
export const Figures = ForecastReport.omit({
  seq: true,
  predictedKg: true,
  processes: true,
  processesCalled: true,
  assumed: true,
});
export type Figures = z.infer<typeof Figures>;

/** The forecast with and without a scratch set of changes. */
export const WhatIfReport = z.object({
  /** Without what processes are expected to add. */
  predictedBeforeKg: massKg,
  predictedAfterKg: massKg,
  before: Figures,
  after: Figures,
  /** What each change does to mass and CG, those before it made. */
  steps: z.array(z.object({ massKg, cgXM: z.number().optional() })),
  massChangeKg: massKg,
  cgChangeXM: z.number().optional(),
  /** Ballast that brings the CG back to where it was, if a station for it was given, and what that and the mass cost in payload. */
  ballast: z.object({ stationM: z.number(), massKg, payloadKg: massKg }).optional(),
});
export type WhatIfReport = z.infer<typeof WhatIfReport>;
