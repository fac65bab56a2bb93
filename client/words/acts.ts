/** What was done beside the ledgers, in words (rule N18). */
import type { Act, ActKind } from '#shared/contract/acts.ts';
import { say } from '#shared/words/say.ts';

const KINDS: Readonly<Record<ActKind, string>> = {
  'signed in': say`signed in`,
  'sign-in refused': say`sign-in refused`,
  'signed out': say`signed out`,
  'password changed': say`changed the own password`,
  'PIN set': say`set a PIN`,
  'PIN taken away': say`took the own PIN away`,
  'first account made': say`made the first account`,
  'account made': say`made an account`,
  'role changed': say`changed a role`,
  'aircraft of an account changed': say`changed which aircraft an account sees`,
  'account closed': say`closed an account`,
  'account opened': say`opened an account again`,
  'password set by a lead': say`set a new password for somebody`,
  'tablet shared': say`made a browser a shared tablet`,
  'tablet changed': say`changed a shared tablet`,
  'tablet taken away': say`took a shared tablet away`,
  'aircraft made': say`began an aircraft`,
  'demonstration made': say`made the demonstration`,
  'aircraft brought in': say`brought an aircraft in`,
  'aircraft carried out': say`carried an aircraft out`,
  'access to an aircraft changed': say`changed who may see and write`,
  'backup made': say`made a backup`,
  'backup fetched': say`fetched a backup`,
  'checkpoint made': say`made a checkpoint`,
};

/** A kind of a later version stands as it is. */
export function kindWords({ kind }: Act): string {
  return (KINDS as Readonly<Record<string, string>>)[kind] ?? kind;
}

const FACTS: Readonly<Record<string, (fact: string) => string>> = {
  with: (fact) => (fact === 'PIN' ? say`with a PIN` : say`with the password`),
  tablet: (fact) => say`on ${fact}`,
  role: (fact) => say`role: ${fact}`,
  aircraft: (fact) => (fact === 'all' ? say`all aircraft` : say`aircraft: ${fact}`),
  closed: (fact) => (fact === 'yes' ? say`closed to all but the named` : say`open to everybody`),
  writers: (fact) => say`to write: ${fact}`,
  readers: (fact) => say`to see: ${fact}`,
  entry: (fact) => say`of entry ${fact}`,
  why: () => say`by the schedule`,
  file: (fact) => fact,
};

export function factWords({ detail }: Act): string {
  return Object.entries(detail)
    .flatMap(([name, fact]) => (fact === '' ? [] : [FACTS[name]?.(fact) ?? `${name}: ${fact}`]))
    .join('; ');
}
