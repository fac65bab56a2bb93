/** The demonstration aircraft's entries and ledger for tests, made without a database. */
import { DEMONSTRATION_ID } from '#db/demo/create-demonstration.ts';
import { makeEntries } from '#db/demo/make-entries.ts';
import type { Entry } from '#shared/ledger/entry.ts';
import { foldEntries, type Ledger } from '#shared/ledger/fold.ts';

export const TODAY = '2026-06-15';
export const BY = 'ann';

export function entriesOn(today: string, seed?: number): readonly Entry[] {
  return makeEntries({ aircraftId: DEMONSTRATION_ID, today, by: BY, ...(seed === undefined ? {} : { seed }) });
}

export function ledgerOf(entries: readonly Entry[]): Ledger {
  return foldEntries(entries.map((entry, at) => ({ seq: at + 1, recordedAt: '', entry })));
}

export function daysBetween(from: string, to: string): number {
  return (Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000;
}
