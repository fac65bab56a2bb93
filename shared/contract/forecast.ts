/** Processes in the order of their releases, as they cross the wire (rule D4). Fractions are of the moulded mass of an estimate. */
import { z } from 'zod';
import { Process } from '#shared/ledger/entry.ts';

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
});
export type ProcessSignal = z.infer<typeof ProcessSignal>;

export const ProcessDriftReport = z.object({
  process: Process,
  points: z.array(ReleaseReport),
  signal: ProcessSignal.optional(),
  limits: z.object({ lambda: z.number(), sigmas: z.number(), k: z.number(), h: z.number() }),
  /** Releases on average before a chart, and either of them, calls a process that has not changed. */
  falseAlarmEvery: z.object({ ewma: z.number(), cusum: z.number(), either: z.number() }),
});
export type ProcessDriftReport = z.infer<typeof ProcessDriftReport>;
