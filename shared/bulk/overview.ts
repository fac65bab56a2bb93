/** The aircraft as a whole: its headline, and what it is said to be. That is known long before a long ledger is folded. */
import type { HeadlineReport } from '#shared/contract/reports.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { aircraftOf, headlineReport } from '#shared/rollup/report.ts';

export type Overview = {
  /** The last entry that it counts. */
  readonly seq: number;
  readonly aircraft: StatementOf<'aircraft'> | undefined;
  readonly headline: () => HeadlineReport;
};

/** To be read before the ledger has another entry. */
export function foldedOverview(ledger: Ledger): Overview {
  return { seq: ledger.entries.at(-1)?.seq ?? 0, aircraft: aircraftOf(ledger), headline: () => headlineReport(ledger) };
}
