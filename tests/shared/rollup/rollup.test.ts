/** Where the aircraft stands (rules R1, R2, R3). */
import { describe, expect, it } from 'vitest';
import { EMPTY_TALLY, tallyOf, toLengthNm, toMassNg } from '#shared/quantity/exact.ts';
import { breakdownOf, NO_ASSEMBLY } from '#shared/rollup/breakdown.ts';
import { centreOfGravityM, percentMac } from '#shared/rollup/centre-of-gravity.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import { runningOf } from '#shared/rollup/running.ts';
import {
  aircraftOf,
  Chain,
  estimateOf,
  installedOf,
  partIdOf,
  partOf,
  removedOf,
  targetsOf,
  weighingOf,
} from '../ledger/make-entries.ts';

/** Spar 10 kg + 20 % at 2 m, weighed 11 kg; tail 5 kg + 20 % at 6 m; cables 2 kg without an arm. */
function bird(): Chain {
  const chain = new Chain();
  chain.record(aircraftOf({ macM: 2, lemacM: 2 }));
  chain.record(partOf(1, { number: 'SPAR', group: 'wing', process: 'prepreg' }));
  chain.record(estimateOf(1, { massKg: 10, growth: 0.2, xM: 2 }));
  chain.record(partOf(2, { number: 'FIN', group: 'tail', process: 'prepreg' }));
  chain.record(estimateOf(2, { massKg: 5, growth: 0.2, xM: 6 }));
  chain.record(partOf(3, { number: 'CABLE', group: 'body', process: 'wiring' }));
  chain.record(estimateOf(3, { massKg: 2 }));
  chain.record(weighingOf(1, 11));
  chain.record(installedOf(1, [1]));
  return chain;
}

describe('headline', () => {
  it('[R1] basic is without allowances, predicted with those of what is not weighed', () => {
    const headline = headlineOf(bird().fold());
    expect(headline).toMatchObject({ basicKg: 18, allowanceKg: 1, predictedKg: 19, partCount: 3, pieceCount: 3 });
  });

  it('[R1] margin is target less predicted less reserve, and its share is of the target', () => {
    const chain = bird();
    expect(headlineOf(chain.fold()).targets).toBeUndefined();
    chain.record(targetsOf(20, { reserveKg: 0.5 }));
    expect(headlineOf(chain.fold()).targets).toMatchObject({ marginKg: 0.5, marginShareOfTarget: 0.025, revision: 1 });
    chain.record(targetsOf(18, { reason: 'customer' }));
    expect(headlineOf(chain.fold()).targets).toMatchObject({ marginKg: -1, revision: 2 });
  });

  it('[R1] the share weighed is by mass, installed and in stock are told apart', () => {
    const headline = headlineOf(bird().fold());
    expect(headline).toMatchObject({ weighedKg: 11, weighedShare: 11 / 18, installedKg: 11, inStockKg: 0 });
    expect(headlineOf(new Chain().fold()).weighedShare).toBeUndefined();
  });

  it('[R1] parts that lack an estimate or an arm are listed, an assembly without its own estimate is not', () => {
    const chain = bird();
    chain.record(partOf(4));
    chain.record(partOf(5, { parentPartId: partIdOf(6) }));
    chain.record(estimateOf(5, { massKg: 1, xM: 1 }));
    chain.record(partOf(6));
    const { open } = runningOf(chain.fold());
    expect(open).toMatchObject({ withoutEstimate: [partIdOf(4)], withoutArm: [partIdOf(3)] });
  });

  it('[R2] the CG is of the predicted mass that has an arm, and what has none is stated', () => {
    const headline = headlineOf(bird().fold());
    const xM = (11 * 2 + 6 * 6) / 17;
    expect(headline.cg.xM).toBeCloseTo(xM, 12);
    expect(headline.cgBasic.xM).toBeCloseTo((11 * 2 + 5 * 6) / 16, 12);
    expect([headline.withoutArmKg, headline.cg.yM, headline.cg.zM]).toEqual([2, undefined, undefined]);
    expect(headline.cg.percentMac).toBeCloseTo(((xM - 2) / 2) * 100, 10);
  });

  it.each([
    [{}, undefined],
    [{ cgForwardM: 3.4, cgAftM: 3.5 }, 'in range'],
    [{ cgForwardM: 3.5 }, 'forward of range'],
    [{ cgAftM: 3.4 }, 'aft of range'],
    [{ cgAftM: 3.5 }, 'in range'],
  ])('[R2] against a CG range %j the CG stands %s', (range, standing) => {
    const chain = bird();
    chain.record(targetsOf(20, range));
    expect(headlineOf(chain.fold()).targets?.cgStanding).toBe(standing);
  });

  it('[R2] without a chord there is no per cent MAC, without mass no CG', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(targetsOf(20, { cgForwardM: 1 }));
    const headline = headlineOf(chain.fold());
    expect(headline.cg).toEqual({ xM: undefined, yM: undefined, zM: undefined, percentMac: undefined });
    expect(headline.targets?.cgStanding).toBeUndefined();
  });
});

