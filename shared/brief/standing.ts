/** What a brief is called, whether it is issued, and what it was made from, in words (rule B4): the same on every page and in every file. */

import type { Brief, BriefEnd } from '#shared/contract/brief.ts';
import { dayWords, momentWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';

/** `DRAFT` and `DROPPED` stand on every page of one that nobody answers for. */
export function stampOf({ state }: Pick<Brief, 'state'>): 'DRAFT' | 'DROPPED' | undefined {
  if (state === 'issued') return undefined;
  return state === 'draft' ? 'DRAFT' : 'DROPPED';
}

export function titleOf({ content, issued }: Brief): string {
  return say`${content.aircraft.name}: ${issued === undefined ? say`brief` : say`brief ${issued.number}`} at entry ${content.to.seq}`;
}

export function standingWords(brief: Brief): string {
  const { state, issued, madeAt, content } = brief;
  const made = say`made by ${content.made.by} on ${dayWords(content.made.on)} (${momentWords(madeAt)})`;
  if (issued !== undefined)
    return say`Brief ${issued.number}, issued by ${issued.by} at ${momentWords(issued.at)}; ${made}.`;
  return state === 'dropped' ? say`Dropped draft: never issued; ${made}.` : say`Draft: not issued; ${made}.`;
}

export function endWords({ seq, lastDay }: BriefEnd): string {
  if (seq === 0) return say`the beginning of the ledger`;
  return say`entry ${seq}${lastDay === undefined ? '' : say`, last day ${dayWords(lastDay)}`}`;
}

/** A name for a file that every system takes: `brief-3-dabchick.xlsx`, and with its paper `brief-3-dabchick-a4.pdf`. */
export function fileNameOf({ content, issued, state }: Brief, ending: string, paper = ''): string {
  const which = issued === undefined ? `${state}-entry-${content.to.seq}` : String(issued.number);
  const name = content.aircraft.name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 60);
  return `${['brief', which, name, paper].filter((part) => part !== '').join('-')}.${ending}`;
}
