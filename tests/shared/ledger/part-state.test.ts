/** What one part contributes (rules R1, W1, W3, W8, W9, E2). */
import { describe, expect, it } from 'vitest';
import { partState } from '#shared/ledger/part-state.ts';
import {
  armOf,
  Chain,
  datumOf,
  estimateOf,
  installedOf,
  partIdOf,
  partOf,
  removedOf,
  weighingOf,
  withdrawnOf,
} from './make-entries.ts';

const kg = (massNg: bigint | undefined) => Number(massNg) / 1e12;

function stateOf(chain: Chain, number = 1) {
  const state = chain.fold().books.byPart.get(partIdOf(number))?.state;
  if (state === undefined) throw new Error('no such part');
  return state;
}

/** Four ribs of 2 kg, 0.2 kg of it later, with allowances of 20 % and 50 %. */
function ribs(): Chain {
  const chain = new Chain();
  chain.record(partOf(1, { quantity: 4 }));
  chain.record(estimateOf(1, { massKg: 2, laterKg: 0.2, flashKg: 0.1, growth: 0.2, laterGrowth: 0.5, xM: 3, yM: 1 }));
  return chain;
}

describe('every piece once', () => {
  it('[R1] what is not weighed counts at its estimate and carries its allowance, later its own', () => {
    const state = stateOf(ribs());
    expect([kg(state.basic.massNg), kg(state.allowance.massNg)]).toEqual([8, 1.84]);
    expect([state.weighedPieces, kg(state.weighedNg)]).toEqual([0, 0]);
  });

  it('[R1] a weighed piece takes the place of its estimate and keeps the allowance of what goes on later', () => {
    const chain = ribs();
    chain.record(weighingOf(1, 1.9, { pieces: [2], condition: 'trimmed' }));
    const state = stateOf(chain);
    expect(kg(state.weighedNg)).toBe(2.1);
    expect(kg(state.basic.massNg)).toBe(8.1);
    expect(kg(state.allowance.massNg)).toBe(1.48);
  });

  it('[R1] a removed part and one never added count nothing', () => {
    const chain = ribs();
    chain.record(removedOf(1));
    chain.record(estimateOf(2, { massKg: 50 }));
    expect([stateOf(chain).basic.massNg, stateOf(chain, 2).basic.massNg]).toEqual([0n, 0n]);
  });

  it('[R1] a weighing of a piece beyond a corrected quantity no longer counts', () => {
    const chain = new Chain();
    const added = chain.record(partOf(1, { quantity: 3 }));
    chain.record(weighingOf(1, 5, { pieces: [3] }));
    chain.correct(added, partOf(1, { quantity: 2 }));
    expect(stateOf(chain).basic.massNg).toBe(0n);
  });

  it('[R1] installed and in stock are told apart, and an installed piece may still be an estimate', () => {
    const chain = ribs();
    chain.record(weighingOf(1, 2.2, { pieces: [1] }));
    chain.record(weighingOf(1, 2.4, { pieces: [2] }));
    chain.record(installedOf(1, [1, 3]));
    const state = stateOf(chain);
    expect([kg(state.installedNg), kg(state.inStockNg)]).toEqual([4.2, 2.4]);
    expect(state.installedPieces).toEqual([1, 3]);
  });
});

describe('projection', () => {
  it.each([
    ['as released', 2 - 0.1 + 0.2],
    ['trimmed', 2 + 0.2],
    ['finished', 2],
  ] as const)('[W3] a piece of 2 kg weighed %s is projected to its installed mass', (condition, projectedKg) => {
    const chain = ribs();
    chain.record(weighingOf(1, 2, { condition }));
    expect(kg(stateOf(chain).weighedNg)).toBeCloseTo(projectedKg, 12);
  });

  it('[W3] fitted out, only the finish goes on, nothing where none is stated, and its allowance with it', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1, { massKg: 2, laterKg: 0.5, finishKg: 0.2, laterGrowth: 0.5 }));
    chain.record(weighingOf(1, 1.9, { condition: 'fitted' }));
    // 1.9 + 0.2, and 50 % of 0.2.
    expect([kg(stateOf(chain).weighedNg), kg(stateOf(chain).allowance.massNg)]).toEqual([2.1, 0.1]);
    chain.record(estimateOf(1, { massKg: 2, laterKg: 0.5, laterGrowth: 0.5 }));
    expect([kg(stateOf(chain).weighedNg), kg(stateOf(chain).allowance.massNg)]).toEqual([1.9, 0]);
  });

  it('[W9] fitted counts over trimmed and finished over fitted, whatever the day', () => {
    const chain = ribs();
    for (const [condition, netKg, on] of [
      ['finished', 2.3, '2026-05-02'],
      ['fitted', 2.2, '2026-05-03'],
      ['trimmed', 1.9, '2026-05-04'],
    ] as const)
      chain.record(weighingOf(1, netKg, { condition }), { on });
    expect(kg(stateOf(chain).weighedNg)).toBe(2.3);
    const [, , finished] = chain.entries;
    if (finished === undefined) throw new Error('the first weighing');
    chain.correct(finished, undefined);
    expect(kg(stateOf(chain).weighedNg)).toBe(2.2);
  });

  it('[W3] without an estimate nothing comes off and nothing goes on', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(weighingOf(1, 2, { condition: 'as released' }));
    expect(kg(stateOf(chain).weighedNg)).toBe(2);
  });

  it('[W1] a lot of three is divided by three, each to the nearest nanogram', () => {
    const chain = new Chain();
    chain.record(partOf(1, { quantity: 3 }));
    chain.record(weighingOf(1, 1, { pieces: [1, 2, 3] }));
    expect(stateOf(chain).weighedNg).toBe(999_999_999_999n);
  });
});

