/** The product against the naive model over random chains: two readings of the rules, one answer (rules R1, R2, R3, L7). */
import fc from 'fast-check';
import { test } from 'vitest';
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import { applyEntry, foldEntries, type Ledger, openLedger } from '#shared/ledger/fold.ts';
import { historyByDay } from '#shared/ledger/history.ts';
import { cgFigures, dayFigures, expectAgreement, massFigures, rowFigures } from './agree.ts';
import { chainFrom, randomSteps } from './random-chain.ts';

/** Raised by hand: RUNS=2000 SEED=7. */
const RUNS = Number(process.env['RUNS'] ?? 150);
const SEED = Number(process.env['SEED'] ?? 20_260_101);

function property(check: (entries: readonly RecordedEntry[]) => void, maxLength = 40): void {
  const chains = fc.property(randomSteps(maxLength), (steps) => check(chainFrom(steps).entries));
  fc.assert(chains, { seed: SEED, numRuns: RUNS });
}

/** The model begins anew every time, so it is asked at every fourth entry and at the last. */
function onTheWay(
  entries: readonly RecordedEntry[],
  check: (ledger: Ledger, soFar: readonly RecordedEntry[]) => void,
): void {
  const ledger = openLedger();
  for (const [at, recorded] of entries.entries()) {
    applyEntry(ledger, recorded);
    if (at % 4 === 0 || at === entries.length - 1) check(ledger, entries.slice(0, at + 1));
  }
}

test('[R1] masses, margin, what is weighed, installed and in stock agree with the naive model', () => {
  property((entries) => onTheWay(entries, (ledger, soFar) => expectAgreement(massFigures(ledger, soFar))));
});

test('[R2] the CG along x, y and z, in per cent MAC, its range and the mass without an arm agree with the naive model', () => {
  property((entries) => onTheWay(entries, (ledger, soFar) => expectAgreement(cgFigures(ledger, soFar))));
});

test('[R3] every row by group, process and assembly agrees with the naive model', () => {
  property((entries) => expectAgreement(rowFigures(foldEntries(entries), entries)));
});

test('[L7] every day agrees with the naive model', () => {
  property((entries) => {
    for (const day of historyByDay(foldEntries(entries))) expectAgreement(dayFigures(day, entries));
  }, 30);
});
