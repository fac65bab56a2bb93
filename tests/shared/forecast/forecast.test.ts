/** The forecast by hand (rules F2, F3): what a process adds to what it has still to release, and where there is nothing to add. */
import { describe, expect, it } from 'vitest';
import { ForecastReport } from '#shared/contract/forecast.ts';
import { NINETY_PERCENT } from '#shared/forecast/normal.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import {
  assemblyOf,
  Chain,
  datumOf,
  estimateOf,
  partIdOf,
  partOf,
  scaleOf,
  targetsOf,
  weighingOf,
  withdrawnOf,
} from '../ledger/make-entries.ts';

function forecastOn(chain: Chain) {
  return ForecastReport.parse(forecastReport(chain.fold()));
}

/** Number 1 is weighed 10 % above its estimate of 10 kg; number 2 is not: 8 kg moulded and 2 kg later, at 3 m. */
function half(growth = 0.05): Chain {
  const chain = new Chain();
  chain.record(partOf(1));
  chain.record(estimateOf(1, { massKg: 10, massStdKg: 0.3, growth, xM: 1 }));
  chain.record(weighingOf(1, 11, { grossResolutionKg: 0 }));
  chain.record(partOf(2));
  chain.record(estimateOf(2, { massKg: 10, massStdKg: 0.2, laterKg: 2, growth, laterGrowth: 0.1, xM: 3 }));
  return chain;
}

/** Of half(): 0.1 - 0.05 seen once with 0.03, and 0.08 beforehand. */
const SHIFT = 0.05 / 0.0009 / (1 / 0.0064 + 1 / 0.0009);
const SHIFT_STD = 1 / Math.sqrt(1 / 0.0064 + 1 / 0.0009);

describe('a forecast', () => {
  it('[F2] adds the shift of the process to the moulded mass of what is not weighed, and not to what goes on later', () => {
    const { predictedKg, forecastKg, processes } = forecastOn(half());
    expect(predictedKg).toBeCloseTo(11 + 8 * 1.05 + 2 * 1.1, 9);
    expect(forecastKg).toBeCloseTo(11 + 8 * (1.05 + SHIFT) + 2 * 1.1, 9);
    expect(processes).toHaveLength(1);
    expect(processes[0]).toMatchObject({ process: 'wet lay-up', releaseCount: 1, openPieces: 1, openKg: 8 });
    expect(processes[0]?.effectKg).toBeCloseTo(8 * SHIFT, 12);
  });

  it('[F2] its uncertainty is that of the process over all that is open, and that of each estimate by itself', () => {
    const chain = half();
    chain.record(partOf(3, { quantity: 2 }));
    chain.record(estimateOf(3, { massKg: 5, massStdKg: 0.1, xM: 3 }));
    const { forecastStdKg } = forecastOn(chain);
    // 8 kg and 2 x 5 kg are off by the process together; 0.2 kg and 2 x 0.1 kg each by themselves.
    expect(forecastStdKg).toBeCloseTo(Math.hypot(18 * SHIFT_STD, 0.2, 0.2), 12);
  });

  it('[F2] the processes do not share their shifts', () => {
    const chain = half();
    chain.record(partOf(3, { process: 'prepreg' }));
    chain.record(estimateOf(3, { massKg: 5, massStdKg: 0.1, xM: 3 }));
    const { forecastStdKg, processes } = forecastOn(chain);
    expect(forecastStdKg).toBeCloseTo(Math.hypot(8 * SHIFT_STD, 5 * 0.08, 0.2, 0.1), 12);
    expect(processes.map(({ process, releaseCount }) => [process, releaseCount])).toEqual([
      ['wet lay-up', 1],
      ['prepreg', 0],
    ]);
  });

  it('[F2] the CG follows what is added, and moves with the datum', () => {
    const chain = half();
    const added = 8 * (1.05 + SHIFT) + 2.2;
    const { cg } = forecastOn(chain);
    expect(cg.x?.atM).toBeCloseTo((11 * 1 + added * 3) / (11 + added), 9);
    // Only what is at 3 m is uncertain: by the process, and by its estimate.
    const total = 11 + added;
    const lever = (3 - (cg.x?.atM ?? 0)) / total;
    expect(cg.x?.stdM).toBeCloseTo(lever * Math.hypot(8 * SHIFT_STD, 0.2), 12);
    expect(cg.y).toBeUndefined();
    chain.record(datumOf(0.75));
    const moved = forecastOn(chain).cg.x;
    expect(moved?.atM).toBeCloseTo((cg.x?.atM ?? 0) - 0.75, 9);
    expect(moved?.stdM).toBeCloseTo(cg.x?.stdM ?? 0, 12);
  });

  it('[F2] an arm is off over all the mass that is forecast to be at it', () => {
    const chain = half();
    chain.record(
      estimateOf(2, { massKg: 10, massStdKg: 0, laterKg: 2, growth: 0.05, laterGrowth: 0.1, xM: 3, armStdM: 0.02 }),
    );
    const { forecastKg, cg } = forecastOn(chain);
    const added = 8 * (1.05 + SHIFT) + 2.2;
    const lever = (3 - (cg.x?.atM ?? 0)) / forecastKg;
    expect(cg.x?.stdM).toBeCloseTo(Math.hypot(lever * 8 * SHIFT_STD, (0.02 * added) / forecastKg), 12);
  });

  it('[F2] has a band that holds nine in ten, and says how likely the targets are', () => {
    const chain = half();
    const { forecastKg, forecastStdKg, lowKg, highKg, targets } = forecastOn(chain);
    expect(highKg - forecastKg).toBeCloseTo(NINETY_PERCENT * forecastStdKg, 12);
    expect(forecastKg - lowKg).toBeCloseTo(NINETY_PERCENT * forecastStdKg, 12);
    expect(targets).toBeUndefined();
    // The target is one standard uncertainty above, less the reserve it is one below.
    chain.record(targetsOf(forecastKg + forecastStdKg, { reserveKg: 2 * forecastStdKg, cgForwardM: 1, cgAftM: 3 }));
    const chances = forecastOn(chain).targets;
    expect(chances?.withinTarget).toBeCloseTo(0.841344746, 6);
    expect(chances?.withinTargetLessReserve).toBeCloseTo(0.158655254, 6);
    expect(chances?.marginKg).toBeCloseTo(-forecastStdKg, 12);
    expect(chances?.cgInRange).toBeCloseTo(1, 6);
  });

  it('[F2] without a range there is no chance of being in it; with one end there is', () => {
    const chain = half();
    chain.record(targetsOf(30));
    expect(forecastOn(chain).targets?.cgInRange).toBeUndefined();
    const { atM = 0, stdM = 0 } = forecastOn(chain).cg.x ?? {};
    chain.record(targetsOf(30, { cgAftM: atM + stdM }));
    expect(forecastOn(chain).targets?.cgInRange).toBeCloseTo(0.841344746, 6);
  });

  it('[F2] a piece that is in a weighed assembly is known by the scale; it is open again once the assembly is withdrawn', () => {
    const chain = half();
    chain.record(partOf(9));
    chain.record(estimateOf(9, { massKg: 0 }));
    chain.record(partOf(3, { parentPartId: partIdOf(9), quantity: 2 }));
    chain.record(estimateOf(3, { massKg: 5, massStdKg: 0.4, laterKg: 1, xM: 2 }));
    expect(forecastOn(chain).processes[0]?.openKg).toBeCloseTo(8 + 8, 12);
    chain.record(assemblyOf(9, 9, [3], { condition: 'trimmed', grossResolutionKg: 0 }));
    const { forecastKg, forecastStdKg, processes } = forecastOn(chain);
    expect(processes[0]?.openKg).toBeCloseTo(8, 12);
    expect(forecastKg).toBeCloseTo(11 + 8 * (1.05 + SHIFT) + 2.2 + 9 + 2, 9);
    // What is still to come on the two pieces carries the uncertainty of their estimate.
    expect(forecastStdKg).toBeCloseTo(Math.hypot(8 * SHIFT_STD, 0.2, (2 * 0.4) / 5), 12);
    chain.record(withdrawnOf(9, [1]));
    expect(forecastOn(chain).processes[0]?.openKg).toBeCloseTo(16, 12);
  });

  it('[F2] a piece withdrawn is open again, and what it showed still counts for its process', () => {
    const chain = half();
    chain.record(withdrawnOf(1, [1]));
    const { forecastKg, processes } = forecastOn(chain);
    expect(processes[0]).toMatchObject({ releaseCount: 1, openPieces: 2, openKg: 18 });
    expect(forecastKg).toBeCloseTo(18 * (1.05 + SHIFT) + 2.2, 9);
  });
});

