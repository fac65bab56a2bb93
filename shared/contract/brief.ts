/**
 * The brief (rules B1-B3): one page about one moment of a ledger, kept as plain data and rendered from that alone, wherever it is shown. SI
 * values under names that end in their unit, stations from the datum in force at that moment, shares and chances from 0 to 1.
 */
import { z } from 'zod';
import { AircraftId, DriftCause, Process } from '#shared/ledger/entry.ts';
import { isStorable } from '#shared/ledger/plain-text.ts';
import { LENGTH_UNITS, MASS_UNITS } from '#shared/quantity/units.ts';
import { AssemblyDriftReport, CgDriftReport, DriftReport, ManySmallReport } from './drift.ts';
import { ForecastReport, GroupForecastReport, ProcessSignal } from './forecast.ts';
import { OpenWhat } from './open-list.ts';
import { ProposalReport, ProposalsForecast } from './proposal.ts';
import { BridgeRow, EffectReport, HeadlineReport } from './reports.ts';

const massKg = z.number();
const stationM = z.number().optional();

/** How the forecast empty weight stands to its target. */
export const MASS_SITUATIONS = [
  'nothing estimated',
  'no target',
  'not whole yet',
  'under target',
  'at risk',
  'over target',
] as const;
export const MassSituation = z.enum(MASS_SITUATIONS);
export type MassSituation = z.infer<typeof MassSituation>;

/** How the CG stands to its range: predicted and forecast, whichever is worse. */
export const CG_SITUATIONS = ['not known', 'no range', 'in range', 'near its edge', 'out of range'] as const;
export const CgSituation = z.enum(CG_SITUATIONS);
export type CgSituation = z.infer<typeof CgSituation>;

/** What became of the predicted mass since the earlier entry. */
export const SINCE_SITUATIONS = ['first', 'nothing new', 'no change', 'grew', 'fell'] as const;
export const SinceSituation = z.enum(SINCE_SITUATIONS);
export type SinceSituation = z.infer<typeof SinceSituation>;

/** The headline in plain words: `lead` is the one sentence, `rest` what else is to be said, each a whole sentence. */
export const BriefHeadline = z.object({
  mass: MassSituation,
  cg: CgSituation,
  since: SinceSituation,
  lead: z.string(),
  rest: z.array(z.string()),
});
export type BriefHeadline = z.infer<typeof BriefHeadline>;

/** One end of the period: entry 0 is the beginning, before there was any. */
export const BriefEnd = z.object({
  seq: z.int().min(0),
  /** Of that entry, as the chain has it (rule L5), and when it was recorded; absent at the beginning. */
  hash: z.string().optional(),
  recordedAt: z.string().optional(),
  /** The last day on which something happened, as known then. */
  lastDay: z.string().optional(),
  predictedKg: massKg,
  forecastKg: massKg,
  cgXM: stationM,
  marginKg: massKg.optional(),
  weighedShare: z.number().optional(),
});
export type BriefEnd = z.infer<typeof BriefEnd>;

/** One day of the pictures of growth and of CG, by the day things happened (rule L7). */
export const BriefDay = z.object({
  day: z.string(),
  predictedKg: massKg,
  forecastKg: massKg,
  /** The band that holds nine in ten. */
  lowKg: massKg,
  highKg: massKg,
  targetKg: massKg.optional(),
  /** CG along x: predicted, and forecast with its band, against the range of that day. */
  cgXM: stationM,
  cgForecastM: stationM,
  cgLowM: stationM,
  cgHighM: stationM,
  cgForwardM: stationM,
  cgAftM: stationM,
});
export type BriefDay = z.infer<typeof BriefDay>;

/** Who is to deal with it, and by what: an owner of a proposal about it, who decided on it, or who stated its cause. */
export const BriefOwner = z.object({ name: z.string(), as: z.enum(['proposal', 'decision', 'cause']) });
export type BriefOwner = z.infer<typeof BriefOwner>;

