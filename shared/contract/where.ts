/** Where the mass of the aircraft is, as it crosses the wire (rule R5). Stations in metres from the datum in force. */
import { z } from 'zod';
import { PartId } from '#shared/ledger/entry.ts';
import { DriftFlag } from './drift.ts';

const massKg = z.number();
const stationM = z.number().optional();

/**
 * The predicted mass of a part at its own arm, or what a weighed assembly has beyond its parts, at the arm of that. Without a part: what the
 * whole aircraft weighed beyond all of them.
 */
export const PlacedMass = z.object({
  partId: PartId.optional(),
  number: z.string(),
  name: z.string(),
  group: z.string(),
  massKg,
  xM: stationM,
  zM: stationM,
  flag: DriftFlag.optional(),
  /** What a weighed assembly, or the aircraft, has beyond its parts: it may be below nothing. */
  isBeyondParts: z.boolean(),
});
export type PlacedMass = z.infer<typeof PlacedMass>;

export const WhereReport = z.object({
  seq: z.int(),
  predictedKg: massKg,
  cg: z.object({ xM: stationM, xStdM: stationM, zM: stationM }),
  cgForwardM: stationM,
  cgAftM: stationM,
  /** In the order in which the parts were added. Together they are the predicted mass. */
  masses: z.array(PlacedMass),
});
export type WhereReport = z.infer<typeof WhereReport>;
