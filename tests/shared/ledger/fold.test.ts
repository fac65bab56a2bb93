/** The running ledger by example (rules L2, L6, L7, L8, W8). */
import { describe, expect, it } from 'vitest';
import { openBooks } from '#shared/ledger/books.ts';
import {
  applyEntry,
  basicOf,
  foldEntries,
  inForce,
  predictedOf,
  presentParts,
  standingsOf,
} from '#shared/ledger/fold.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import {
  aircraftOf,
  Chain,
  datumOf,
  estimateOf,
  installedOf,
  noteOf,
  partIdOf,
  partOf,
  removedOf,
  targetsOf,
  weighingOf,
  withdrawnOf,
} from './make-entries.ts';

const KG = 1_000_000_000_000n;

/** Effects of an entry in kilograms: cause, change of mass, and whether it is a correction. */
function effects(chain: Chain, seq = chain.entries.length) {
  const row = chain.fold().rows[seq - 1];
  return row?.effects.map(({ cause, isCorrection, change }) => [cause, Number(change.massNg) / 1e12, isCorrection]);
}

/** A part of 10 kg with 24 % allowance at x = 2 m. */
function withAllowance(): Chain {
  const chain = new Chain();
  chain.record(partOf(1));
  chain.record(estimateOf(1, { massKg: 10, growth: 0.24, xM: 2 }));
  return chain;
}

describe('causes', () => {
  it('[L6] a heavy weighing shows its growth and the allowance it releases as two effects', () => {
    const chain = withAllowance();
    chain.record(weighingOf(1, 11));
    expect(effects(chain)).toEqual([
      ['weighed against estimate', 1, false],
      ['allowance', -2.4, false],
    ]);
    const row = chain.fold().rows.at(-1);
    expect(row?.predicted.massNg).toBe(11n * KG);
  });

  it('[L6] a first estimate is scope, a second one is a revision', () => {
    const chain = withAllowance();
    expect(effects(chain, 2)).toEqual([['scope', 12.4, false]]);
    chain.record(estimateOf(1, { massKg: 9, growth: 0.06, xM: 2 }));
    expect(effects(chain)).toEqual([
      ['estimate revised', -1, false],
      ['allowance', -1.86, false],
    ]);
  });

  it('[L6] a weighing of a part without an estimate is scope', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(weighingOf(1, 3));
    expect(effects(chain)).toEqual([['scope', 3, false]]);
  });

  it('[L6] a measured arm moves moment and no mass', () => {
    const chain = withAllowance();
    chain.record({ kind: 'arm measured', partId: partIdOf(1), xM: 2.5, typed: {} });
    const row = chain.fold().rows.at(-1);
    expect(row?.effects.map(({ cause, change }) => [cause, change.massNg, change.x.momentNgNm])).toEqual([
      ['arm measured', 0n, 12_400_000_000_000n * 500_000_000n],
    ]);
  });

  it('[L6] a removed part is scope, a withdrawn piece is its own cause', () => {
    const chain = withAllowance();
    chain.record(weighingOf(1, 11));
    chain.record(withdrawnOf(1, [1]));
    expect(effects(chain)).toEqual([['piece withdrawn', 1.4, false]]);
    chain.record(removedOf(1));
    expect(effects(chain)).toEqual([['scope', -12.4, false]]);
  });

  it('[L6] a correction counts under the cause of what it corrects and is marked as one', () => {
    const chain = withAllowance();
    const weighing = chain.record(weighingOf(1, 11));
    chain.correct(weighing, weighingOf(1, 10.5));
    expect(effects(chain)).toEqual([['weighed against estimate', -0.5, true]]);
  });

  it('[L6] notes, aircraft and building in a piece have no effect', () => {
    const chain = withAllowance();
    const statements = [noteOf('core is late', 1), aircraftOf(), installedOf(1, [1])];
    for (const statement of statements) {
      chain.record(statement);
      expect(effects(chain)).toEqual([]);
    }
  });
});

