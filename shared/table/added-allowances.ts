/**
 * The growth allowances that a list did not state and the shop's defaults added (rule E1), to be told in one sentence before the list is
 * recorded and after it: who brings a list must not find mass in the ledger that nobody mentioned.
 */

import { stateOf } from '#shared/ledger/books.ts';
import type { Entry, Evidence, Process } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { LOCALE, say, term } from '#shared/words/say.ts';

export type AddedAllowance = {
  readonly growth: number;
  readonly evidence: Evidence;
  readonly processes: readonly Process[];
  /** How many estimates have it. */
  readonly count: number;
};

/** Those of the entries that a list makes, the most frequent first. `ledger` holds their parts. An allowance of nothing adds nothing. */
export function addedAllowances(entries: readonly Entry[], ledger: Ledger): readonly AddedAllowance[] {
  const added = new Map<string, AddedAllowance>();
  for (const entry of entries) {
    if (entry.kind !== 'estimate' || entry.growthFrom !== 'shop default' || entry.growth === 0) continue;
    const { growth, evidence } = entry;
    const process = stateOf(ledger.books, entry.partId)?.definition?.process ?? 'other';
    const key = `${growth} ${evidence}`;
    const { processes = [], count = 0 } = added.get(key) ?? {};
    const named = processes.includes(process) ? processes : [...processes, process];
    added.set(key, { growth, evidence, processes: named, count: count + 1 });
  }
  return [...added.values()].sort((a, b) => b.count - a.count || b.growth - a.growth);
}

/** `24 % growth allowance was added to 3 estimates that state none: the shop's default for prepreg, estimated.` */
export function allowanceSentence(added: readonly AddedAllowance[], when: 'is' | 'was'): string | undefined {
  const [first, ...others] = added;
  if (first === undefined) return undefined;
  const total = added.reduce((sum, { count }) => sum + count, 0);
  const to =
    total === 1 ? say`1 estimate that states none` : say`${total.toLocaleString(LOCALE)} estimates that state none`;
  if (others.length === 0)
    return when === 'is'
      ? say`${perCent(first)} growth allowance is added to ${to}: the shop’s default for ${made(first)}.`
      : say`${perCent(first)} growth allowance was added to ${to}: the shop’s default for ${made(first)}.`;
  const each = added.map((one) => say`${perCent(one)} to ${one.count.toLocaleString(LOCALE)} (${made(one)})`);
  return when === 'is'
    ? say`Growth allowance is added to ${to}, by the shop’s defaults: ${each.join(', ')}.`
    : say`Growth allowance was added to ${to}, by the shop’s defaults: ${each.join(', ')}.`;
}

/** 0.07 x 100 is 7.000000000000001: the dust of the product is dropped. */
function perCent({ growth }: AddedAllowance): string {
  return `${Number((growth * 100).toPrecision(12)).toLocaleString(LOCALE, { maximumFractionDigits: 12 })} %`;
}

function made({ processes, evidence }: AddedAllowance): string {
  const words = processes.map((process) =>
    process === 'other' ? say`parts of another process or none` : term(process),
  );
  const last = words.at(-1) ?? '';
  return `${words.length < 2 ? last : say`${words.slice(0, -1).join(', ')} and ${last}`}, ${term(evidence)}`;
}
