/** Single pieces, lots and conditions in weighed assemblies (rules W7, W3, W9, R1), with figures worked out by hand. */
import { describe, expect, it } from 'vitest';
import { headlineOf } from '#shared/rollup/headline.ts';
import {
  assemblyOf,
  Chain,
  estimateOf,
  installedOf,
  partIdOf,
  partOf,
  weighingOf,
  withdrawnOf,
} from './make-entries.ts';

const [FIRST, SECOND, THIRD] = ['2026-05-02', '2026-05-03', '2026-05-04'].map((on) => ({ on }));

/** Fuselage 1 holds wing 2, which holds ribs 3: 0, 4 and 2 kg by estimate, half a kilogram of a rib still to come and 0.2 kg of finish. */
function nested(quantity = 1): Chain {
  const chain = new Chain();
  chain.record(partOf(1));
  chain.record(partOf(2, { parentPartId: partIdOf(1) }));
  chain.record(partOf(3, { parentPartId: partIdOf(2), quantity }));
  chain.record(estimateOf(2, { massKg: 4 }));
  chain.record(estimateOf(3, { massKg: 2, laterKg: 0.5, finishKg: 0.2, laterGrowth: 0.1 }));
  return chain;
}

function headline(chain: Chain) {
  return headlineOf(chain.fold());
}

describe('what was still to come', () => {
  it('[W7] a new rib has not been finished because the one before it was', () => {
    const chain = nested();
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    chain.record(withdrawnOf(3, [1]), SECOND);
    chain.record(assemblyOf(1, 30, [2, 3], { condition: 'trimmed' }), THIRD);
    expect(headline(chain)).toMatchObject({ basicKg: 30.5 });
    expect(headline(chain).allowanceKg).toBeCloseTo(0.05, 12);
  });

  it('[W7] a rib that was withdrawn since had not been finished because the one after it is', () => {
    const chain = nested();
    chain.record(assemblyOf(1, 30, [2, 3], { condition: 'trimmed' }), FIRST);
    chain.record(withdrawnOf(3, [1]), SECOND);
    chain.record(weighingOf(3, 1.9), THIRD);
    // 30.5 kg with the old rib of 2 kg, by estimate; the new one weighs 1.9 kg.
    expect(headline(chain).basicKg).toBeCloseTo(30.4, 12);
  });

  it('[W7] of a lot only the pieces that were in an assembly have been in its condition', () => {
    const chain = nested(2);
    const members = [{ partId: partIdOf(3), pieces: [1] }];
    chain.record(assemblyOf(2, 10, [], { members }), FIRST);
    chain.record(assemblyOf(1, 30, [2, 3], { condition: 'trimmed' }), SECOND);
    expect(headline(chain)).toMatchObject({ basicKg: 30.5 });
    expect(headline(chain).allowanceKg).toBeCloseTo(0.05, 12);
  });

  it('[W7] a weighing of the wing that does not count tells the condition of what was in it all the same', () => {
    const chain = nested();
    chain.record(assemblyOf(1, 30, [2, 3], { condition: 'trimmed' }), FIRST);
    chain.record(assemblyOf(2, 9, [3], { condition: 'trimmed' }), SECOND);
    chain.record(weighingOf(3, 1.7, { condition: 'trimmed' }), SECOND);
    expect(headline(chain).allowanceKg).toBeCloseTo(0.05, 12);
    // The wing had been finished once, without its rib; then it was fitted out with it.
    chain.record(assemblyOf(2, 7, [2]), FIRST);
    chain.record(assemblyOf(2, 9, [3], { condition: 'fitted' }), THIRD);
    expect(headline(chain)).toMatchObject({ basicKg: 30.5 });
    expect(headline(chain).allowanceKg).toBeCloseTo(0.02, 12);
  });

  it('[W7] an assembly with less on the scale than its own flash weighs nothing but what is still to come', () => {
    const chain = nested();
    chain.record(estimateOf(1, { massKg: 9, flashKg: 31 }));
    chain.record(assemblyOf(1, 30, [2, 3], { condition: 'as released' }), FIRST);
    expect(headline(chain)).toMatchObject({ basicKg: 0.5 });
  });
});

