/** Processes in the order of their releases (rule D4): what a release is, when a process is called, and where its shift began. */
import { describe, expect, it } from 'vitest';
import { ProcessDriftReport } from '#shared/contract/forecast.ts';
import { processDrifts } from '#shared/drift/process-drift.ts';
import { recordsOf } from '#shared/drift/process-records.ts';
import { Process } from '#shared/ledger/entry.ts';
import { chanceOf } from '#tests/support/chance.ts';
import {
  assemblyOf,
  Chain,
  estimateOf,
  partIdOf,
  partOf,
  removedOf,
  scaleOf,
  weighingOf,
  withdrawnOf,
} from '../ledger/make-entries.ts';

type EstimateChanges = Parameters<typeof estimateOf>[1];

function dayOf(at: number): string {
  return new Date(Date.UTC(2026, 0, 1 + at)).toISOString().slice(0, 10);
}

/** Parts of 10 kg with an uncertainty of 0.3 kg, released one a day, each by `grew` of its mass off its estimate. */
function released(grew: readonly number[], changes: EstimateChanges = {}): Chain {
  const chain = new Chain();
  grew.forEach((fraction, at) => {
    chain.record(partOf(at + 1), { on: dayOf(0) });
    chain.record(estimateOf(at + 1, { massKg: 10, massStdKg: 0.3, xM: 1, ...changes }), { on: dayOf(0) });
    chain.record(weighingOf(at + 1, 10 * (1 + fraction), { grossResolutionKg: 0 }), { on: dayOf(at + 1) });
  });
  return chain;
}

function theOne(chain: Chain) {
  const [report, ...others] = processDrifts(chain.fold());
  expect(others).toEqual([]);
  if (report === undefined) throw new Error('no process has released anything');
  return ProcessDriftReport.parse(report);
}

