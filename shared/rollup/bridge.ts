/**
 * What took the aircraft from one moment to another, by cause (rule L6): between two entries as they were recorded, or between two
 * days as they happened with what is known today (rule L7). The causes add up to the change exactly.
 */
import type { BridgeReport } from '#shared/contract/reports.ts';
import { type Effect, mergeEffects } from '#shared/ledger/cause.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { historyByDay } from '#shared/ledger/history.ts';
import { EMPTY_TALLY, type MassNg, type Tally, toKg } from '#shared/quantity/exact.ts';
import { centreOfGravityM } from './centre-of-gravity.ts';
import { effectReport } from './report.ts';

/** After `from` up to and with `to`; without them from the beginning, and to the end. */
export type Period =
  | { readonly axis: 'entry'; readonly from?: number | undefined; readonly to?: number | undefined }
  | { readonly axis: 'day'; readonly from?: string | undefined; readonly to?: string | undefined };

export function bridgeReport(ledger: Ledger, period: Period): BridgeReport {
  return period.axis === 'entry' ? betweenEntries(ledger, period) : betweenDays(ledger, period);
}

type End = { readonly predicted: Tally; readonly marginNg: MassNg | undefined };
const BEGINNING: End = { predicted: EMPTY_TALLY, marginNg: undefined };

function betweenEntries(
  ledger: Ledger,
  { from = 0, to }: { readonly from?: number | undefined; readonly to?: number | undefined },
) {
  const last = to ?? ledger.rows.length;
  const rows = ledger.rows.filter(({ seq }) => seq > from && seq <= last);
  return {
    axis: 'entry' as const,
    from: { at: String(from), ...endOf(ledger.rows[from - 1]) },
    to: {
      at: String(Math.min(last, ledger.rows.length)),
      ...endOf(ledger.rows[Math.min(last, ledger.rows.length) - 1]),
    },
    effects: causes(rows.flatMap(({ effects }) => effects)),
  };
}

function betweenDays(
  ledger: Ledger,
  { from = '', to }: { readonly from?: string | undefined; readonly to?: string | undefined },
) {
  const days = historyByDay(ledger);
  const until = to ?? days.at(-1)?.day ?? '';
  const before = days.findLast(({ day }) => day <= from);
  const last = days.findLast(({ day }) => day <= until);
  return {
    axis: 'day' as const,
    from: { at: from, ...endOf(before) },
    to: { at: until, ...endOf(last) },
    effects: causes(days.filter(({ day }) => day > from && day <= until).flatMap(({ effects }) => effects)),
  };
}

function endOf({ predicted, marginNg }: End = BEGINNING) {
  const cg = centreOfGravityM(predicted, 'x');
  return {
    predictedKg: toKg(predicted.massNg),
    cgXM: cg.ok ? cg.value : undefined,
    marginKg: marginNg === undefined ? undefined : toKg(marginNg),
  };
}

function causes(effects: readonly Effect[]) {
  return mergeEffects(effects).map(effectReport);
}