/** `isNew`: it did not drift yet at the earlier entry. */
const found = { owner: BriefOwner.optional(), isNew: z.boolean() };

/** `note`: what who weighed it wrote; `inspection`: what was found when it was decided on. */
export const BriefPart = DriftReport.extend({
  ...found,
  causeBy: z.string().optional(),
  note: z.string().optional(),
  inspection: z.string().optional(),
});
export type BriefPart = z.infer<typeof BriefPart>;

/** A process that its charts called, with what its shift does to what it has still to release. */
export const BriefProcess = z.object({
  process: Process,
  signal: ProcessSignal,
  cause: z
    .object({ seq: z.int(), cause: DriftCause, found: z.string().optional(), on: z.string(), by: z.string() })
    .optional(),
  ...found,
  shiftFraction: z.number().optional(),
  shiftStdFraction: z.number().optional(),
  openPieces: z.int(),
  effectKg: massKg,
  effectStdKg: massKg,
});
export type BriefProcess = z.infer<typeof BriefProcess>;

/** So many of a kind are listed, the largest first; `count` says how many there are. */
export const MOST_BRIEF_ROWS = 40;
function listOf<Row extends z.ZodType>(row: Row) {
  return z.object({ count: z.int(), rows: z.array(row).max(MOST_BRIEF_ROWS) });
}

/** Without the history of its statements and the changes it is made of: what it does is here, how is on the page of proposals. */
export const BriefProposal = ProposalReport.omit({ revisions: true, changes: true }).extend({
  /** It was made, or said otherwise, since the earlier entry. */
  isNew: z.boolean(),
});
export type BriefProposal = z.infer<typeof BriefProposal>;

/** The growth of the last 90 days, and where it leads (rule F10). */
export const BriefRate = z.object({
  lastDay: z.string(),
  dayCount: z.int(),
  kgPerDay: z.number(),
  kgPerDayStd: z.number(),
  isTold: z.boolean(),
});

export const BriefContent = z.object({
  format: z.literal(1),
  aircraft: z.object({
    id: AircraftId,
    name: z.string(),
    /** Where stations are counted from, in words. */
    datum: z.string(),
    massUnit: z.enum(MASS_UNITS),
    lengthUnit: z.enum(LENGTH_UNITS),
    macM: z.number().optional(),
    lemacM: z.number().optional(),
    oilIsEmptyWeight: z.boolean(),
    isInvented: z.boolean(),
  }),
  /** Who made it, and the shop's day. */
  made: z.object({ by: z.string(), on: z.string() }),
  from: BriefEnd,
  to: BriefEnd,
  headline: BriefHeadline,
  /** The figures at `to`. */
  figures: HeadlineReport,
  forecast: ForecastReport,
  /** The day of the signed weighing of the aircraft that is the basis, where there is one (rule A4). */
  aircraftWeighedOn: z.string().optional(),
  /** Oldest first. Of a long build the days are thinned, never the last one. */
  days: z.array(BriefDay),
  rate: BriefRate.optional(),
  /** What took the aircraft from `from` to `to`; each list adds up to the change. */
  bridge: z.object({
    causes: z.array(EffectReport),
    groups: z.array(BridgeRow),
    parts: z.array(BridgeRow),
  }),
  /** Each group's forecast against its target. */
  groups: z.array(GroupForecastReport),
  drift: z.object({
    /** Weighings beyond their limit; those on watch are only counted, in `figures`. */
    parts: listOf(BriefPart),
    processes: z.array(BriefProcess),
    /** Called on the only release there is, which is no change yet (rule D4): named, and not listed. */
    calledOnce: z.array(Process).optional(),
    /** Weighed assemblies that are off the sum of their parts. */
    assemblies: listOf(AssemblyDriftReport),
    manySmall: listOf(ManySmallReport),
    cg: CgDriftReport.optional(),
  }),
  /** Open, agreed, and closed since the earlier entry. */
  proposals: listOf(BriefProposal).extend({ forecast: ProposalsForecast }),
  /** What somebody still has to do, as known on the day it was made; proposals that are overdue beside it. */
  open: z.object({
    count: z.int(),
    counts: z.array(z.object({ what: OpenWhat, count: z.int() })),
    overdueProposals: z.int(),
  }),
  /** The words that go with every predicted and forecast figure. */
  cautions: z.array(z.string()),
});
export type BriefContent = z.infer<typeof BriefContent>;

