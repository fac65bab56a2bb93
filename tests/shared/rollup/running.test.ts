/** Figures that follow the ledger entry by entry against those of a ledger read anew, and against plain sums over all parts. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { findingsReport } from '#shared/drift/report.ts';
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import { applyEntry, foldEntries, openLedger, predictedOf, presentParts } from '#shared/ledger/fold.ts';
import { AXES, type LengthNm, seenFrom } from '#shared/quantity/exact.ts';
import { breakdownOf } from '#shared/rollup/breakdown.ts';
import { partsReport } from '#shared/rollup/parts-report.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { shiftsIn } from '#shared/uncertainty/ledger-shifts.ts';
import { cgStdM, massStdKg, sumShifts } from '#shared/uncertainty/shift.ts';
import { BY, entriesOn, TODAY } from '#tests/db/demo/story.ts';
import { chainFrom, randomSteps } from '../ledger/random-chain.ts';

const SEED = Number(process.env['SEED'] ?? 20_260_101);
const RUNS = Number(process.env['RUNS'] ?? 100);

/** Everything that is made of the running figures, bit for bit: -0 and 0 are told apart. */
function figuresOf(ledger: ReturnType<typeof foldEntries>) {
  return {
    headline: headlineReport(ledger),
    findings: findingsReport(ledger),
    groups: breakdownOf(ledger, 'group'),
    parts: partsReport(ledger),
  };
}

function expectCarriedOn(entries: readonly RecordedEntry[], every: number): void {
  const ledger = openLedger();
  for (const [at, recorded] of entries.entries()) {
    applyEntry(ledger, recorded);
    if (at % every !== 0 && at !== entries.length - 1) continue;
    expect(figuresOf(ledger)).toEqual(figuresOf(foldEntries(entries.slice(0, at + 1))));
  }
}

test('[L6] over random chains the running figures are those of a ledger read anew, to the last bit', () => {
  const chains = fc.property(randomSteps(40), (steps) => expectCarriedOn(chainFrom(steps).entries, 3));
  fc.assert(chains, { seed: SEED, numRuns: RUNS });
});

test('[L6] over the demonstration the running figures are those of a ledger read anew, to the last bit', () => {
  const recorded = entriesOn(TODAY).map((entry, at) => ({ seq: at + 1, recordedAt: BY, entry }));
  expectCarriedOn(recorded, 90);
});

test('[U2] the running uncertainty is that of the sum over all parts', () => {
  const chains = fc.property(randomSteps(40), (steps) => {
    const ledger = foldEntries(chainFrom(steps).entries);
    const shifts = sumShifts(presentParts(ledger).map(shiftsIn(ledger)));
    const headline = headlineReport(ledger);
    expect(headline.predictedStdKg).toBeCloseTo(massStdKg(shifts), 9);
    const predicted = seenFrom(predictedOf(ledger), -ledger.datumNm as LengthNm);
    const placedKg = Number(predicted.x.placedNg) / 1e12;
    // A CG of next to nothing is off by more than is worth telling.
    if (placedKg < 1) return;
    for (const axis of AXES) {
      const [is, shouldBe] = [headline.cg[`${axis}StdM`], cgStdM(shifts, predicted, axis)];
      if (shouldBe === undefined) expect(is).toBeUndefined();
      else expect(Math.abs((is ?? 0) - shouldBe)).toBeLessThan(1e-7 * (1 + shouldBe));
    }
  });
  fc.assert(chains, { seed: SEED, numRuns: RUNS });
});
