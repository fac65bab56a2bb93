/**
 * The reckoned uncertainty against Monte Carlo (rules U1, U2): each source of error is drawn, the entries are what would have been typed
 * then, and the ledger is folded anew. The spread of n results has a relative standard error of 1/sqrt(2 (n - 1)); a reckoned figure may
 * lie four of those from it.
 */
import { describe, expect, it } from 'vitest';
import { foldEntries, predictedOf } from '#shared/ledger/fold.ts';
import { AXES, toKg } from '#shared/quantity/exact.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import { chanceOf } from '#tests/support/chance.ts';
import {
  armOf,
  assemblyOf,
  Chain,
  datumOf,
  estimateOf,
  partIdOf,
  partOf,
  scaleOf,
  weighingOf,
  withdrawnOf,
} from '../ledger/make-entries.ts';
import { drawsOf, perturbed } from './perturb.ts';

const DRAWS = 3000;
const STANDARD_ERRORS = 4;

type Figures = { massKg: number; xM: number; yM: number; zM: number };

function figuresOf(entries: Parameters<typeof foldEntries>[0]): Figures {
  const predicted = predictedOf(foldEntries(entries));
  const [xM, yM, zM] = AXES.map((axis) => {
    const cg = centreOfGravityM(predicted, axis);
    return cg.ok ? cg.value : 0;
  }) as [number, number, number];
  return { massKg: toKg(predicted.massNg), xM, yM, zM };
}

function spreadOf(chain: Chain, gainStd: Readonly<Record<string, number>>, draws: number): Figures {
  const chance = chanceOf(20_261_125);
  const drawn = Array.from({ length: draws }, () => figuresOf(perturbed(chain.entries, drawsOf(chance), gainStd)));
  const spread = (of: keyof Figures) => {
    const mean = drawn.reduce((sum, figures) => sum + figures[of], 0) / draws;
    return Math.sqrt(drawn.reduce((sum, figures) => sum + (figures[of] - mean) ** 2, 0) / (draws - 1));
  };
  return { massKg: spread('massKg'), xM: spread('xM'), yM: spread('yM'), zM: spread('zM') };
}

function reckonedOf(chain: Chain): Figures {
  const { predictedStdKg, cg } = headlineOf(chain.fold());
  return { massKg: predictedStdKg, xM: cg.xStdM ?? 0, yM: cg.yStdM ?? 0, zM: cg.zStdM ?? 0 };
}

function agrees(chain: Chain, gainStd: Readonly<Record<string, number>> = {}, draws = DRAWS): void {
  const [reckoned, spread] = [reckonedOf(chain), spreadOf(chain, gainStd, draws)];
  const tolerance = STANDARD_ERRORS / Math.sqrt(2 * (draws - 1));
  for (const of of ['massKg', 'xM', 'yM', 'zM'] as const) {
    const apart = Math.abs(reckoned[of] - spread[of]);
    expect({ of, apart, isNear: apart <= tolerance * spread[of] + 1e-9 }).toMatchObject({ isNear: true });
  }
}

const AT = (xM: number) => ({ xM, yM: xM / 10, zM: 1 - xM / 5 });
const TARE = { tareResolutionKg: 0.05 };

/** Parts 1 to `count`, 4 kg each at 1 m, 2 m, …, estimated without any uncertainty. */
function partsOf(count: number, quantity = 1): Chain {
  const chain = new Chain();
  for (let number = 1; number <= count; number += 1) {
    chain.record(partOf(number, { quantity }));
    chain.record(estimateOf(number, { massStdKg: 0, ...AT(number) }));
  }
  return chain;
}