/** What remarks can be about: the page as a whole, or one of its subjects. */
export const BRIEF_SUBJECTS = ['all', 'growth', 'CG', 'bridge', 'drift', 'proposals', 'weighed'] as const;
export const BriefSubject = z.enum(BRIEF_SUBJECTS);
export type BriefSubject = z.infer<typeof BriefSubject>;

export const MOST_REMARK = 1000;
const remarkText = z
  .string()
  .trim()
  .max(MOST_REMARK, `must not be longer than ${MOST_REMARK} characters`)
  .refine(isStorable, 'has a character in it that cannot be kept: type it again');

/** One for each subject at most; an empty one is none. */
export const BriefRemarks = z.partialRecord(BriefSubject, remarkText);
export type BriefRemarks = z.infer<typeof BriefRemarks>;

export const BRIEF_STATES = ['draft', 'issued', 'dropped'] as const;
export const BriefState = z.enum(BRIEF_STATES);
export type BriefState = z.infer<typeof BriefState>;

const standing = {
  briefId: z.string(),
  state: BriefState,
  /** The last statement about it: who states the next one has seen it. */
  revision: z.int(),
  madeAt: z.string(),
  /** Of one that is issued: its number among the issued ones, by whom, when, and the hash over content and remarks. */
  issued: z.object({ number: z.int(), by: z.string(), at: z.string(), hash: z.string() }).optional(),
};

/** A brief whole: all that any rendering of it needs, and all that it may use. */
export const Brief = z.object({ ...standing, content: BriefContent, remarks: BriefRemarks });
export type Brief = z.infer<typeof Brief>;

/** A brief in a list. */
export const BriefLine = z.object({
  ...standing,
  by: z.string(),
  fromSeq: z.int(),
  toSeq: z.int(),
  lead: z.string(),
});
export type BriefLine = z.infer<typeof BriefLine>;

/** Newest first. `next`: what the next one would be made from if nothing else is said. */
export const BriefListReport = z.object({
  seq: z.int(),
  briefs: z.array(BriefLine),
  next: z.object({ fromSeq: z.int(), toSeq: z.int() }),
});
export type BriefListReport = z.infer<typeof BriefListReport>;

/** A new brief: made at an entry, since an earlier one. Left out: the last entry, since the last issued brief. */
export const SentBrief = z.strictObject({
  id: z.uuid(),
  entry: z.int().min(1).max(2_147_483_647).optional(),
  since: z.int().min(0).max(2_147_483_647).optional(),
});
export type SentBrief = z.infer<typeof SentBrief>;

/** What is said of a draft; `after` is the revision that was seen. */
export const SentBriefStatement = z
  .strictObject({
    id: z.uuid(),
    after: z.int().min(0).max(1_000_000),
    act: z.enum(['remark', 'issue', 'drop']),
    /** With `remark`, and only with it: all remarks, as they are now to be. */
    remarks: BriefRemarks.optional(),
  })
  .refine(({ act, remarks }) => (act === 'remark') === (remarks !== undefined), {
    path: ['remarks'],
    message: 'go with the act "remark", and with no other',
  });
export type SentBriefStatement = z.infer<typeof SentBriefStatement>;

export const KeptBrief = z.object({ replayed: z.boolean(), briefId: z.string(), revision: z.int(), state: BriefState });
export type KeptBrief = z.infer<typeof KeptBrief>;