describe('targets', () => {
  it('[L6] a target revision moves the margin and no mass', () => {
    const chain = withAllowance();
    chain.record(targetsOf(20));
    expect(effects(chain)).toEqual([]);
    chain.record(targetsOf(19, { reserveKg: 0.5, reason: 'customer' }));
    const row = chain.fold().rows.at(-1);
    expect(row?.effects.map(({ cause, marginNg }) => [cause, marginNg])).toEqual([['target revised', (-3n * KG) / 2n]]);
    expect(row?.marginNg).toBe(61n * (KG / 10n));
  });

  it('[L6] targets that are struck out and set anew are told from the last ones', () => {
    const chain = new Chain();
    const first = chain.record(targetsOf(100));
    chain.correct(first, undefined);
    chain.record(targetsOf(90));
    const { rows } = chain.fold();
    expect(rows.map((row) => row.marginNg)).toEqual([100n * KG, undefined, 90n * KG]);
    expect(rows.flatMap((row) => row.effects).map(({ marginNg }) => marginNg)).toEqual([-10n * KG]);
  });

  it('[L7] targets in force are the last by the day they happened, not by number', () => {
    const chain = new Chain();
    chain.record(targetsOf(100), { on: '2026-05-20' });
    chain.record(targetsOf(90, { reason: 'found in the files' }), { on: '2026-05-02' });
    const ledger = chain.fold();
    expect(inForce(ledger, 'targets')?.emptyMassKg).toBe(100);
    expect(standingsOf(ledger, 'targets').map(({ seq }) => seq)).toEqual([2, 1]);
  });
});

describe('corrections', () => {
  it('[L2] a struck-out weighing stops counting and a correction of the correction brings it back', () => {
    const chain = withAllowance();
    const weighing = chain.record(weighingOf(1, 11));
    const struck = chain.correct(weighing, undefined);
    expect(headlineOf(chain.fold()).predictedKg).toBe(12.4);
    chain.correct(struck, weighingOf(1, 11));
    expect(headlineOf(chain.fold()).predictedKg).toBe(11);
  });

  it('[L2] a weighing written down for the wrong part is moved to the right one', () => {
    const chain = withAllowance();
    chain.record(partOf(2));
    chain.record(estimateOf(2, { massKg: 5, xM: 3 }));
    const weighing = chain.record(weighingOf(1, 5.2));
    chain.correct(weighing, weighingOf(2, 5.2));
    const states = [1, 2].map((number) => chain.fold().books.byPart.get(partIdOf(number))?.state);
    expect(states.map((state) => state?.basic.massNg)).toEqual([10n * KG, 52n * (KG / 10n)]);
  });

  it('[L2] a corrected day moves an entry among the others', () => {
    const chain = withAllowance();
    const late = chain.record(weighingOf(1, 11), { on: '2026-05-20' });
    chain.record(weighingOf(1, 10), { on: '2026-05-10' });
    expect(headlineOf(chain.fold()).basicKg).toBe(11);
    chain.correct(late, weighingOf(1, 11), { replacedOn: '2026-05-05' });
    expect(headlineOf(chain.fold()).basicKg).toBe(10);
  });

  it('[L2] a correction of what is not there has no effect', () => {
    const chain = withAllowance();
    const elsewhere = new Chain().record(weighingOf(1, 1), { id: partIdOf(77) });
    chain.correct(elsewhere, undefined);
    expect(effects(chain)).toEqual([]);
    expect(headlineOf(chain.fold()).predictedKg).toBe(12.4);
  });

  it('[L2] a replacement of another kind leaves nothing of the first behind', () => {
    const chain = withAllowance();
    const targets = chain.record(targetsOf(20));
    chain.correct(targets, datumOf(1));
    const ledger = chain.fold();
    expect([inForce(ledger, 'targets'), ledger.datumNm]).toEqual([undefined, 1_000_000_000n]);
  });
});

describe('as known', () => {
  it('[L7] the ledger as known at an entry knows nothing of later corrections', () => {
    const chain = withAllowance();
    const weighing = chain.record(weighingOf(1, 11));
    chain.correct(weighing, weighingOf(1, 10.5));
    expect([2, 3, 4].map((seq) => headlineOf(chain.fold(seq)).predictedKg)).toEqual([12.4, 11, 10.5]);
    expect(headlineOf(foldEntries([])).seq).toBe(0);
  });
});

