/** Who did what beside the ledgers, as it crosses the wire (rule N18). Entries carry their initials themselves. */
import { z } from 'zod';

export const ACT_KINDS = [
  'signed in',
  'sign-in refused',
  'signed out',
  'password changed',
  'PIN set',
  'PIN taken away',
  'first account made',
  'account made',
  'role changed',
  'aircraft of an account changed',
  'account closed',
  'account opened',
  'password set by a lead',
  'tablet shared',
  'tablet changed',
  'tablet taken away',
  'aircraft made',
  'demonstration made',
  'aircraft brought in',
  'aircraft carried out',
  'access to an aircraft changed',
  'backup made',
  'backup fetched',
  'checkpoint made',
] as const;
export const ActKind = z.enum(ACT_KINDS);
export type ActKind = z.infer<typeof ActKind>;

/** What the facts of an act are called, and what is said there that is no name of the shop's. */
export const ACT_FACTS = [
  ...(['with', 'tablet', 'role', 'aircraft', 'closed', 'writers', 'readers', 'entry', 'why', 'file'] as const),
  ...(['password', 'all', 'yes', 'schedule'] as const),
] as const;

/** `by`: nobody where no account stands behind it, as behind a refused sign-in. `detail`: facts by name, never a secret. */
export const Act = z.object({
  id: z.uuid(),
  doneAt: z.string(),
  /** A later version may know more kinds than this one. */
  kind: z.string(),
  by: z.string().optional(),
  about: z.string().optional(),
  aircraft: z.object({ id: z.uuid(), name: z.string() }).optional(),
  address: z.string().optional(),
  detail: z.record(z.string(), z.string()),
});
export type Act = z.infer<typeof Act>;

/** The newest first. `next`: ask again with `before` this id for the older ones; absent at the beginning of the list. */
export const ActsReport = z.object({ acts: z.array(Act), next: z.uuid().optional() });
export type ActsReport = z.infer<typeof ActsReport>;
