/** Scratch changes (rule F6): what they are said to do is what the ledger does when they are recorded; and ballast. */
import { describe, expect, it } from 'vitest';
import { WhatIfChange, WhatIfReport } from '#shared/contract/forecast.ts';
import { ballastKg } from '#shared/forecast/ballast.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import { whatIf } from '#shared/forecast/what-if.ts';
import {
  armOf,
  assemblyOf,
  Chain,
  datumOf,
  estimateOf,
  partIdOf,
  partOf,
  removedOf,
  targetsOf,
  weighingOf,
} from '../ledger/make-entries.ts';

/** Weighed at 1 m and 2 m, open at 4 m (two pieces, an arm good to 2 cm) and 5 m; the datum was moved. */
function build(): Chain {
  const chain = new Chain();
  chain.record(targetsOf(60, { cgForwardM: 2, cgAftM: 4, reserveKg: 1 }));
  for (const number of [1, 2, 3, 4]) {
    chain.record(partOf(number, { quantity: number === 3 ? 2 : 1, process: number === 4 ? 'machined' : 'prepreg' }));
    const xM = [1, 2, 4, 5][number - 1] ?? 0;
    const armStdM = number === 3 ? 0.02 : 0;
    chain.record(estimateOf(number, { massKg: 10, massStdKg: 0.3, growth: 0.1, laterKg: 1, xM, yM: 0.5, armStdM }));
  }
  chain.record(weighingOf(1, 11.8, { grossResolutionKg: 0.05 }));
  chain.record(weighingOf(2, 9.5, { condition: 'trimmed', grossResolutionKg: 0.05 }));
  chain.record(datumOf(0.25));
  return chain;
}

function tried(chain: Chain, changes: readonly WhatIfChange[], ballastAtM?: number): WhatIfReport {
  const answer = whatIf(chain.fold(), { changes: changes.map((change) => WhatIfChange.parse(change)), ballastAtM });
  if (!answer.ok) throw new Error(JSON.stringify(answer.refusal));
  return WhatIfReport.parse(answer.value);
}

function refused(chain: Chain, changes: readonly WhatIfChange[], ballastAtM?: number) {
  const answer = whatIf(chain.fold(), { changes, ballastAtM });
  return answer.ok ? undefined : answer.refusal;
}

function expectSame(said: WhatIfReport['after'], chain: Chain): void {
  const { forecastKg, forecastStdKg, cg, targets } = forecastReport(chain.fold());
  expect(said.forecastKg).toBeCloseTo(forecastKg, 9);
  expect(said.forecastStdKg).toBeCloseTo(forecastStdKg, 9);
  for (const axis of ['x', 'y', 'z'] as const) {
    expect(said.cg[axis]?.atM ?? 0).toBeCloseTo(cg[axis]?.atM ?? 0, 9);
    expect(said.cg[axis]?.stdM ?? 0).toBeCloseTo(cg[axis]?.stdM ?? 0, 9);
  }
  expect(said.targets?.marginKg).toBeCloseTo(targets?.marginKg ?? 0, 9);
  expect(said.targets?.withinTarget).toBeCloseTo(targets?.withinTarget ?? 0, 9);
  expect(said.targets?.cgInRange).toBeCloseTo(targets?.cgInRange ?? 0, 9);
}