describe('centre of gravity', () => {
  it('[R2] the CG is the sum of moments over the sum of masses', () => {
    const tally = tallyOf(toMassNg(2), { x: toLengthNm(-1.5), y: toLengthNm(0), z: undefined });
    expect(centreOfGravityM(tally, 'x')).toEqual({ ok: true, value: -1.5 });
    expect(centreOfGravityM(tally, 'y')).toEqual({ ok: true, value: 0 });
  });

  it('[R2] the CG of no mass is a refusal and never NaN', () => {
    for (const axis of ['x', 'y', 'z'] as const)
      expect(centreOfGravityM(EMPTY_TALLY, axis)).toEqual({ ok: false, refusal: { code: 'cg-of-zero-mass', axis } });
    const armless = tallyOf(toMassNg(2), { x: undefined, y: undefined, z: undefined });
    expect(centreOfGravityM(armless, 'x').ok).toBe(false);
  });

  it('[R2] per cent MAC is zero at the leading edge and a hundred one chord behind it', () => {
    const chord = { lemacM: 2, macM: 1.25 };
    expect([2, 2.3125, 3.25, 1.75].map((xM) => percentMac(xM, chord))).toEqual([0, 25, 100, -20]);
  });
});

describe('breakdown', () => {
  it('[R3] by group: basic, predicted, share weighed, target and margin', () => {
    const chain = bird();
    const groups = [
      { group: 'wing', massKg: 10.5 },
      { group: 'engine', massKg: 60 },
    ];
    chain.record(targetsOf(90, { groups }));
    const rows = breakdownOf(chain.fold(), 'group');
    expect(rows.map(({ name, targetKg, marginKg }) => [name, targetKg, marginKg])).toEqual([
      ['wing', 10.5, -0.5],
      ['tail', undefined, undefined],
      ['body', undefined, undefined],
      ['engine', 60, 60],
    ]);
    expect(rows[0]).toMatchObject({ basicNg: toMassNg(11), predictedNg: toMassNg(11), weighedShare: 1, cgXM: 2 });
    expect(rows[1]).toMatchObject({ basicNg: toMassNg(5), predictedNg: toMassNg(6), weighedShare: 0, partCount: 1 });
    expect(rows[2]?.cgXM).toBeUndefined();
    expect(rows[3]).toMatchObject({ partCount: 0, weighedShare: undefined, cgXM: undefined });
  });

  it('[R3] by process, removed parts do not count', () => {
    const chain = bird();
    chain.record(removedOf(2));
    const rows = breakdownOf(chain.fold(), 'process');
    expect(rows.map(({ name, partCount }) => [name, partCount])).toEqual([
      ['prepreg', 1],
      ['wiring', 1],
    ]);
  });

  it('[R3] by assembly: a part counts in the row of its topmost assembly, and only there', () => {
    const chain = bird();
    chain.record(partOf(4, { number: 'WING', process: 'bonding' }));
    chain.record(partOf(5, { number: 'BOX', parentPartId: partIdOf(4) }));
    chain.record(partOf(6, { number: 'RIB', parentPartId: partIdOf(5), quantity: 4 }));
    chain.record(estimateOf(6, { massKg: 0.5 }));
    chain.record(estimateOf(4, { massKg: 0.25 }));
    const rows = breakdownOf(chain.fold(), 'assembly');
    expect(rows.map(({ name, partCount, basicNg }) => [name, partCount, basicNg])).toEqual([
      [NO_ASSEMBLY, 3, toMassNg(18)],
      ['WING', 3, toMassNg(2.25)],
    ]);
  });

  it('[R3] the parts of a removed assembly stand on their own', () => {
    const chain = bird();
    chain.record(partOf(4, { number: 'WING' }));
    chain.record(partOf(5, { number: 'RIB', parentPartId: partIdOf(4) }));
    chain.record(removedOf(4));
    expect(breakdownOf(chain.fold(), 'assembly').map(({ name }) => name)).toEqual([NO_ASSEMBLY]);
  });
});
