/** Everything that somebody still has to do, in one list, as it crosses the wire (rule D6). SI values under names that end in their unit. */
import { z } from 'zod';
import { PartId } from '#shared/ledger/entry.ts';
import { DriftFlag } from './drift.ts';

const massKg = z.number();

/** What is open. Where parts have a word for it, it is the same word. */
export const OPEN_WHATS = [
  'CG out of range',
  'group over target',
  'process changed',
  'cause missing',
  'decision missing',
  'assembly off its parts',
  'laminate dry or impossible',
  'many small ones',
  'calibration out of date',
  'check weight failed',
  'scale in doubt',
  'estimate missing',
  'arm missing',
] as const;
export const OpenWhat = z.enum(OPEN_WHATS);
export type OpenWhat = z.infer<typeof OpenWhat>;

export const OpenItem = z.object({
  what: OpenWhat,
  of: z.enum(['aircraft', 'group', 'process', 'lot', 'scale', 'part']),
  /** The number of a part; the name of anything else. */
  subject: z.string(),
  name: z.string().optional(),
  partId: PartId.optional(),
  /** The day since which it is open, where one day can be named. */
  since: z.string().optional(),
  /** What it does to the margin (minus takes from it) and to the CG, where that can be told. */
  marginKg: massKg.optional(),
  cgEffectM: z.number().optional(),
  /** The mass that it is about: left out of the CG, or resting on a scale in doubt. */
  aboutKg: massKg.optional(),
  /** Parts or weighings that it is about, where it is about several. */
  count: z.int().optional(),
  /** More of it in words: which way, by how much, until when. */
  flag: DriftFlag.optional(),
  verdict: z.enum(['dry', 'impossible']).optional(),
  direction: z.enum(['heavy', 'light', 'forward', 'aft']).optional(),
  /** The weighing that is asked about. */
  weighing: z
    .object({ seq: z.int(), pieces: z.array(z.int()), quantity: z.int(), cause: z.string().optional() })
    .optional(),
});
export type OpenItem = z.infer<typeof OpenItem>;

/** So many are sent at once, the costliest; when they are closed the next ones come up. */
export const MOST_OPEN_SENT = 300;

export const OpenListReport = z.object({
  seq: z.int(),
  /** How many of each, in the order of the words; none where there is none. */
  counts: z.array(z.object({ what: OpenWhat, count: z.int() })),
  items: z.array(OpenItem).max(MOST_OPEN_SENT),
});
export type OpenListReport = z.infer<typeof OpenListReport>;
