/**
 * What took the aircraft from one moment to another (rule L6): between two entries as they were recorded, or between two days as they
 * happened with what is known today (rule L7). Its causes add up to the change exactly, and so do its groups and its parts.
 */
import type { BridgeKey, BridgeReport } from '#shared/contract/reports.ts';
import { type Effect, mergeEffects } from '#shared/ledger/cause.ts';
import { foldEntries, type Ledger } from '#shared/ledger/fold.ts';
import { historyByDay } from '#shared/ledger/history.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { EMPTY_TALLY, type MassNg, type Tally, toKg } from '#shared/quantity/exact.ts';
import { dayWords } from '#shared/words/day.ts';
import { bridgeRows, NO_STAND, type Stand, standAtDay, standOf } from './bridge-rows.ts';
import { centreOfGravityM } from './centre-of-gravity.ts';
import { effectReport } from './report.ts';

/** After `from` up to and with `to`; without them from the beginning, and to the end. */
export type Period = EntryPeriod | DayPeriod;
type EntryPeriod = { readonly axis: 'entry'; readonly from?: number | undefined; readonly to?: number | undefined };
type DayPeriod = { readonly axis: 'day'; readonly from?: string | undefined; readonly to?: string | undefined };

/** A period that ends before it begins: its causes could not add up to its change, so it has no bridge. */
export function reversalOf({ axis, from, to }: Period): Refusal | undefined {
  if (from === undefined || to === undefined || from <= to) return undefined;
  const end = (at: string | number) => (axis === 'day' ? dayWords(String(at)) : String(at));
  return { code: 'period-reversed', from: end(from), to: end(to) };
}

/** Of a period that is not reversed (`reversalOf`). */
export function bridgeReport(ledger: Ledger, period: Period, by: BridgeKey = 'cause'): BridgeReport {
  const { ends, effects, stands, ...frame } =
    period.axis === 'entry' ? betweenEntries(ledger, period) : betweenDays(ledger, period);
  return {
    ...frame,
    by,
    from: endOf(frame.from.at, ends.from),
    to: endOf(frame.to.at, ends.to),
    effects: effects.map(effectReport),
    rows: by === 'cause' ? [] : [...bridgeRows(stands(), effects, by)],
  };
}

type End = { readonly predicted: Tally; readonly marginNg: MassNg | undefined };
const BEGINNING: End = { predicted: EMPTY_TALLY, marginNg: undefined };

type Between<Axis> = {
  readonly axis: Axis;
  readonly from: { readonly at: string };
  readonly to: { readonly at: string };
  readonly ends: { readonly from: End | undefined; readonly to: End | undefined };
  readonly effects: readonly Effect[];
  /** Where every part stood at both ends: worked out where somebody asks for it. */
  readonly stands: () => { readonly from: Stand; readonly to: Stand };
};

function betweenEntries(ledger: Ledger, { from = 0, to }: EntryPeriod): Between<'entry'> {
  const { rows, entries } = ledger;
  const first = Math.min(from, rows.length);
  const last = Math.min(to ?? rows.length, rows.length);
  const standAt = (count: number) => {
    if (count === 0) return NO_STAND;
    return standOf(count === entries.length ? ledger : foldEntries(entries.slice(0, count)));
  };
  return {
    axis: 'entry',
    from: { at: String(first) },
    to: { at: String(last) },
    ends: { from: rows[first - 1], to: rows[last - 1] },
    effects: mergeEffects(rows.slice(first, last).flatMap(({ effects }) => effects)),
    stands: () => ({ from: standAt(first), to: standAt(Math.max(first, last)) }),
  };
}

function betweenDays(ledger: Ledger, { from = '', to }: DayPeriod): Between<'day'> {
  const days = historyByDay(ledger);
  const lastDay = days.at(-1)?.day ?? '';
  // What comes after a day beyond the last one is nothing, and it begins and ends there.
  const until = to ?? (lastDay < from ? from : lastDay);
  return {
    axis: 'day',
    from: { at: from },
    to: { at: until },
    ends: {
      from: days.findLast(({ day }) => day <= from),
      to: days.findLast(({ day }) => day <= until),
    },
    effects: mergeEffects(days.filter(({ day }) => day > from && day <= until).flatMap(({ effects }) => effects)),
    stands: () => ({
      from: standAtDay(ledger, from, lastDay),
      to: standAtDay(ledger, until < from ? from : until, lastDay),
    }),
  };
}

function endOf(at: string, { predicted, marginNg }: End = BEGINNING): BridgeReport['from'] {
  const cg = centreOfGravityM(predicted, 'x');
  return {
    at,
    predictedKg: toKg(predicted.massNg),
    cgXM: cg.ok ? cg.value : undefined,
    marginKg: marginNg === undefined ? undefined : toKg(marginNg),
  };
}
