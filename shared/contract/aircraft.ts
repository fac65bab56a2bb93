/** Aircraft, their entries and the live line as they cross the wire. Entries are sent in words, as `shared/words` reads them. */
import { z } from 'zod';
import { AircraftId, Entry, PartLimit } from '#shared/ledger/entry.ts';
import { LENGTH_UNITS, MASS_UNITS } from '#shared/quantity/units.ts';
import { FindingsReport, PairReport, ScaleReport, SplitReport } from './drift.ts';
import { BreakdownReport, DayReport, EntryReport, HeadlineReport, PartReport } from './reports.ts';

export const AircraftReport = z.object({
  id: AircraftId,
  name: z.string(),
  headSeq: z.int(),
  datum: z.string(),
  massUnit: z.enum(MASS_UNITS),
  lengthUnit: z.enum(LENGTH_UNITS),
  macM: z.number().optional(),
  lemacM: z.number().optional(),
  isInvented: z.boolean(),
  /** Of an aircraft that is open to this person to see only. */
  isReadOnly: z.literal(true).optional(),
});
export type AircraftReport = z.infer<typeof AircraftReport>;
export const AircraftList = z.object({ aircraft: z.array(AircraftReport) });

/** A new aircraft, in words: `mac: "1.3 m"`. */
export const AircraftRequest = z.strictObject({
  name: z.string().max(200),
  datum: z.string().max(1000),
  levelling: z.string().max(1000).optional(),
  mac: z.string().max(80).optional(),
  lemac: z.string().max(80).optional(),
  massUnit: z.enum(MASS_UNITS),
  lengthUnit: z.enum(LENGTH_UNITS),
});

/** One answer to "where do we stand": the headline and what the pictures need. */
export const LedgerReport = z.object({ aircraft: AircraftReport, headline: HeadlineReport });
export const HistoryReport = z.object({ seq: z.int(), days: z.array(DayReport) });
/** With the limit by which a piece is judged (rule D1). */
export const PartsReport = z.object({ seq: z.int(), parts: z.array(PartReport), partLimit: PartLimit });
export type PartsReport = z.infer<typeof PartsReport>;
export const PartsListReport = z.object({ seq: z.int(), csv: z.string() });
/** Listed in the targets or in use by parts: to be offered wherever a group is typed. */
export const GroupsReport = z.object({ seq: z.int(), groups: z.array(z.string()) });
export const BreakdownListReport = z.object({ seq: z.int(), rows: z.array(BreakdownReport) });
export const DriftListReport = z.object({ seq: z.int(), findings: FindingsReport });
export const SplitListReport = z.object({ seq: z.int(), rows: z.array(SplitReport) });
export const PairListReport = z.object({ seq: z.int(), rows: z.array(PairReport) });
export const ScaleListReport = z.object({ seq: z.int(), scales: z.array(ScaleReport) });

/** The walk along the chain (rule L5): whole, or the first entry that does not fit. */
export const VerifyReport = z.discriminatedUnion('ok', [
  z.object({ ok: z.literal(true), entryCount: z.int(), headHash: z.string() }),
  z.object({ ok: z.literal(false), seq: z.int(), fault: z.string(), column: z.string().optional(), words: z.string() }),
]);
export type VerifyReport = z.infer<typeof VerifyReport>;

/** Newest first. `next`: ask again with `before` this number for the older ones; absent at the beginning of the ledger. */
export const EntriesReport = z.object({ seq: z.int(), entries: z.array(EntryReport), next: z.int().optional() });
export type EntriesReport = z.infer<typeof EntriesReport>;

/** What recording answers. `replayed`: this very entry was there before, and nothing was added (rule L3). */
export const RecordedReport = z.object({ replayed: z.boolean(), entry: EntryReport, headline: HeadlineReport });
export type RecordedReport = z.infer<typeof RecordedReport>;

/** Entries as they were recorded, without gaps; `seq` is the number of the last one there is. */
export const CopyReport = z.object({
  seq: z.int(),
  entries: z.array(z.object({ seq: z.int(), recordedAt: z.string(), entry: Entry })),
});
export type CopyReport = z.infer<typeof CopyReport>;

/** One message of the live line: an aircraft's ledger now ends at this entry. */
export const LiveMessage = z.object({ aircraftId: AircraftId, seq: z.int() });
export type LiveMessage = z.infer<typeof LiveMessage>;

/** RFC 9457, with every problem found and its remedy. `pointer` is a JSON Pointer into what was sent. */
export const ProblemReport = z.object({
  type: z.string(),
  title: z.string(),
  status: z.int(),
  detail: z.string(),
  code: z.string(),
  remedy: z.string(),
  problems: z
    .array(z.object({ pointer: z.string(), code: z.string(), words: z.string(), remedy: z.string() }))
    .optional(),
  /** How far something has come that is worth waiting for, in entries. */
  progress: z.object({ done: z.int(), of: z.int() }).optional(),
  /** Under which the server's log has the request; told where the server and not the sender is to blame. */
  requestId: z.string().optional(),
});
export type ProblemReport = z.infer<typeof ProblemReport>;