describe('what if', () => {
  it('[F6] nothing changes nothing', () => {
    const chain = build();
    const { before, after, steps, massChangeKg, cgChangeXM, ballast } = tried(chain, []);
    expect(after).toEqual(before);
    expect([steps, massChangeKg, cgChangeXM, ballast]).toEqual([[], 0, 0, undefined]);
    expectSame(before, chain);
  });

  it.each([1, 3, 4])('[F6] part %d removed is what the ledger makes of its removal', (number) => {
    const chain = build();
    const { after, massChangeKg, steps } = tried(chain, [{ act: 'remove', partId: partIdOf(number) }]);
    chain.record(removedOf(number));
    expectSame(after, chain);
    expect(steps[0]?.massKg).toBe(massChangeKg);
    expect(massChangeKg).toBeLessThan(-9);
  });

  it.each([2, 3])('[F6] part %d at another station is what the ledger makes of a measured arm', (number) => {
    const chain = build();
    const partId = partIdOf(number);
    const { after } = tried(chain, [{ act: 'set arm', partId, xM: 3.1, zM: 0.7 }]);
    const armStdM = number === 3 ? 0.02 : 0;
    chain.record(armOf(number, { xM: 3.1, armStdM }));
    const { cg } = forecastReport(chain.fold());
    expect(after.cg.x?.atM).toBeCloseTo(cg.x?.atM ?? 0, 9);
    expect(after.cg.x?.stdM).toBeCloseTo(cg.x?.stdM ?? 0, 9);
    expect(after.cg.z?.atM).toBeCloseTo(0.7, 9);
  });

  it('[F6] moved by so much is put so much further, and the mass stays', () => {
    const chain = build();
    const partId = partIdOf(4);
    // At 5 m from the first datum, 4.75 m from the present one.
    const moved = tried(chain, [{ act: 'move', partId, xM: -1.5, yM: 0.1 }]);
    const put = tried(chain, [{ act: 'set arm', partId, xM: 3.25, yM: 0.6 }]);
    expect(moved.after.cg.x?.atM).toBeCloseTo(put.after.cg.x?.atM ?? 0, 12);
    expect(moved.after.cg.y?.atM).toBeCloseTo(put.after.cg.y?.atM ?? 0, 12);
    expect(moved.massChangeKg).toBe(0);
    expect(moved.cgChangeXM).toBeLessThan(0);
  });

  it('[F6] a mass that is set is the mass, with the share of uncertainty it had or with its own', () => {
    const chain = build();
    const partId = partIdOf(4);
    // 9 kg moulded and 1 kg later, 10 % and nothing on them.
    const { before, after, massChangeKg } = tried(chain, [{ act: 'set mass', partId, massKg: 5.45 }]);
    expect(massChangeKg).toBeCloseTo(5.45 - 10.9, 9);
    const ofPart = 0.3 ** 2 + (9 * 0.08) ** 2;
    expect(before.forecastStdKg ** 2 - after.forecastStdKg ** 2).toBeCloseTo(0.75 * ofPart, 9);
    const known = tried(chain, [{ act: 'set mass', partId, massKg: 5.45, massStdKg: 0.05 }]).after;
    expect(before.forecastStdKg ** 2 - known.forecastStdKg ** 2).toBeCloseTo(ofPart - 0.05 ** 2, 9);
  });

  it('[F6] a mass set to nothing is a part removed', () => {
    const chain = build();
    const half = tried(chain, [{ act: 'set mass', partId: partIdOf(3), massKg: 0, massStdKg: 0 }]).after;
    chain.record(removedOf(3));
    expectSame(half, chain);
  });

  it('[F6] mass added sits where the part does, and what is added brings no doubt', () => {
    const chain = build();
    const { before, after, steps } = tried(chain, [{ act: 'add mass', partId: partIdOf(4), massKg: 2 }]);
    expect(after.forecastKg - before.forecastKg).toBeCloseTo(2, 9);
    expect(after.forecastStdKg).toBeCloseTo(before.forecastStdKg, 12);
    const [m, x] = [before.forecastKg, before.cg.x?.atM ?? 0];
    expect(after.cg.x?.atM).toBeCloseTo((m * x + 2 * 4.75) / (m + 2), 9);
    expect(steps[0]?.cgXM).toBeCloseTo((2 * (4.75 - x)) / (m + 2), 9);
  });

  it('[F6] a part added counts with its own uncertainty', () => {
    const chain = build();
    const { before, after } = tried(chain, [{ act: 'add part', massKg: 3, massStdKg: 0.4, xM: 6 }]);
    const [m, x] = [before.forecastKg, before.cg.x?.atM ?? 0];
    expect(after.forecastStdKg).toBeCloseTo(Math.hypot(before.forecastStdKg, 0.4), 9);
    expect(after.cg.x?.atM).toBeCloseTo((m * x + 18) / (m + 3), 9);
    expect(after.targets?.marginKg).toBeCloseTo((before.targets?.marginKg ?? 0) - 3, 9);
    // Without a station along y it is at the CG of the rest.
    expect(after.cg.y?.atM).toBeCloseTo(before.cg.y?.atM ?? 0, 12);
  });

  it('[F6] changes are made one after the other, and their steps add up', () => {
    const chain = build();
    const partId = partIdOf(4);
    const { steps, massChangeKg, cgChangeXM } = tried(chain, [
      { act: 'set mass', partId, massKg: 4 },
      { act: 'add mass', partId, massKg: -1 },
      { act: 'move', partId, xM: -2 },
      { act: 'remove', partId: partIdOf(1) },
      { act: 'add part', massKg: 2.5, xM: 0.5 },
    ]);
    expect(steps.map(({ massKg }) => Number(massKg.toFixed(6)))).toEqual([-6.9, -1, 0, -11.8, 2.5]);
    expect(massChangeKg).toBeCloseTo(-17.2, 9);
    expect(steps.reduce((sum, { cgXM = 0 }) => sum + cgXM, 0)).toBeCloseTo(cgChangeXM ?? 0, 9);
  });

  it('[F6] an assembly takes its residual along, and leaves its parts', () => {
    const chain = build();
    chain.record(partOf(9));
    chain.record(partOf(5, { parentPartId: partIdOf(9) }));
    chain.record(estimateOf(5, { massKg: 5, xM: 3 }));
    chain.record(assemblyOf(9, 6.5, [5]));
    expect(tried(chain, [{ act: 'remove', partId: partIdOf(9) }]).massChangeKg).toBeCloseTo(-1.5, 9);
    const { after } = tried(chain, [{ act: 'remove', partId: partIdOf(9) }]);
    chain.record(removedOf(9));
    expect(after.forecastKg - forecastReport(chain.fold()).forecastKg).toBeCloseTo(0, 6);
  });

  it('[F6] the ledger is as it was', () => {
    const ledger = build().fold();
    const before = structuredClone(forecastReport(ledger));
    const entryCount = ledger.entries.length;
    whatIf(ledger, {
      changes: [
        { act: 'remove', partId: partIdOf(1) },
        { act: 'add part', massKg: 9, xM: 1 },
      ],
    });
    expect(ledger.entries).toHaveLength(entryCount);
    expect(forecastReport({ ...ledger })).toEqual(before);
  });

  it('[F6] everything removed has no CG and no NaN', () => {
    const changes = [1, 2, 3, 4].map((number): WhatIfChange => ({ act: 'remove', partId: partIdOf(number) }));
    const { after, cgChangeXM } = tried(build(), changes);
    expect(after.forecastKg).toBeCloseTo(0, 9);
    expect([after.cg.x, cgChangeXM]).toEqual([undefined, undefined]);
  });
});