describe('which pieces', () => {
  it('[W7] a rib weighed after its wing was withdrawn weighs by itself, and the fuselage keeps the rest', () => {
    const chain = nested();
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    chain.record(assemblyOf(1, 30, [2, 3]), FIRST);
    chain.record(withdrawnOf(2, [1]), SECOND);
    expect(headline(chain)).toMatchObject({ basicKg: 26 });
    chain.record(weighingOf(3, 3), THIRD);
    // 20 kg of fuselage, 4 kg of a wing to be made, and the rib.
    expect(headline(chain)).toMatchObject({ basicKg: 27 });
  });

  it('[W7] a wing is in the fuselage as its first piece, whatever became of a second one', () => {
    const chain = nested();
    const [, wing] = chain.entries;
    if (wing === undefined) throw new Error('a wing');
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    chain.record(assemblyOf(1, 30, [2, 3]), THIRD);
    chain.correct(wing, partOf(2, { parentPartId: partIdOf(1), quantity: 2 }));
    expect(headline(chain)).toMatchObject({ basicKg: 30 });
    chain.record(withdrawnOf(2, [2]), SECOND);
    expect(headline(chain)).toMatchObject({ basicKg: 30 });
  });

  it('[W7] a piece that a corrected quantity does away with is in no assembly', () => {
    const chain = nested(2);
    const [, , ribs] = chain.entries;
    if (ribs === undefined) throw new Error('ribs');
    const members = [{ partId: partIdOf(3), pieces: [1, 2] }];
    chain.record(assemblyOf(2, 10, [], { members }), FIRST);
    chain.correct(ribs, partOf(3, { parentPartId: partIdOf(2) }));
    expect(headline(chain)).toMatchObject({ basicKg: 10 });
  });

  it('[W7] a weighing as an assembly of what is no part counts for nothing', () => {
    const chain = nested();
    chain.record(assemblyOf(7, 10, [3]), FIRST);
    expect(headline(chain)).toMatchObject({ basicKg: 6, weighedKg: 0 });
  });
});

describe('where it is', () => {
  it('[R1] a wing is not where a fuselage was that has been withdrawn', () => {
    const chain = nested();
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    chain.record(assemblyOf(1, 30, [2, 3]), FIRST);
    chain.record(withdrawnOf(1, [1]), SECOND);
    chain.record(installedOf(2, [1]), THIRD);
    expect(headline(chain)).toMatchObject({ basicKg: 10, installedKg: 10, inStockKg: 0 });
  });

  it('[R1] the wing made in place of one withdrawn is not where the fuselage with the old one is', () => {
    const chain = nested();
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    chain.record(assemblyOf(1, 30, [2, 3]), FIRST);
    chain.record(withdrawnOf(2, [1]), SECOND);
    chain.record(assemblyOf(2, 12, [3]), THIRD);
    chain.record(installedOf(1, [1]), THIRD);
    expect(headline(chain)).toMatchObject({ basicKg: 32, installedKg: 20, inStockKg: 12 });
  });

  it('[R1] a wing that went from one fuselage to another is where the other is', () => {
    const chain = nested();
    const [, wing] = chain.entries;
    if (wing === undefined) throw new Error('a wing');
    chain.record(partOf(4));
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    chain.record(assemblyOf(1, 30, [2, 3]), FIRST);
    chain.correct(wing, partOf(2, { parentPartId: partIdOf(4) }));
    chain.record(assemblyOf(4, 50, [2, 3]), SECOND);
    chain.record(installedOf(1, [1]), THIRD);
    expect(headline(chain)).toMatchObject({ basicKg: 70, installedKg: 20, inStockKg: 50 });
    chain.record(installedOf(4, [1]), THIRD);
    expect(headline(chain)).toMatchObject({ installedKg: 70, inStockKg: 0 });
  });
});
