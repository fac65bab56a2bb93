/**
 * Scratch changes in words, and proposals, as they cross the wire (rules F6-F8). What is sent is words, as a person types them; what is
 * answered is SI values, stations from the datum in force, chances and likelihoods from 0 to 1. A saving above 0 makes the aircraft lighter.
 */
import { z } from 'zod';
import { isStorable } from '#shared/ledger/plain-text.ts';
import { Figures, WhatIfChange, WhatIfReport } from './forecast.ts';

/** What can be changed, in the words of the door. */
export const ACTS = [
  'set mass',
  'add mass',
  'set arm',
  'move',
  'remove',
  'add part',
] as const satisfies readonly WhatIfChange['act'][];
export type Act = (typeof ACTS)[number];

const word = (most: number) =>
  z
    .string()
    .max(most, `must not be longer than ${most} characters`)
    .refine(isStorable, 'has a character in it that cannot be kept: type it again');

/** One change; the fields that belong to its act, and no other. */
export const SentChange = z.strictObject({
  act: word(40),
  /** The number of a part. */
  part: word(100).optional(),
  /** What is added, where it is no part of the ledger. */
  name: word(200).optional(),
  mass: word(100).optional(),
  uncertainty: word(100).optional(),
  x: word(100).optional(),
  y: word(100).optional(),
  z: word(100).optional(),
});
export type SentChange = z.infer<typeof SentChange>;
export type ChangeField = Exclude<keyof SentChange, 'act'>;

/** What each act takes; what it may take can be left out, but where all of an act may be left out one of them is needed. */
export const CHANGE_FIELDS: Readonly<
  Record<Act, { readonly needs: readonly ChangeField[]; readonly may: readonly ChangeField[] }>
> = {
  'set mass': { needs: ['part', 'mass'], may: ['uncertainty'] },
  'add mass': { needs: ['part', 'mass'], may: [] },
  'set arm': { needs: ['part'], may: ['x', 'y', 'z'] },
  move: { needs: ['part'], may: ['x', 'y', 'z'] },
  remove: { needs: ['part'], may: [] },
  'add part': { needs: ['mass'], may: ['name', 'uncertainty', 'x', 'y', 'z'] },
};

export const MOST_CHANGES = 100;
const changes = z.array(SentChange).max(MOST_CHANGES, `must not be more than ${MOST_CHANGES} changes`);

export const SentWhatIf = z.strictObject({ changes });
export const WhatIfAnswer = WhatIfReport.omit({ ballast: true }).extend({ seq: z.int() });
export type WhatIfAnswer = z.infer<typeof WhatIfAnswer>;

export const SentBallast = z.strictObject({ station: word(100), changes: changes.optional() });
export type SentBallast = z.infer<typeof SentBallast>;

/** What it costs to bring the forecast CG inside its range with ballast (rule F7). */
export const BallastReport = z.object({
  stationM: z.number(),
  massKg: z.number(),
  /** The end of the range that the CG is brought to; undefined where it is in range as it is. */
  toM: z.number().optional(),
  cgM: z.number(),
  /** The forecast with the ballast, less the target. */
  overTargetKg: z.number(),
  /** Of the payload that the target leaves: what is lost. */
  payloadKg: z.number(),
});
export type BallastReport = z.infer<typeof BallastReport>;
export const BallastAnswer = BallastReport.extend({ seq: z.int() });

export const PROPOSAL_STATES = ['open', 'agreed', 'done', 'dropped'] as const;
export const ProposalState = z.enum(PROPOSAL_STATES);
export type ProposalState = z.infer<typeof ProposalState>;

const statedInWords = {
  /** Of this very statement; sent again it is answered as the first time. That of the first one is the proposal's. */
  id: z.uuid(),
  title: word(500).optional(),
  owner: word(500).optional(),
  /** A mass, where no changes say it. */
  saving: word(100).optional(),
  /** Per cent. */
  likelihood: word(100).optional(),
  due: word(40).optional(),
  state: word(40).optional(),
  reason: word(2000).optional(),
  changes: changes.optional(),
};
export const SentProposal = z.strictObject(statedInWords);
export type SentProposal = z.infer<typeof SentProposal>;