describe('one source at a time', () => {
  it('[U1] readings of different parts are independent', () => {
    const chain = partsOf(3);
    for (const number of [1, 2, 3]) chain.record(weighingOf(number, 4, { grossResolutionKg: 0.05 }));
    expect(reckonedOf(chain).massKg).toBeCloseTo((0.05 / Math.sqrt(12)) * Math.sqrt(3), 12);
    agrees(chain);
  });

  it('[U2] the calibration of one scale is common to all that was weighed on it, and another scale has its own', () => {
    const chain = partsOf(4);
    chain.record(scaleOf('big', { gainStd: 0.01 }));
    chain.record(scaleOf('small', { gainStd: 0.02 }));
    for (const number of [1, 2, 3])
      chain.record(weighingOf(number, 4, { scale: 'big', grossResolutionKg: 0, condition: 'trimmed' }));
    chain.record(weighingOf(4, 4, { scale: 'small', grossResolutionKg: 0 }));
    // (0.01 x 12)^2 + (0.02 x 4)^2
    expect(reckonedOf(chain).massKg).toBeCloseTo(Math.hypot(0.12, 0.08), 12);
    agrees(chain, { big: 0.01, small: 0.02 });
  });

  it('[U2] the gain acts on the net and not on what goes on later', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1, { massKg: 10, massStdKg: 0, laterKg: 6, xM: 1 }));
    chain.record(scaleOf('big', { gainStd: 0.01 }));
    chain.record(weighingOf(1, 4, { scale: 'big', grossResolutionKg: 0, condition: 'trimmed' }));
    expect(reckonedOf(chain).massKg).toBeCloseTo(0.04, 12);
  });

  it('[U2] one tare taken off several weighings is one error, another tare another', () => {
    const chain = partsOf(3);
    const reading = (tareKg: number) => [{ grossKg: 4 + tareKg, tareKg, typed: {} }];
    const onCradle = { ...TARE, fixture: 'cradle', grossResolutionKg: 0 };
    chain.record(weighingOf(1, 4, { ...onCradle, readings: reading(2) }));
    chain.record(weighingOf(2, 4, { ...onCradle, readings: reading(2) }));
    chain.record(weighingOf(3, 4, { ...onCradle, readings: reading(2.5) }));
    const u = 0.05 / Math.sqrt(12);
    expect(reckonedOf(chain).massKg).toBeCloseTo(Math.hypot(2 * u, u), 11);
    agrees(chain);
  });

  it('[U2] pieces weighed as one lot are off together', () => {
    const chain = partsOf(1, 4);
    chain.record(weighingOf(1, 16, { pieces: [1, 2, 3, 4], grossResolutionKg: 0.1 }));
    expect(reckonedOf(chain).massKg).toBeCloseTo(0.1 / Math.sqrt(12), 12);
    agrees(chain);
    chain.record(withdrawnOf(1, [4]));
    expect(reckonedOf(chain).massKg).toBeCloseTo((0.1 / Math.sqrt(12)) * 0.75, 12);
  });

  it('[U2] the pieces under one estimate are off together, and the estimates of two parts are not', () => {
    const chain = new Chain();
    for (const number of [1, 2]) {
      chain.record(partOf(number, { quantity: 3 }));
      chain.record(estimateOf(number, { massStdKg: 0.2, ...AT(number) }));
    }
    expect(reckonedOf(chain).massKg).toBeCloseTo(Math.hypot(0.6, 0.6), 12);
    agrees(chain);
  });

  it('[U2] an estimate that states no uncertainty has three per cent, and an arm that states none has none', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1, { massKg: 5, xM: 2 }));
    expect(reckonedOf(chain)).toMatchObject({ massKg: 0.15, xM: 0 });
    expect(headlineOf(chain.fold()).assumedStdCount).toBe(1);
  });

  it('[U2] flash and what goes on later carry the relative uncertainty of their estimate', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1, { massKg: 5, massStdKg: 0.5, laterKg: 1, finishKg: 0.4, flashKg: 0.3, xM: 1 }));
    const stdAs = (condition: 'as released' | 'trimmed' | 'fitted' | 'finished') => {
      const weighed = new Chain();
      for (const { entry } of chain.entries) weighed.add(entry);
      weighed.record(weighingOf(1, 4, { condition, grossResolutionKg: 0 }));
      return reckonedOf(weighed).massKg;
    };
    // A tenth of: later less flash, later, finish, nothing.
    expect(stdAs('as released')).toBeCloseTo(0.07, 12);
    expect(stdAs('trimmed')).toBeCloseTo(0.1, 12);
    expect(stdAs('fitted')).toBeCloseTo(0.04, 12);
    expect(stdAs('finished')).toBe(0);
  });

  it('[U2] of a weighed assembly the scale is uncertain, and what was still to come, and nothing of the parts', () => {
    const chain = new Chain();
    chain.record(partOf(9));
    chain.record(estimateOf(9, { massKg: 1, massStdKg: 0.2, laterKg: 0.5, flashKg: 0.25, xM: 1 }));
    chain.record(partOf(1, { parentPartId: partIdOf(9) }));
    chain.record(estimateOf(1, { massKg: 5, massStdKg: 0.5, laterKg: 1, armStdM: 0.02, xM: 2 }));
    chain.record(assemblyOf(9, 5, [1], { condition: 'as released', grossResolutionKg: 0, xM: 1.8 }));
    // A tenth of 1 kg; a fifth of 0.5 kg less 0.25 kg of flash.
    expect(reckonedOf(chain).massKg).toBeCloseTo(Math.hypot(0.1, 0.05), 12);
    agrees(chain);
    // Finished, nothing is to come: mass is known, and with a measured arm so is the CG.
    chain.record(assemblyOf(9, 6, [1], { grossResolutionKg: 0, xM: 1.8 }));
    expect(reckonedOf(chain).massKg).toBeCloseTo(0, 12);
    expect(reckonedOf(chain).xM).toBeCloseTo(0, 12);
    // Without one it sits at the CG of its parts, which is as uncertain as they are.
    chain.record(assemblyOf(9, 6, [1], { grossResolutionKg: 0 }));
    expect(reckonedOf(chain).xM).toBeCloseTo(
      Math.hypot((1 / 6) * (1 / 6) * 0.5, (5 / 6) * (1 / 6) * 0.2, (5 / 6) * 0.02),
      12,
    );
    agrees(chain);
  });

  it('[U2] arms are off over all the mass that is at them, allowance counted', () => {
    const chain = new Chain();
    chain.record(partOf(1, { quantity: 2 }));
    chain.record(estimateOf(1, { massStdKg: 0, growth: 0.25, armStdM: 0.01, ...AT(1) }));
    chain.record(partOf(2));
    chain.record(estimateOf(2, { massStdKg: 0, ...AT(3) }));
    chain.record(armOf(2, { xM: 3.2, armStdM: 0.02 }));
    // 10 kg of 14 at the first arm, 4 at the second.
    expect(reckonedOf(chain).xM).toBeCloseTo(Math.hypot(0.01 * 10, 0.02 * 4) / 14, 12);
    expect(reckonedOf(chain).yM).toBeCloseTo((0.01 * 10) / 14, 12);
    agrees(chain);
  });
});

