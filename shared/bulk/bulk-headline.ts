/**
 * The headline of a whole chain, without a book and a row for each of its entries: to the last bit that of the folded ledger, and many times
 * sooner. Ordinary parts go flat into the sums; parts with other entries have their books written at once; what corrections touch, and
 * the aircraft as a whole, is a ledger folded over those entries alone. Whatever none of them knows is left to the whole ledger.
 */
import type { HeadlineReport } from '#shared/contract/reports.ts';
import { manySmallOf } from '#shared/drift/larger-drift.ts';
import { enterAll } from '#shared/ledger/books.ts';
import type { PartId, RecordedEntry, StatementOf } from '#shared/ledger/entry.ts';
import { foldEntries, type Ledger, standingsOf, type Totals } from '#shared/ledger/fold.ts';
import type { PartStatement, Standing } from '#shared/ledger/part-state.ts';
import { addTally, type LengthNm, toLengthNm } from '#shared/quantity/exact.ts';
import { headlineFrom } from '#shared/rollup/headline.ts';
import { aircraftOf, wholeHeadline } from '#shared/rollup/report.ts';
import { type Figures, runningOf } from '#shared/rollup/running.ts';
import { type Columns, columnsOf, NEEDS_BOOK, NEEDS_LEDGER, NONE } from './columns.ts';
import { FlatList } from './flat-list.ts';
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
  const flat = new FlatParts(
    ledger,
    frames.map(({ seq, frameNm }) => ({ seq, frameNm: Number(frameNm) })),
  );
  putFlat(columns, flat);
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
  const manySmallCount = manySmallOf(totals, figures).length;
  return {
    aircraft: aircraftOf(ledger),
    headline: wholeHeadline(totals, figures, { headline, manySmallCount }),
    parts: partsOf(columns),
  };
}

function partsOf({ bits, partCount }: Columns): BulkHeadline['parts'] {
  const known = bits.subarray(0, partCount);
  const folded = known.filter((bit) => bit >= NEEDS_LEDGER).length;
  const flat = known.filter((bit) => bit < NEEDS_BOOK).length;
  return { flat, inBooks: partCount - flat - folded, folded };
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

/** Puts the ordinary parts in; one that is not flat after all needs a book. */
function putFlat({ entries, partCount, added, estimated, weighed, bits }: Columns, flat: FlatParts): void {
  const entryAt = (at = NONE) => (at === NONE ? undefined : entries[at]);
  for (let part = 0; part < partCount; part += 1) {
    const known = bits[part] ?? 0;
    if (known >= NEEDS_BOOK) continue;
    const definition = entryAt(added[part]);
    const isFlat =
      definition !== undefined &&
      flat.put({
        added: definition,
        estimated: entryAt(estimated[part]),
        weighed: entryAt(weighed[part]),
        isInstalled: known !== 0,
      });
    if (!isFlat) bits[part] = known | NEEDS_BOOK;
  }
}

/** Writes the books of the parts that need one and were never corrected. */
function writeBooks({ entries, partAt, bits }: Columns, ledger: Ledger, frames: readonly Frame[]): void {
  const standings = new Map<PartId, Standing[]>();
  for (const [at, { seq, entry }] of entries.entries()) {
    const known = bits[partAt[at] ?? NONE] ?? 0;
    if (known < NEEDS_BOOK || known >= NEEDS_LEDGER) continue;
    const statement = entry as PartStatement;
    const frameNm = frames.findLast((frame) => frame.seq < seq)?.frameNm ?? (0n as LengthNm);
    const standing = { seq, happenedOn: entry.happenedOn, frameNm, statement };
    const ofPart = standings.get(statement.partId);
    if (ofPart === undefined) standings.set(statement.partId, [standing]);
    else ofPart.push(standing);
  }
  for (const [partId, ofPart] of standings) enterAll(ledger.books, partId, ofPart);
}

/** Makes known which parts are assemblies of ordinary ones. */
function plantTree({ entries, partCount, added, bits }: Columns, { books }: Ledger): void {
  for (let part = 0; part < partCount; part += 1) {
    if ((bits[part] ?? 0) >= NEEDS_BOOK) continue;
    const entry = entries[added[part] ?? NONE]?.entry;
    if (entry?.kind !== 'part added' || entry.parentPartId === undefined) continue;
    const { partId, parentPartId } = entry;
    books.byParent.set(parentPartId, (books.byParent.get(parentPartId) ?? new Set<PartId>()).add(partId));
  }
}