describe('datum', () => {
  it('[L8] a datum moved aft by 0.5 m takes 0.5 m from every station and leaves the mass', () => {
    const chain = withAllowance();
    chain.record(datumOf(0.5));
    const ledger = chain.fold();
    expect(centreOfGravityM(predictedOf(ledger), 'x')).toEqual({ ok: true, value: 1.5 });
    expect(basicOf(ledger).massNg).toBe(10n * KG);
    chain.record(partOf(2));
    chain.record(estimateOf(2, { massKg: 12.4, xM: 1.5 }));
    expect(centreOfGravityM(predictedOf(chain.fold()), 'x')).toEqual({ ok: true, value: 1.5 });
  });

  it('[L8] per cent MAC and the CG against its range stay as they were when the datum moves', () => {
    const chain = withAllowance();
    chain.record(aircraftOf({ macM: 1, lemacM: 1.75 }));
    chain.record(targetsOf(20, { cgForwardM: 1.9, cgAftM: 2.1 }));
    const before = headlineOf(chain.fold());
    const move = chain.record(datumOf(0.5));
    const after = headlineOf(chain.fold());
    expect([before.cg.percentMac, after.cg.percentMac]).toEqual([25, 25]);
    expect([before.targets?.cgStanding, after.targets?.cgStanding]).toEqual(['in range', 'in range']);
    expect([after.targets?.cgForwardM, after.targets?.cgAftM]).toEqual([1.4, 1.6]);
    chain.correct(move, datumOf(0.25));
    expect(headlineOf(chain.fold()).targets?.cgForwardM).toBe(1.65);
    expect(headlineOf(chain.fold()).cg.percentMac).toBe(25);
  });

  it('[L8] stations stated after the move stay where they were stated', () => {
    const chain = withAllowance();
    chain.record(datumOf(0.5));
    chain.record(targetsOf(20, { cgForwardM: 1.4, cgAftM: 1.6 }));
    expect(headlineOf(chain.fold()).targets).toMatchObject({ cgForwardM: 1.4, cgAftM: 1.6, cgStanding: 'in range' });
    const [, , move] = chain.entries;
    if (move === undefined) throw new Error('the move');
    chain.correct(move, datumOf(0.25));
    expect(headlineOf(chain.fold()).targets).toMatchObject({ cgForwardM: 1.4, cgAftM: 1.6 });
  });

  it('[L2] a correction counts its stations from the datum of the entry it corrects', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    const estimate = chain.record(estimateOf(1, { massKg: 4, xM: 2 }));
    const move = chain.record(datumOf(0.5));
    // Copied as it was typed: a correction of the mass alone leaves the arm where it is.
    const corrected = chain.correct(estimate, estimateOf(1, { massKg: 5, xM: 2 }));
    expect(centreOfGravityM(predictedOf(chain.fold()), 'x')).toEqual({ ok: true, value: 1.5 });
    chain.correct(corrected, estimateOf(1, { massKg: 5, xM: 2.25 }));
    expect(centreOfGravityM(predictedOf(chain.fold()), 'x')).toEqual({ ok: true, value: 1.75 });
    chain.correct(move, undefined);
    expect(centreOfGravityM(predictedOf(chain.fold()), 'x')).toEqual({ ok: true, value: 2.25 });
  });
});

describe('parts', () => {
  it('[R1] parts that count are told in the order in which they were added', () => {
    const chain = new Chain();
    for (const number of [3, 1, 2]) chain.record(partOf(number));
    chain.record(removedOf(1));
    expect(presentParts(chain.fold()).map((part) => part.definition.number)).toEqual(['P-3', 'P-2']);
  });
});

describe('what is worked out once', () => {
  it('[L6] is worked out again after every entry, and for other books', () => {
    const ledger = withAllowance().fold();
    const before = presentParts(ledger);
    expect(presentParts(ledger)).toBe(before);
    applyEntry(ledger, { seq: 3, recordedAt: '2026-06-30T12:00:00.000Z', entry: new Chain().record(partOf(2)).entry });
    expect(presentParts(ledger)).toHaveLength(2);
    expect(presentParts({ ...ledger, books: openBooks() })).toEqual([]);
  });
});