/** `after`: the revision that the sender has seen. Left out, `changes` stay as they are. */
export const SentRevision = z.strictObject({ ...statedInWords, after: z.int().min(1).max(1_000_000) });
export type SentRevision = z.infer<typeof SentRevision>;

/** A change with the number of its part, or the name of what is added, as it was typed. */
export const NamedChange = z.object({ part: z.string(), change: WhatIfChange });
export type NamedChange = z.infer<typeof NamedChange>;

/** What is kept of one statement of a proposal. */
export const ProposalContent = z.object({
  title: z.string(),
  owner: z.string(),
  likelihood: z.number().min(0).max(1),
  due: z.string(),
  state: ProposalState,
  reason: z.string().optional(),
  /** Where the saving is stated, and no changes say it. */
  statedSavingKg: z.number().optional(),
  /** The saving as it was when this was stated. */
  savingKg: z.number(),
  changes: z.array(NamedChange),
  /** Where the datum lay, and how far the ledger went, when the changes were stated. */
  datumM: z.number(),
  seq: z.int(),
  typed: z.record(z.string(), z.string()),
});
export type ProposalContent = z.infer<typeof ProposalContent>;

/** As it is kept: who stated it and when. */
export type ProposalRevision = {
  readonly proposalId: string;
  readonly revision: number;
  readonly by: string;
  readonly recordedAt: string;
  readonly content: ProposalContent;
};

/** Why the changes of a proposal no longer fit the ledger. */
export const Unfit = z.object({
  part: z.string(),
  why: z.enum(['removed', 'weighed', 'station measured', 'not possible']),
});
export type Unfit = z.infer<typeof Unfit>;

const RevisionReport = z.object({
  revision: z.int(),
  by: z.string(),
  recordedAt: z.string(),
  title: z.string(),
  owner: z.string(),
  state: ProposalState,
  likelihood: z.number(),
  due: z.string(),
  savingKg: z.number(),
  reason: z.string().optional(),
});

export const ProposalReport = z.object({
  proposalId: z.string(),
  revision: z.int(),
  title: z.string(),
  owner: z.string(),
  likelihood: z.number(),
  due: z.string(),
  state: ProposalState,
  reason: z.string().optional(),
  isOverdue: z.boolean(),
  isStated: z.boolean(),
  /** As the changes make it now; of one that is closed or no longer fits, as it was kept. */
  savingKg: z.number(),
  cgChangeXM: z.number().optional(),
  changes: z.array(NamedChange),
  unfit: z.array(Unfit),
  /** Titles of others that count and change a part of this one as well. */
  overlaps: z.array(z.string()),
  /** It is in the sums. */
  counts: z.boolean(),
  /** Oldest first. */
  revisions: z.array(RevisionReport),
});
export type ProposalReport = z.infer<typeof ProposalReport>;

/** The forecast with what is proposed and neither done nor dropped (rule F8). */
export const ProposalsForecast = z.object({
  today: Figures,
  /** As if each came true. */
  all: Figures,
  allSavingKg: z.number(),
  /** Each by its likelihood. */
  weighted: Figures,
  weightedSavingKg: z.number(),
  count: z.int(),
});
export type ProposalsForecast = z.infer<typeof ProposalsForecast>;

export const ProposalsReport = z.object({
  seq: z.int(),
  today: z.string(),
  proposals: z.array(ProposalReport),
  forecast: ProposalsForecast,
});
export type ProposalsReport = z.infer<typeof ProposalsReport>;

export const KeptProposal = z.object({ replayed: z.boolean(), proposalId: z.string(), revision: z.int() });
export type KeptProposal = z.infer<typeof KeptProposal>;
