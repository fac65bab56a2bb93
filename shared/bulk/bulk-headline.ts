/**
 * The headline of a whole chain, without a book and a row for each of its entries: to the last bit that of the folded ledger, and many times
 * sooner. Ordinary parts go flat into the sums; parts with other entries have their books written at once; what corrections touch, and
 * the aircraft as a whole, is a ledger folded over those entries alone. Whatever none of them knows is left to the whole ledger.
 */
import type { HeadlineReport } from '#shared/contract/reports.ts';
import { openSmallCount } from '#shared/drift/larger-drift.ts';
import { enterAll } from '#shared/ledger/books.ts';
import type { PartId, RecordedEntry, StatementOf } from '#shared/ledger/entry.ts';
import { foldEntries, type Ledger, standingsOf, type Totals } from '#shared/ledger/fold.ts';
import type { PartStatement, Standing } from '#shared/ledger/part-state.ts';
import { addTally, type LengthNm, toLengthNm } from '#shared/quantity/exact.ts';
import { headlineFrom } from '#shared/rollup/headline.ts';
import { aircraftOf, wholeHeadline } from '#shared/rollup/report.ts';
import { type Figures, runningOf } from '#shared/rollup/running.ts';
import { type Columns, columnsOf, NEEDS_BOOK, NONE } from './columns.ts';
import { FlatList } from './flat-list.ts';
import { FlatReader, type FrameAt } from './flat-part.ts';
import { FlatParts } from './flat-parts.ts';

/** What is known of an aircraft before its ledger is folded. */
export type BulkHeadline = {
  readonly aircraft: StatementOf<'aircraft'> | undefined;
  readonly headline: HeadlineReport;
  /** How many parts went flat into the sums, have books, and were folded. */
  readonly parts: { readonly flat: number; readonly inBooks: number; readonly folded: number };
};

/** The headline of the entries of a chain, from the first one on; undefined where only the folded ledger has it. */
export function bulkHeadline(entries: readonly RecordedEntry[]): BulkHeadline | undefined {
  const columns = columnsOf(entries);
  if (columns === undefined) return undefined;
  const ledger = foldEntries(columns.toFold);
  plantTree(columns, ledger);
  const frames = framesOf(ledger);
  const frameAt: FrameAt = (seq) =>
    frames.length === 0 ? 0 : Number(frames.findLast((frame) => frame.seq < seq)?.frameNm ?? 0n);
  const flat = new FlatParts(ledger);
  putFlat(columns, frameAt, flat);
  writeBooks(columns, ledger, frames);
  const running = runningOf(ledger);
  flat.close();
  const withoutEstimate = new FlatList();
  for (const { partId, addedSeq, number } of flat.unestimated)
    if ((ledger.books.byParent.get(partId)?.size ?? 0) === 0) withoutEstimate.add(addedSeq, number);
  const lists = { ...flat.lists, withoutEstimate };
  const { counts, massesNg, sources, byGroup } = running;
  const figures: Figures = {
    ...{ counts, massesNg, sources, byGroup },
    smallSums: () => running.smallSums(),
    listed: (list) => lists[list].with(running.listed(list)),
  };
  const { sums } = ledger.books;
  const totals: Totals = {
    whole: ledger.whole,
    datumNm: ledger.datumNm,
    books: {
      sums: {
        ...sums,
        basic: addTally(sums.basic, flat.basic.read()),
        allowance: addTally(sums.allowance, flat.allowance.read()),
      },
    },
  };
  const headline = headlineFrom(totals, figures, entries.at(-1)?.seq ?? 0);
  const manySmallCount = openSmallCount(totals, figures);
  return {
    aircraft: aircraftOf(ledger),
    headline: wholeHeadline(totals, figures, { headline, manySmallCount }),
    parts: partsOf(columns),
  };
}

function partsOf({ bits, partCount }: Columns): BulkHeadline['parts'] {
  let [flat, inBooks] = [0, 0];
  for (let part = 0; part < partCount; part += 1) {
    if (bits[part] === 0) flat += 1;
    else if (bits[part] === NEEDS_BOOK) inBooks += 1;
  }
  return { flat, inBooks, folded: partCount - flat - inBooks };
}

type Frame = { readonly seq: number; readonly frameNm: LengthNm };

/** How far aft of the first datum the datum lay after each move. */
function framesOf(ledger: Ledger): readonly Frame[] {
  let frameNm = 0n as LengthNm;
  return [...standingsOf(ledger, 'datum moved')]
    .sort((a, b) => a.seq - b.seq)
    .map(({ seq, statement }) => {
      frameNm = (frameNm + toLengthNm(statement.shiftM)) as LengthNm;
      return { seq, frameNm };
    });
}

/** Puts the ordinary parts in; what is none needs a book. */
function putFlat(columns: Columns, frameAt: FrameAt, flat: FlatParts): void {
  const { partCount, bits } = columns;
  const reader = new FlatReader(frameAt);
  for (let part = 0; part < partCount; part += 1) {
    if (bits[part] !== 0) continue;
    const read = reader.read(columns, part);
    if (read === undefined) bits[part] = NEEDS_BOOK;
    else flat.put(read);
  }
}

/** Writes the books of the parts that need one and were never corrected. */
function writeBooks(
  { entries, partCount, last, before, bits }: Columns,
  ledger: Ledger,
  frames: readonly Frame[],
): void {
  for (let part = 0; part < partCount; part += 1) {
    if (bits[part] !== NEEDS_BOOK) continue;
    const standings: Standing[] = [];
    for (let at = last[part] ?? NONE; at !== NONE; at = before[at] ?? NONE) {
      const { seq, entry } = entries[at] as RecordedEntry;
      const frameNm = frames.findLast((frame) => frame.seq < seq)?.frameNm ?? (0n as LengthNm);
      standings.push({ seq, happenedOn: entry.happenedOn, frameNm, statement: entry as PartStatement });
    }
    const [first] = standings;
    if (first !== undefined) enterAll(ledger.books, first.statement.partId, standings.reverse());
  }
}

/** Makes known which parts are assemblies of those that have no book. */
function plantTree({ entries, inTree, partAt, bits }: Columns, { books }: Ledger): void {
  for (const at of inTree) {
    const entry = entries[at]?.entry;
    if (entry?.kind !== 'part added' || entry.parentPartId === undefined || bits[partAt[at] ?? NONE] !== 0) continue;
    const { partId, parentPartId } = entry;
    books.byParent.set(parentPartId, (books.byParent.get(parentPartId) ?? new Set<PartId>()).add(partId));
  }
}
