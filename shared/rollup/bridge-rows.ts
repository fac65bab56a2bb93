/**
 * The rows of a bridge by group and by part (rule L6): what each of them counted for at one end, taken from what it counted for at the
 * other. A part counts with what weighed assemblies change on it, so the rows add up to the change of the aircraft to the last nanogram.
 */
import type { BridgeKey, BridgeRow } from '#shared/contract/reports.ts';
import { openBooks, type PartBooks } from '#shared/ledger/books.ts';
import type { Effect } from '#shared/ledger/cause.ts';
import type { PartId } from '#shared/ledger/entry.ts';
import { type Ledger, residualOf } from '#shared/ledger/fold.ts';
import { enterAny, inOrderOfDays } from '#shared/ledger/history.ts';
import {
  addTally,
  EMPTY_TALLY,
  isEmptyTally,
  type MassNg,
  seenFrom,
  subtractTally,
  type Tally,
  toKg,
  toKgM,
} from '#shared/quantity/exact.ts';

/** What every part counted for at one moment, and what the aircraft weighed beyond its parts, about the datum of that moment. */
export type Stand = { readonly parts: ReadonlyMap<PartId, PartStand>; readonly beyond: Tally };
type PartStand = { readonly number: string; readonly group: string; readonly predicted: Tally };
export const NO_STAND: Stand = { parts: new Map(), beyond: EMPTY_TALLY };

export function standOf({ books, datumNm }: Pick<Ledger, 'books' | 'datumNm'>): Stand {
  const stand = new Map<PartId, PartStand>();
  for (const [partId, { state }] of books.byPart) {
    const residual = residualOf({ books }, partId);
    const tally = [state.allowance, residual.basic, residual.allowance].reduce(addTally, state.basic);
    if (isEmptyTally(tally)) continue;
    const { number = '', group = '' } = state.definition ?? {};
    stand.set(partId, { number, group, predicted: seenFrom(tally, datumNm) });
  }
  return { parts: stand, beyond: seenFrom(books.sums.whole.basic, datumNm) };
}

/** At the end of a day, with what is known of it today, about the present datum (rule L7). */
export function standAtDay(ledger: Ledger, day: string, lastDay: string): Stand {
  if (day === '') return NO_STAND;
  return standOf(day >= lastDay ? ledger : { books: booksAtDay(ledger, day), datumNm: ledger.datumNm });
}

function booksAtDay(ledger: Ledger, day: string): PartBooks {
  const books = openBooks();
  for (const standing of inOrderOfDays(ledger)) {
    if (standing.happenedOn > day) break;
    enterAny(books, standing);
  }
  return books;
}

/** So many parts have a row of their own; the others share one. */
export const MOST_PARTS = 20;

export function bridgeRows(
  { from, to }: { readonly from: Stand; readonly to: Stand },
  effects: readonly Effect[],
  by: Exclude<BridgeKey, 'cause'>,
): readonly BridgeRow[] {
  const rows = [...(by === 'group' ? groupRows(from.parts, to.parts) : partRows(from.parts, to.parts))].sort(
    largestFirst,
  );
  const shown = by === 'group' ? rows : rows.slice(0, MOST_PARTS);
  const others = rows.slice(shown.length);
  return [
    ...shown.map((row) => reportOf(row)),
    ...(others.length === 0 ? [] : [reportOf(together(others))]),
    ...ofScales(subtractTally(to.beyond, from.beyond)),
    ...ofTargets(effects),
  ];
}

type Row = Pick<BridgeRow, 'of' | 'name' | 'partId' | 'partCount'> & { readonly change: Tally };

function partRows(from: Stand['parts'], to: Stand['parts']): readonly Row[] {
  return [...new Set([...from.keys(), ...to.keys()])].flatMap((partId) => {
    const [before, after] = [from.get(partId), to.get(partId)];
    const change = subtractTally(after?.predicted ?? EMPTY_TALLY, before?.predicted ?? EMPTY_TALLY);
    if (isEmptyTally(change)) return [];
    return [{ of: 'part' as const, name: (after ?? before)?.number ?? '', partId, partCount: 1, change }];
  });
}

/** A part that went to another group leaves one and comes to the other. */
function groupRows(from: Stand['parts'], to: Stand['parts']): readonly Row[] {
  const rows = new Map<string, { change: Tally; readonly changed: Set<PartId> }>();
  const put = (group: string, partId: PartId, tally: Tally) => {
    if (isEmptyTally(tally)) return;
    const row = rows.get(group) ?? { change: EMPTY_TALLY, changed: new Set() };
    row.change = addTally(row.change, tally);
    row.changed.add(partId);
    rows.set(group, row);
  };
  for (const partId of new Set([...from.keys(), ...to.keys()])) {
    const [before, after] = [from.get(partId), to.get(partId)];
    if (before !== undefined && before.group !== after?.group)
      put(before.group, partId, subtractTally(EMPTY_TALLY, before.predicted));
    if (after === undefined) continue;
    const was = before?.group === after.group ? before.predicted : EMPTY_TALLY;
    put(after.group, partId, subtractTally(after.predicted, was));
  }
  return [...rows].map(([name, { change, changed }]) => ({
    of: 'group' as const,
    name,
    partCount: changed.size,
    change,
  }));
}

function together(rows: readonly Row[]): Row {
  const change = rows.reduce((sum, row) => addTally(sum, row.change), EMPTY_TALLY);
  return { of: 'all other parts', name: '', partCount: rows.length, change };
}

function largestFirst(a: Row, b: Row): number {
  return (
    descending(absolute(a.change.massNg), absolute(b.change.massNg)) ||
    descending(absolute(a.change.x.momentNgNm), absolute(b.change.x.momentNgNm)) ||
    (a.name < b.name ? -1 : 1)
  );
}

function descending(a: bigint, b: bigint): number {
  if (a === b) return 0;
  return a > b ? -1 : 1;
}

function absolute(value: bigint): bigint {
  return value < 0n ? -value : value;
}

/** What the aircraft weighed beyond its parts, which is no part's (rule A4). */
function ofScales(change: Tally): readonly BridgeRow[] {
  return isEmptyTally(change) ? [] : [reportOf({ of: 'aircraft weighed', name: '', partCount: 0, change })];
}

/** Of a change of margin, what no mass made: the targets moved. */
function ofTargets(effects: readonly Effect[]): readonly BridgeRow[] {
  const marginNg = effects.reduce((sum, effect) => sum + effect.marginNg + effect.change.massNg, 0n);
  if (marginNg === 0n) return [];
  const row = reportOf({ of: 'targets', name: '', partCount: 0, change: EMPTY_TALLY });
  return [{ ...row, marginKg: toKg(marginNg as MassNg) }];
}

function reportOf({ change, ...row }: Row): BridgeRow {
  const massKg = toKg(change.massNg);
  return { ...row, massKg, momentXKgM: toKgM(change.x.momentNgNm), marginKg: massKg === 0 ? 0 : -massKg };
}