describe('changes that cannot be', () => {
  it('[F6] are refused, and told which', () => {
    const chain = build();
    chain.record(removedOf(4));
    const partId = partIdOf(1);
    expect(
      refused(chain, [
        { act: 'remove', partId },
        { act: 'remove', partId: partIdOf(4) },
      ]),
    ).toEqual({
      code: 'change-of-no-part',
      at: 1,
    });
    expect(refused(chain, [{ act: 'add mass', partId, massKg: -12 }])).toEqual({
      code: 'change-takes-too-much',
      at: 0,
      part: 'P-1',
      hasKg: 11.8,
    });
    expect(refused(chain, [{ act: 'move', partId, zM: 1 }])).toMatchObject({ code: 'change-moves-no-station', at: 0 });
    expect(WhatIfChange.safeParse({ act: 'add part', massKg: Number.NaN }).success).toBe(false);
  });
});

describe('ballast', () => {
  it('[F6] brings the CG back, and its mass and that of the change are what it costs', () => {
    const chain = build();
    const change: WhatIfChange = { act: 'add part', massKg: 3, xM: 6 };
    const { before, ballast } = tried(chain, [change], 0.2);
    const back = tried(chain, [change, { act: 'add part', massKg: ballast?.massKg ?? 0, xM: 0.2 }]);
    expect(back.after.cg.x?.atM).toBeCloseTo(before.cg.x?.atM ?? 0, 9);
    expect(back.cgChangeXM).toBeCloseTo(0, 9);
    expect(ballast?.payloadKg).toBeCloseTo(3 + (ballast?.massKg ?? 0), 9);
  });

  it('[F6] at a station on the wrong side is refused', () => {
    expect(refused(build(), [{ act: 'add part', massKg: 3, xM: 6 }], 5)).toMatchObject({
      code: 'ballast-on-wrong-side',
      stationM: 5,
      way: 'forward',
    });
    expect(ballastKg({ massKg: 100, cgM: 2 }, { toM: 2.1, stationM: 1 })).toMatchObject({ refusal: { way: 'aft' } });
    expect(ballastKg({ massKg: 100, cgM: 2 }, { toM: 2.1, stationM: 2.1 }).ok).toBe(false);
  });

  it('[F6] is moments: 100 kg from 2 m to 1.9 m at 0.9 m takes 10 kg, and from where it should be none', () => {
    const needed = ballastKg({ massKg: 100, cgM: 2 }, { toM: 1.9, stationM: 0.9 });
    expect(needed.ok && needed.value).toBeCloseTo(10, 9);
    expect(ballastKg({ massKg: 100, cgM: 2 }, { toM: 2, stationM: 9 })).toEqual({ ok: true, value: 0 });
    expect(ballastKg({ massKg: 0, cgM: 2 }, { toM: 1, stationM: 9 })).toEqual({ ok: true, value: 0 });
  });
});
