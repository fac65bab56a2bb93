/** Properties of the running ledger over random valid chains (rules L2, L6, L7, R1, R2, R3). */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { objectionsTo } from '#shared/ledger/admit.ts';
import { addResidual, NO_RESIDUAL } from '#shared/ledger/assemblies.ts';
import { type CAUSES, type Effect, mergeEffects } from '#shared/ledger/cause.ts';
import { Entry, type RecordedEntry } from '#shared/ledger/entry.ts';
import {
  applyEntry,
  basicOf,
  foldEntries,
  type Ledger,
  openLedger,
  predictedOf,
  residualOf,
} from '#shared/ledger/fold.ts';
import { addTally, EMPTY_TALLY, subtractTally, type Tally } from '#shared/quantity/exact.ts';
import { breakdownOf } from '#shared/rollup/breakdown.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import { TODAY, uuidOf } from './make-entries.ts';
import { chainFrom, randomSteps } from './random-chain.ts';

const SEED = 20_260_101;

function property(runs: number, check: (entries: readonly RecordedEntry[]) => void, maxLength = 40): void {
  const chains = fc.property(randomSteps(maxLength), (steps) => check(chainFrom(steps).entries));
  fc.assert(chains, { seed: SEED, numRuns: runs });
}

test('[L2] the ledger takes every entry that the generator makes', () => {
  let corrections = 0;
  property(300, (entries) => {
    const ledger = openLedger();
    for (const recorded of entries) {
      expect(objectionsTo(recorded.entry, ledger, TODAY)).toEqual([]);
      applyEntry(ledger, recorded);
      if (recorded.entry.kind === 'correction') corrections += 1;
    }
  });
  expect(corrections).toBeGreaterThan(300);
});

test('[L6] a ledger carried on and one built anew agree to the last bit', () => {
  property(150, (entries) => {
    const ledger = openLedger();
    for (const [at, recorded] of entries.entries()) {
      const row = applyEntry(ledger, recorded);
      if (at % 5 !== 0 && at !== entries.length - 1) continue;
      const anew = foldEntries(entries.slice(0, at + 1));
      expect(anew.rows.at(-1)).toEqual(row);
      expect(anew.books.sums).toEqual(ledger.books.sums);
      expect(sumOfParts(ledger)).toEqual(ledger.books.sums);
    }
  });
});

/** The sums made again from the parts' states: what is carried along must be what is there. */
function sumOfParts(ledger: Ledger) {
  const states = [...ledger.books.byPart.values()].map(({ state }) => state);
  return {
    basic: states.reduce((sum, state) => addTally(sum, state.basic), EMPTY_TALLY),
    allowance: states.reduce((sum, state) => addTally(sum, state.allowance), EMPTY_TALLY),
    residual: states.reduce((sum, { partId }) => addResidual(sum, residualOf(ledger, partId)), NO_RESIDUAL),
    whole: NO_RESIDUAL,
  };
}

test('[L7] the ledger as known at an entry is the same whatever came later', () => {
  property(100, (entries) => {
    const rows = foldEntries(entries).rows;
    for (const upTo of [1, Math.ceil(entries.length / 2), entries.length])
      expect(foldEntries(entries, upTo).rows).toEqual(rows.slice(0, upTo));
  });
});

test('[L6] the effects of any period add up to its change of mass, moment and margin exactly', () => {
  property(200, (entries) => {
    const { rows } = foldEntries(entries);
    const periods = [0, 0.3, 0.6].map((share) => Math.floor(share * rows.length));
    for (const from of periods) {
      const period = rows.slice(from);
      const before = rows[from - 1];
      const after = rows.at(-1);
      if (after === undefined) continue;
      const effects = period.flatMap((row) => row.effects);
      const change = effects.reduce<Tally>((sum, effect) => addTally(sum, effect.change), EMPTY_TALLY);
      expect(change).toEqual(subtractTally(after.predicted, before?.predicted ?? EMPTY_TALLY));
      const marginNg = effects.reduce((sum, effect) => sum + effect.marginNg, 0n);
      if (before?.marginNg !== undefined && after.marginNg !== undefined)
        expect(marginNg).toBe(after.marginNg - before.marginNg);
    }
  });
});