/** A tail of two halves and a rib, in a body of three more parts, with sources of every kind. */
function shopChain(changes: { readonly tailArm: boolean; readonly isBodyWeighed: boolean }): Chain {
  const chain = new Chain();
  chain.record(scaleOf('hook', { gainStd: 0.004 }));
  chain.record(scaleOf('bench', { gainStd: 0.002 }));
  chain.record(partOf(10, { process: 'bonding' }));
  chain.record(estimateOf(10, { massKg: 0.8, laterKg: 0.3, flashKg: 0, growth: 0.3, laterGrowth: 0.2, ...AT(6) }));
  chain.record(partOf(11, { parentPartId: partIdOf(10) }));
  for (const number of [1, 2, 3]) {
    chain.record(partOf(number, { quantity: number, parentPartId: partIdOf(number === 3 ? 11 : 10) }));
    chain.record(
      estimateOf(number, {
        massKg: 3 + number,
        laterKg: 0.4,
        finishKg: 0.1,
        flashKg: 0.2,
        growth: 0.24,
        laterGrowth: 0.1,
        armStdM: 0.01 * number,
        ...(number === 2 ? { massStdKg: 0.4 } : {}),
        ...AT(2 * number),
      }),
    );
  }
  const reading = (netKg: number) =>
    [0.01, -0.02, 0.01].map((off) => ({ grossKg: netKg + off + 1, tareKg: 1, typed: {} }));
  chain.record(
    weighingOf(2, 9.4, {
      pieces: [1, 2],
      readings: reading(9.4),
      ...TARE,
      scale: 'bench',
      fixture: 'tray',
      condition: 'as released',
    }),
  );
  chain.record(
    weighingOf(1, 4.1, { readings: reading(4.1), ...TARE, scale: 'bench', fixture: 'tray', condition: 'fitted' }),
  );
  chain.record(
    assemblyOf(11, 20.4, [3], {
      condition: 'trimmed',
      scale: 'hook',
      grossResolutionKg: 0.2,
      ...(changes.tailArm ? { xM: 6.3, armStdM: 0.03 } : {}),
    }),
  );
  if (changes.isBodyWeighed)
    chain.record(
      assemblyOf(10, 36.1, [1, 2, 3, 11], {
        condition: 'trimmed',
        scale: 'hook',
        grossResolutionKg: 0.1,
        yM: 0.5,
        armStdM: 0.02,
      }),
    );
  chain.record(partOf(4));
  chain.record(estimateOf(4, { massKg: 20, massStdKg: 0.5, growth: 0.1, armStdM: 0.02, ...AT(1) }));
  chain.record(weighingOf(3, 6.5, { pieces: [2], scale: 'bench', condition: 'trimmed', grossResolutionKg: 0.05 }));
  return chain;
}