describe('the ends of a build', () => {
  it('[F3] with nothing weighed the forecast is the predicted mass and CG, less sure by what processes may do', () => {
    const chain = new Chain();
    for (const number of [1, 2, 3]) {
      chain.record(partOf(number, { quantity: number }));
      chain.record(
        estimateOf(number, { massKg: 3, laterKg: 1, growth: 0.24, laterGrowth: 0.1, xM: number, armStdM: 0.01 }),
      );
    }
    const [report, headline] = [forecastOn(chain), headlineOf(chain.fold())];
    expect(report.forecastKg).toBe(headline.predictedKg);
    expect(report.cg.x?.atM).toBe(headline.cg.xM);
    expect(report.forecastStdKg).toBeCloseTo(Math.hypot(headline.predictedStdKg, 0.08 * 12), 12);
  });

  it('[F3] with everything weighed and finished it is the weighed mass, as sure as the scale', () => {
    const chain = half();
    chain.record(scaleOf('bench', { gainStd: 0.001 }));
    chain.record(weighingOf(2, 10.7, { grossResolutionKg: 0.01, scale: 'bench' }));
    const [report, headline] = [forecastOn(chain), headlineOf(chain.fold())];
    expect(report.forecastKg).toBe(21.7);
    expect(report.forecastKg).toBe(headline.weighedKg);
    expect(report.forecastStdKg).toBeCloseTo(headline.predictedStdKg, 12);
    expect(report.cg.x?.atM).toBe(headline.cg.xM);
    expect(report.processes).toEqual([]);
  });

  it('[F3] an empty ledger, and one of estimates of nothing, have a forecast of nothing and no CG', () => {
    const chain = new Chain();
    expect(forecastOn(chain)).toMatchObject({ seq: 0, forecastKg: 0, forecastStdKg: 0, cg: {}, processes: [] });
    chain.record(partOf(1));
    chain.record(estimateOf(1, { massKg: 0, xM: 1 }));
    chain.record(targetsOf(5, { cgForwardM: 1 }));
    expect(forecastOn(chain)).toMatchObject({ forecastKg: 0, forecastStdKg: 0, targets: { withinTarget: 1 } });
    expect(forecastOn(chain).targets?.cgInRange).toBeUndefined();
  });
});