describe('a release', () => {
  it('[D4] is the moulded mass against the estimate, less the allowance, in standard deviations of both', () => {
    const chain = new Chain();
    chain.record(scaleOf('big', { gainStd: 0.04 }));
    chain.record(partOf(1));
    // 8 kg moulded, 2 kg later; 0.3 kg of flash, so 8.3 kg as released.
    chain.record(estimateOf(1, { massKg: 10, massStdKg: 0.4, laterKg: 2, flashKg: 0.3, growth: 0.05 }));
    chain.record(weighingOf(1, 9.1, { condition: 'as released', grossResolutionKg: 0, scale: 'big' }));
    const [point] = theOne(chain).points;
    expect(point?.differenceFraction).toBeCloseTo(0.8 / 8, 12);
    expect(point?.allowanceFraction).toBe(0.05);
    const std = Math.hypot(0.04, (0.04 * 9.1) / 8);
    expect(point?.stdFraction).toBeCloseTo(std, 12);
    expect(point?.deviation).toBeCloseTo((0.1 - 0.05) / std, 12);
    expect(point?.ewma).toBeCloseTo((0.2 * 0.05) / std, 12);
    expect(point?.ewmaUpper).toBeCloseTo(0.6, 12);
    expect(point?.cusumHigh).toBeCloseTo(0.05 / std - 0.5, 12);
  });

  it.each(['trimmed', 'finished'] as const)('[D4] %s is brought to the same moulded mass', (condition) => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1, { massKg: 10, laterKg: 2, flashKg: 0.3 }));
    chain.record(weighingOf(1, condition === 'trimmed' ? 8.8 : 10.8, { condition }));
    expect(theOne(chain).points[0]?.differenceFraction).toBeCloseTo(0.1, 12);
  });

  it('[D4] is held against the estimate of its day, not against the one it led to', () => {
    const chain = new Chain();
    chain.record(partOf(1), { on: dayOf(0) });
    chain.record(estimateOf(1, { massKg: 10, growth: 0.02 }), { on: dayOf(0) });
    chain.record(weighingOf(1, 11), { on: dayOf(2) });
    chain.record(estimateOf(1, { massKg: 11, growth: 0 }), { on: dayOf(3) });
    expect(theOne(chain).points[0]).toMatchObject({ allowanceFraction: 0.02, on: dayOf(2) });
    expect(theOne(chain).points[0]?.differenceFraction).toBeCloseTo(0.1, 12);
  });

  it('[D4] is the first weighing of an article: later ones are none, and the one made again is another', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1, { massKg: 10 }));
    chain.record(weighingOf(1, 10.1, { condition: 'trimmed' }), { on: dayOf(1) });
    chain.record(weighingOf(1, 10.4), { on: dayOf(2) });
    chain.record(withdrawnOf(1, [1]), { on: dayOf(3) });
    chain.record(weighingOf(1, 10.2), { on: dayOf(4) });
    expect(theOne(chain).points.map(({ on }) => on)).toEqual([dayOf(1), dayOf(4)]);
  });

  it('[D4] of pieces on a scale together is one, with the mean of them; of pieces weighed one by one each is its own', () => {
    const chain = new Chain();
    chain.record(partOf(1, { quantity: 5 }));
    chain.record(estimateOf(1, { massKg: 1, massStdKg: 0.03 }));
    chain.record(weighingOf(1, 3.3, { pieces: [1, 2, 3], grossResolutionKg: 0.3 }), { on: dayOf(1) });
    chain.record(weighingOf(1, 1.2, { pieces: [4] }), { on: dayOf(2) });
    // Weighed once more with one that had not been on a scale before.
    chain.record(weighingOf(1, 2.4, { pieces: [4, 5] }), { on: dayOf(3) });
    const { points } = theOne(chain);
    expect(points.map(({ pieces }) => pieces)).toEqual([[1, 2, 3], [4], [5]]);
    expect(points[0]?.differenceFraction).toBeCloseTo(0.1, 12);
    // One reading over three pieces: a third of 0.3/sqrt(12) each.
    expect(points[0]?.stdFraction).toBeCloseTo(Math.hypot(0.03, 0.1 / Math.sqrt(12)), 12);
  });

  it('[D4] releases stand in order of the day they happened, then of their number, whatever was recorded first', () => {
    const chain = new Chain();
    for (const number of [1, 2, 3]) {
      chain.record(partOf(number), { on: dayOf(0) });
      chain.record(estimateOf(number, { massKg: 10 }), { on: dayOf(0) });
    }
    chain.record(weighingOf(3, 10.3), { on: dayOf(2) });
    chain.record(weighingOf(2, 10.2), { on: dayOf(2) });
    chain.record(weighingOf(1, 10.1), { on: dayOf(1) });
    expect(theOne(chain).points.map(({ part }) => part)).toEqual(['P-1', 'P-3', 'P-2']);
  });

  it('[D4] a corrected weighing is the one that it should have been, and shows the entry that says so', () => {
    const chain = released([0.01]);
    const wrong = chain.record(partOf(9));
    expect(wrong.seq).toBe(4);
    chain.record(estimateOf(9, { massKg: 10 }));
    const typed = chain.record(weighingOf(9, 22), { on: dayOf(5) });
    const correction = chain.correct(typed, weighingOf(9, 10.1));
    const point = theOne(chain).points.at(-1);
    expect(point).toMatchObject({ part: 'P-9', seq: correction.seq });
    expect(point?.differenceFraction).toBeCloseTo(0.01, 12);
  });

  it('[D4] a part removed since was released as well; one only weighed in an assembly was not', () => {
    const chain = released([0.01, 0.02]);
    chain.record(removedOf(1));
    chain.record(partOf(8));
    chain.record(partOf(7, { parentPartId: partIdOf(8) }));
    chain.record(estimateOf(7, { massKg: 10 }));
    chain.record(assemblyOf(8, 12, [7]));
    expect(theOne(chain).points.map(({ part }) => part)).toEqual(['P-1', 'P-2']);
  });
});