describe('which weighing', () => {
  it('[W9] the later condition counts even where it was weighed on an earlier day', () => {
    const chain = ribs();
    chain.record(weighingOf(1, 2.5, { condition: 'finished' }), { on: '2026-05-03' });
    chain.record(weighingOf(1, 1.7, { condition: 'as released' }), { on: '2026-05-09' });
    expect(kg(stateOf(chain).weighedNg)).toBe(2.5);
  });

  it('[W9] of two in one condition the later day counts, whichever was recorded first', () => {
    const chain = ribs();
    chain.record(weighingOf(1, 2.5), { on: '2026-05-09' });
    chain.record(weighingOf(1, 2.1), { on: '2026-05-03' });
    expect(kg(stateOf(chain).weighedNg)).toBe(2.5);
  });

  it('[W9] of two on one day the one recorded later counts', () => {
    const chain = ribs();
    chain.record(weighingOf(1, 2.5));
    chain.record(weighingOf(1, 2.1));
    expect(kg(stateOf(chain).weighedNg)).toBe(2.1);
  });

  it('[W9] a lot goes on speaking for the pieces that were not weighed again', () => {
    const chain = ribs();
    chain.record(weighingOf(1, 8, { pieces: [4, 2, 1, 3] }));
    chain.record(weighingOf(1, 2.5, { pieces: [3] }), { on: '2026-05-02' });
    const { weighings } = stateOf(chain);
    expect(weighings.map(({ standing, pieces }) => [standing.seq, pieces])).toEqual([
      [3, [1, 2, 4]],
      [4, [3]],
    ]);
  });
});

describe('withdrawn', () => {
  it('[W8] a withdrawn piece counts at its estimate until the new one is weighed', () => {
    const chain = ribs();
    chain.record(weighingOf(1, 2.5));
    chain.record(installedOf(1, [1]));
    chain.record(withdrawnOf(1, [1]), { on: '2026-05-02' });
    expect(stateOf(chain)).toMatchObject({ weighedPieces: 0, installedPieces: [], weighedNg: 0n });
    expect(kg(stateOf(chain).basic.massNg)).toBe(8);
    chain.record(weighingOf(1, 1.8, { condition: 'as released' }), { on: '2026-05-03' });
    expect(kg(stateOf(chain).weighedNg)).toBeCloseTo(1.9, 12);
  });

  it('[W8] a weighing from before the withdrawal that is recorded late does not count', () => {
    const chain = ribs();
    chain.record(withdrawnOf(1, [1]), { on: '2026-05-10' });
    chain.record(weighingOf(1, 2.5), { on: '2026-05-08' });
    expect(stateOf(chain).weighedPieces).toBe(0);
  });

  it('[W8] the history of a withdrawn piece stays in the ledger', () => {
    const chain = ribs();
    chain.record(weighingOf(1, 2.5));
    chain.record(withdrawnOf(1, [1]));
    const ledger = chain.fold();
    expect(ledger.books.byPart.get(partIdOf(1))?.standings.size).toBe(4);
    expect(ledger.rows[2]?.basic.massNg).toBe(8_500_000_000_000n);
  });
});

describe('arms', () => {
  it('[R2] a measured arm overrules the estimate axis by axis, also against a later estimate', () => {
    const chain = ribs();
    chain.record(armOf(1, { xM: 3.25 }));
    chain.record(estimateOf(1, { massKg: 2, xM: 9, yM: 1.5 }), { on: '2026-05-20' });
    expect(stateOf(chain).armsNm).toEqual({ x: 3_250_000_000n, y: 1_500_000_000n, z: undefined });
  });

  it('[L8] arms are kept about the first datum', () => {
    const chain = new Chain();
    chain.record(datumOf(0.5));
    chain.record(partOf(1));
    chain.record(estimateOf(1, { xM: 1, yM: 1 }));
    expect(stateOf(chain).armsNm).toEqual({ x: 1_500_000_000n, y: 1_000_000_000n, z: undefined });
  });

  it('[L8] the state of a part does not depend on the order in which its entries are given', () => {
    const chain = ribs();
    chain.record(weighingOf(1, 2.5), { on: '2026-05-09' });
    chain.record(armOf(1, { zM: 0.2 }), { on: '2026-05-03' });
    chain.record(withdrawnOf(1, [1]), { on: '2026-05-11' });
    const standings = [...(chain.fold().books.byPart.get(partIdOf(1))?.standings.values() ?? [])];
    expect(partState(partIdOf(1), [...standings].reverse())).toEqual(partState(partIdOf(1), standings));
  });
});