test('[L6] merging the effects of a period loses nothing and leaves one effect a cause', () => {
  property(100, (entries) => {
    const effects = foldEntries(entries).rows.flatMap((row) => row.effects);
    const merged = mergeEffects(effects);
    const sum = (list: readonly Effect[]) =>
      list.reduce<Tally>((total, { change }) => addTally(total, change), EMPTY_TALLY);
    expect(sum(merged)).toEqual(sum(effects));
    const keys = merged.map(({ cause, isCorrection }): [(typeof CAUSES)[number], boolean] => [cause, isCorrection]);
    expect(new Set(keys.map(String)).size).toBe(keys.length);
  });
});

test('[R3] the rows of each breakdown add up to the headline exactly', () => {
  property(150, (entries) => {
    const ledger = foldEntries(entries);
    const last = ledger.rows.at(-1);
    for (const key of ['group', 'process', 'assembly'] as const) {
      const rows = breakdownOf(ledger, key);
      expect(rows.reduce((sum, row) => sum + row.basicNg, 0n)).toBe(last?.basic.massNg ?? 0n);
      expect(rows.reduce((sum, row) => sum + row.predictedNg, 0n)).toBe(last?.predicted.massNg ?? 0n);
      expect(rows.reduce((sum, row) => sum + row.partCount, 0)).toBe(headlineOf(ledger).partCount);
    }
  });
});

test('[L8] a datum moved aft makes every moment m (x - d) exactly and changes nothing else', () => {
  const shifts = fc.integer({ min: -3_000_000, max: 3_000_000 });
  const moved = fc.property(randomSteps(), shifts, (steps, shiftUm) => {
    const chain = chainFrom(steps);
    const before = foldEntries(chain.entries);
    chain.record({ kind: 'datum moved', shiftM: shiftUm / 1e6, datum: 'd', reason: 'r', typed: {} });
    const after = foldEntries(chain.entries);
    const [was, is] = [lastTallies(before), lastTallies(after)];
    for (const component of ['basic', 'predicted'] as const) {
      const shiftNm = BigInt(shiftUm) * 1000n;
      const { placedNg, momentNgNm } = was[component].x;
      expect(is[component]).toEqual({
        ...was[component],
        x: { placedNg, momentNgNm: momentNgNm - placedNg * shiftNm },
      });
    }
    const [wasSaid, isSaid] = [headlineOf(before), headlineOf(after)];
    if (wasSaid.cg.percentMac !== undefined) expect(isSaid.cg.percentMac).toBeCloseTo(wasSaid.cg.percentMac, 6);
    expect(isSaid.targets?.marginKg).toBe(wasSaid.targets?.marginKg);
    expect(isSaid.installedKg).toBe(wasSaid.installedKg);
  });
  fc.assert(moved, { seed: SEED, numRuns: 150 });
});

function lastTallies(ledger: Ledger): { basic: Tally; predicted: Tally } {
  return { basic: basicOf(ledger), predicted: predictedOf(ledger) };
}

test('[L6] the fold answers any chain that has the shape of entries, admitted or not', () => {
  const steps = fc.tuple(randomSteps(20), fc.array(fc.nat(1000), { maxLength: 20 }));
  const anyChain = fc.property(steps, ([drawn, picks]) => {
    const { entries } = chainFrom(drawn);
    const shuffled = [...entries].sort((a, b) => ((picks[a.seq] ?? 0) % 7) - ((picks[b.seq] ?? 0) % 7));
    const renumbered = [...shuffled, ...crossed(shuffled)].map((recorded, at) => ({ ...recorded, seq: at + 1 }));
    for (const { entry } of renumbered) expect(Entry.safeParse(entry).success).toBe(true);
    const ledger = foldEntries(renumbered);
    expect(ledger.rows).toHaveLength(renumbered.length);
    expect(sumOfParts(ledger)).toEqual(ledger.books.sums);
    headlineOf(ledger);
    for (const key of ['group', 'process', 'assembly'] as const) breakdownOf(ledger, key);
  });
  fc.assert(anyChain, { seed: SEED, numRuns: 150 });
});

/** Corrections that no ledger would admit: of another kind, of one entry twice, of nothing. */
function crossed(entries: readonly RecordedEntry[]): RecordedEntry[] {
  return entries.flatMap(({ entry, ...rest }, at) => {
    const other = entries[entries.length - 1 - at]?.entry;
    if (other === undefined || other.kind === 'correction') return [];
    const { id, happenedOn, by, remark: _, ...statement } = other;
    const replacement = { happenedOn, statement };
    const stamp = { id: uuidOf(at + 1, 9) as typeof id, happenedOn, by };
    return [
      { ...rest, entry: { ...stamp, kind: 'correction', supersedesId: entry.id, reason: 'crossed', replacement } },
    ];
  });
}