describe('a process that changes', () => {
  const steady = [0.01, -0.02, 0.0, 0.02, -0.01, 0.01, -0.02, 0.02, 0.0, -0.01];

  it('[D4] is called with the part at which it was seen, and the part and day at which it began', () => {
    const { signal } = theOne(released([...steady, 0.09, 0.08, 0.1, 0.09]));
    expect(signal).toMatchObject({ part: 'P-12', on: dayOf(12), direction: 'heavy', releasesSince: 1 });
    expect(signal?.began).toMatchObject({ part: 'P-11', on: dayOf(11), seq: 33 });
    expect(signal?.seq).toBe(36);
  });

  it('[D4] is called for running light as well', () => {
    const { signal } = theOne(released([...steady, -0.09, -0.08, -0.1, -0.09]));
    expect(signal).toMatchObject({ part: 'P-12', direction: 'light', began: { part: 'P-11' } });
  });

  it('[D4] a steady one is not called', () => {
    expect(theOne(released([...steady, ...steady, ...steady])).signal).toBeUndefined();
  });

  it('[D4] a small change is called by the sum of what it adds, and it begins where that sum was last nothing', () => {
    // Just under one standard deviation above: the sum grows by nearly half of one each time, and passes 5 at the eleventh.
    const { signal, points } = theOne(released([...steady, ...Array.from({ length: 14 }, () => 0.0299)]));
    expect(signal?.began.part).toBe('P-11');
    expect(points.findIndex(({ cusumHigh }) => cusumHigh > 5)).toBe(10 + 10);
    expect(signal).toMatchObject({ direction: 'heavy', chart: 'cusum', part: 'P-21' });
  });

  it('[D4] growth that the allowance foresaw is none, and an allowance that is not used up is: it comes out light', () => {
    expect(
      theOne(
        released(
          Array.from({ length: 12 }, () => 0.1),
          { growth: 0.1 },
        ),
      ).signal,
    ).toBeUndefined();
    expect(
      theOne(
        released(
          Array.from({ length: 4 }, () => 0.1),
          { growth: 0.24 },
        ),
      ).signal,
    ).toMatchObject({
      direction: 'light',
      part: 'P-1',
      began: { part: 'P-1' },
    });
  });

  it('[D4] each process has its own charts, those that were called first', () => {
    const chain = released(steady);
    for (let number = 21; number <= 24; number += 1) {
      chain.record(partOf(number, { process: 'prepreg' }));
      chain.record(estimateOf(number, { massKg: 10 }));
      chain.record(weighingOf(number, 11.5), { on: dayOf(number) });
    }
    const reports = processDrifts(chain.fold());
    expect(reports.map(({ process, signal }) => [process, signal?.part])).toEqual([
      ['prepreg', 'P-21'],
      ['wet lay-up', undefined],
    ]);
    expect(reports[0]?.falseAlarmEvery.either).toBeGreaterThan(300);
  });

  it('[D4] counts from its last change: the change to rich, and the change back', () => {
    const rich = [0.12, 0.13, 0.11, 0.14, 0.12];
    const changedAfter = (grew: readonly number[]) =>
      recordsOf(released(grew).fold()).get('wet lay-up')?.watch.from ?? 0;
    expect(changedAfter(steady)).toBe(0);
    expect(changedAfter([...steady, ...rich])).toBe(10);
    expect(changedAfter([...steady, ...rich, ...rich, ...rich])).toBe(10);
    expect(changedAfter([...steady, ...rich, ...steady])).toBe(15);
    expect(changedAfter([])).toBe(0);
  });
});

describe('little to go by', () => {
  it('[D4] nothing released, nothing estimated, or nothing moulded has no chart', () => {
    expect(processDrifts(new Chain().fold())).toEqual([]);
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(weighingOf(1, 4));
    for (const [number, massKg, laterKg] of [
      [2, 0, 0],
      [3, 2, 2],
    ] as const) {
      chain.record(partOf(number));
      chain.record(estimateOf(number, { massKg, laterKg }));
      chain.record(weighingOf(number, 3));
    }
    expect(processDrifts(chain.fold())).toEqual([]);
  });

  it('[D4] one release may be enough, where it is far out', () => {
    expect(theOne(released([0.02])).signal).toBeUndefined();
    expect(theOne(released([0.2])).signal).toMatchObject({ part: 'P-1', began: { part: 'P-1' }, releasesSince: 0 });
  });

  it('[D4] all equal and exactly as estimated is 0 all along', () => {
    const { points, signal } = theOne(released([0, 0, 0, 0]));
    expect(signal).toBeUndefined();
    expect(points.every(({ ewma, cusumHigh, cusumLow }) => ewma === 0 && cusumHigh === 0 && cusumLow === 0)).toBe(true);
  });

  it('[D4] an estimate that says it is exact is taken to three per cent', () => {
    const [point] = theOne(released([0.06], { massStdKg: 0 })).points;
    expect(point?.stdFraction).toBe(0.03);
    expect(point?.deviation).toBeCloseTo(2, 12);
  });

  it('[D4] whatever the process, fluids too, no figure is anything but a number', () => {
    const chance = chanceOf(3);
    const chain = new Chain();
    Process.options.forEach((process, at) => {
      for (let piece = 0; piece < 4; piece += 1) {
        const number = at * 10 + piece + 1;
        chain.record(partOf(number, { process }));
        const massKg = piece === 3 ? 0 : 5 * chance.uniform();
        chain.record(
          estimateOf(number, { massKg, massStdKg: piece === 2 ? 0 : 0.1, laterKg: massKg * chance.uniform() }),
        );
        chain.record(weighingOf(number, 0.001 + 6 * chance.uniform(), { grossResolutionKg: 0, condition: 'trimmed' }));
      }
    });
    const reports = processDrifts(chain.fold());
    expect(reports.map(({ process }) => process).sort()).toEqual([...Process.options].sort());
    // The schema refuses NaN and infinities.
    for (const report of reports) expect(ProcessDriftReport.safeParse(report).success).toBe(true);
  });
});
