/** The headline of a whole chain at once against that of the folded ledger, to the last bit. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bulkHeadline } from '#shared/bulk/bulk-headline.ts';
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import { foldEntries } from '#shared/ledger/fold.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { asRecorded, makeEntries } from '#tests/bench/make-chain.ts';
import { entriesOn, TODAY } from '#tests/db/demo/story.ts';
import { chainFrom, randomSteps } from '../ledger/random-chain.ts';

const SEED = Number(process.env['SEED'] ?? 20_260_101);
const RUNS = Number(process.env['RUNS'] ?? 300);

function expectSame(entries: readonly RecordedEntry[]): void {
  expect(bulkHeadline(entries)?.headline).toEqual(headlineReport(foldEntries(entries)));
}

test('[R1] over random chains the headline of all entries at once is that of the folded ledger, to the last bit', () => {
  const chains = fc.property(randomSteps(40), (steps) => expectSame(chainFrom(steps).entries));
  fc.assert(chains, { seed: SEED, numRuns: RUNS });
});

test('[R1] over the demonstration, at many an entry, too', () => {
  const recorded = asRecorded(entriesOn(TODAY));
  for (let upTo = 0; upTo <= recorded.length; upTo += 97) expectSame(recorded.slice(0, upTo));
  expectSame(recorded);
});

test('[R1] over parts estimated and weighed, too', () => {
  expectSame(asRecorded(makeEntries(700, 500)));
});