describe('all together', () => {
  const gainStd = { hook: 0.004, bench: 0.002 };
  it.each([
    { tailArm: false, isBodyWeighed: false },
    { tailArm: true, isBodyWeighed: false },
    { tailArm: false, isBodyWeighed: true },
    { tailArm: true, isBodyWeighed: true },
  ])('[U2] assemblies with and without a measured arm, nested and not: $tailArm, $isBodyWeighed', (changes) => {
    agrees(shopChain(changes), gainStd);
  });

  it('[U2] a piece withdrawn from a weighed assembly takes its own uncertainty along', () => {
    const chain = shopChain({ tailArm: true, isBodyWeighed: true });
    chain.record(withdrawnOf(3, [1]));
    agrees(chain, gainStd);
  });

  it('[U2] moving the datum leaves every uncertainty as it was', () => {
    const chain = shopChain({ tailArm: true, isBodyWeighed: true });
    const before = reckonedOf(chain);
    chain.record(datumOf(2.5));
    const after = reckonedOf(chain);
    for (const of of ['massKg', 'xM', 'yM', 'zM'] as const) expect(after[of]).toBeCloseTo(before[of], 12);
  });
});

describe('arms within a weighed assembly', () => {
  /** A part of 5 kg at 2 m of which 1 kg goes on later, in an assembly of its own that weighs 5 kg at 1.8 m before that. */
  const weighed = (massStdKg: number, armStdM: number) => {
    const chain = new Chain();
    chain.record(partOf(9));
    chain.record(estimateOf(9, { massKg: 0 }));
    chain.record(partOf(1, { parentPartId: partIdOf(9) }));
    chain.record(estimateOf(1, { massKg: 5, massStdKg, laterKg: 1, armStdM, xM: 2 }));
    chain.record(assemblyOf(9, 5, [1], { condition: 'trimmed', grossResolutionKg: 0, xM: 1.8 }));
    return chain;
  };

  it('[U2] the arm of a part moves what still goes on there, and not what the scale has found the place of', () => {
    expect(reckonedOf(weighed(0, 0.02)).xM).toBeCloseTo((1 * 0.02) / 6, 12);
    expect(reckonedOf(weighed(0, 0)).xM).toBe(0);
  });

  it('[U2] what still goes on is off at the arm of its part', () => {
    // A tenth of 1 kg at 2 m, about (5 x 1.8 + 1 x 2)/6 m.
    expect(reckonedOf(weighed(0.5, 0)).xM).toBeCloseTo((0.1 * (2 - 11 / 6)) / 6, 12);
  });
});
