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
export type Period = EntryPeriod | DayPeriod;
type EntryPeriod = { readonly axis: 'entry'; readonly from?: number | undefined; readonly to?: number | undefined };
type DayPeriod = { readonly axis: 'day'; readonly from?: string | undefined; readonly to?: string | undefined };

export function bridgeReport(ledger: Ledger, period: Period): BridgeReport {
  return period.axis === 'entry' ? betweenEntries(ledger, period) : betweenDays(ledger, period);
}

type End = { readonly predicted: Tally; readonly marginNg: MassNg | undefined };
const BEGINNING: End = { predicted: EMPTY_TALLY, marginNg: undefined };

function betweenEntries({ rows }: Ledger, { from = 0, to }: EntryPeriod) {
  const first = Math.min(from, rows.length);
  const last = Math.min(to ?? rows.length, rows.length);
  return {
    axis: 'entry' as const,
    from: { at: String(first), ...endOf(rows[first - 1]) },
    to: { at: String(last), ...endOf(rows[last - 1]) },
    effects: causes(rows.slice(first, last).flatMap(({ effects }) => effects)),
  };
}

function betweenDays(ledger: Ledger, { from = '', to }: DayPeriod) {
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
