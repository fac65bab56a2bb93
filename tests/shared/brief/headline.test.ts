/** The headline of a brief (rule B2): each situation by the figures that make it. */
import { describe, expect, it } from 'vitest';
import { calledOnceWords, driftingProcesses, sparingProcesses } from '#shared/brief/process-lists.ts';
import type { BriefHeadline } from '#shared/contract/brief.ts';
import {
  aircraftOf,
  armOf,
  Chain,
  estimateOf,
  noteOf,
  partOf,
  processCauseOf,
  targetsOf,
  weighingOf,
  wholeOf,
} from '../ledger/make-entries.ts';
import { briefOf, type Period } from './make-brief.ts';

/** One part, estimated; it is bought, so that its process adds nothing that the figures here would have to follow. */
function build(
  massKg: number,
  given: Parameters<typeof targetsOf>[1] & { target?: number; xStd?: number } = {},
): Chain {
  const { target, xStd, ...targets } = given;
  const chain = new Chain();
  chain.record(aircraftOf());
  if (target !== undefined) chain.record(targetsOf(target, targets));
  chain.record(partOf(1, { process: 'bought' }));
  chain.record(estimateOf(1, { massKg, massStdKg: 0.1, xM: 2, ...(xStd === undefined ? {} : { armStdM: xStd }) }));
  return chain;
}

function headline(chain: Chain, period: Period = {}): BriefHeadline {
  const told = briefOf(chain, period).headline;
  for (const sentence of [told.lead, ...told.rest]) {
    expect(sentence).toMatch(/^[A-Z0-9].*\.$/);
    expect(sentence).not.toMatch(/NaN|undefined|Infinity|[ (]-\d/);
  }
  return told;
}

const since = ({ rest }: BriefHeadline) => rest.find((sentence) => /^(Since|Nothing new|This covers)/.test(sentence));
const ofCg = ({ rest }: BriefHeadline) => rest.find((sentence) => sentence.startsWith('The CG'));

describe('the headline of a brief', () => {
  it('[B2] says under target where the forecast keeps target and reserve and is likely to', () => {
    const told = headline(build(90, { target: 120, reserveKg: 2 }));
    expect(told.mass).toBe('under target');
    expect(told.lead).toBe(
      'Under target: Test bird is forecast at 90.0 ± 7.2 kg empty, 30.0 kg below its target of 120.0 kg, its reserve untouched.',
    );
  });

  it('[B2] says at risk where the chance is poor, with the chance', () => {
    const told = headline(build(115, { target: 120 }));
    expect(told.mass).toBe('at risk');
    expect(told.lead).toMatch(
      /^At risk: Test bird is forecast at 115\.0 ± 9\.2 kg empty, 5\.0 kg below its target of 120\.0 kg, with a chance of about 70\s% to be within it\.$/,
    );
  });

  it('[B2] says at risk where the reserve is being used up, by how much', () => {
    const chain = build(118, { target: 120, reserveKg: 5 });
    chain.record(weighingOf(1, 118));
    expect(headline(chain).lead).toBe(
      'At risk: Test bird is forecast at 118.00000 ± 0.00029 kg empty, 2.00000 kg below its target of 120.00000 kg, and 3.00000 kg of its reserve of 5.00000 kg is used up.',
    );
  });

  it('[B2] says over target as soon as the forecast is, and right on it where it is', () => {
    const chain = build(118, { target: 120 });
    chain.record(weighingOf(1, 120, { grossResolutionKg: 0.1 }));
    expect(headline(chain)).toMatchObject({ mass: 'at risk' });
    expect(headline(chain).lead).toContain('right on its target of 120.000 kg');
    chain.record(weighingOf(1, 120.001, { grossResolutionKg: 0.1 }));
    expect(headline(chain)).toMatchObject({ mass: 'over target' });
    expect(headline(chain).lead).toBe(
      'Over target: Test bird is forecast at 120.001 ± 0.029 kg empty, 0.001 kg above its target of 120.000 kg.',
    );
  });

  it('[B2] a difference that is there is never told as none', () => {
    const told = headline(build(120.01, { target: 120 }));
    expect(told.lead).toContain('less than 0.1 kg above its target of 120.0 kg');
  });

  it('[B2] says so where there is no target, nothing estimated, or hardly anything listed', () => {
    expect(headline(build(90))).toMatchObject({ mass: 'no target', cg: 'no range' });
    expect(headline(build(50, { target: 120 })).lead).toMatch(
      /^Not the whole aircraft yet: the listed parts of Test bird are predicted at 41\.7 % of its target of 120\.0 kg/,
    );
    const chain = new Chain();
    chain.record(partOf(1));
    const told = headline(chain);
    expect(told).toMatchObject({ mass: 'nothing estimated', cg: 'not known', since: 'first' });
    expect(told.lead).toBe('Nothing to tell yet: no part of Row has an estimate or a weighing.');
  });

  it('[B2] tells a CG inside its range, near an end of it, and out of it, in the lead too', () => {
    const inside = headline(build(90, { target: 120, cgForwardM: 1.9, cgAftM: 2.1, xStd: 0.01 }));
    expect(inside.cg).toBe('in range');
    expect(ofCg(inside)).toBe('The CG is forecast at 2.000 ± 0.010 m, inside its range (1.900 m to 2.100 m).');
    const near = headline(build(90, { target: 120, cgForwardM: 1.9, cgAftM: 2.01, xStd: 0.02 }));
    expect(near.cg).toBe('near its edge');
    expect(near.lead).toMatch(/, and its CG is near the aft end of its range\.$/);
    expect(ofCg(near)).toContain('no farther from its aft end than it is uncertain');
    const out = headline(build(90, { target: 120, cgForwardM: 2.03, xStd: 0.01 }));
    expect(out.cg).toBe('out of range');
    expect(out.lead).toMatch(/, and its CG is 30\.0 mm forward of its range\.$/);
    expect(ofCg(out)).toContain('(from 2.030 m)');
  });

  it('[B2] tells the predicted CG where that is worse than the forecast one', () => {
    const chain = build(90, { target: 200, cgForwardM: 1, cgAftM: 2.2 });
    // Another process, known to come out light: the forecast CG lies forward of the predicted one.
    chain.record(partOf(2, { quantity: 9 }));
    chain.record(estimateOf(2, { massKg: 10, massStdKg: 0.01, xM: 2.5 }));
    for (let piece = 1; piece <= 4; piece += 1) chain.record(weighingOf(2, 8, { pieces: [piece] }));
    const { figures, forecast } = briefOf(chain);
    const limit = ((figures.cg.xM ?? 0) + (forecast.cg.x?.atM ?? 0)) / 2;
    expect(forecast.cg.x?.atM).toBeLessThan(limit);
    chain.record(targetsOf(200, { cgForwardM: 1, cgAftM: limit }));
    const worse = headline(chain);
    expect(worse.cg).toBe('out of range');
    expect(ofCg(worse)).toMatch(/^The CG is predicted at /);
  });

  it('[B2] says nothing new where no entry came since, and the same where none moved the mass', () => {
    const chain = build(90, { target: 120 });
    const from = chain.entries.length;
    expect(headline(chain, { from }).since).toBe('nothing new');
    expect(since(headline(chain, { from }))).toBe('Nothing new: no entry was recorded since entry 4 (2026-05-01).');
    chain.record(noteOf('looked at it'));
    expect(since(headline(chain, { from }))).toBe(
      'Since entry 4 (2026-05-01) one entry was recorded, and the predicted empty weight is the same.',
    );
    chain.record(targetsOf(125));
    expect(since(headline(chain, { from }))).toBe(
      'Since entry 4 (2026-05-01) 2 entries were recorded, and the predicted empty weight is the same; a revised target gave 5.00 kg of margin.',
    );
  });

  it('[B2] says by how much it grew or fell and why, the largest causes first', () => {
    const chain = build(90, { target: 120 });
    const from = chain.entries.length;
    chain.record(partOf(2, { process: 'bought' }));
    chain.record(estimateOf(2, { massKg: 3, xM: 2 }));
    chain.record(weighingOf(1, 91.5));
    const grew = headline(chain, { from });
    expect(grew.since).toBe('grew');
    // The new part is of a process that came out heavy, so the forecast grew by more.
    expect(since(grew)).toBe(
      'Since entry 4 (2026-05-01) the predicted empty weight grew by 4.50 kg (scope added 3.00 kg, weighed against estimate added 1.50 kg), and the forecast grew by 4.55 kg.',
    );
    const before = chain.entries.length;
    chain.record(weighingOf(2, 2));
    const fell = headline(chain, { from: before });
    expect(fell.since).toBe('fell');
    expect(since(fell)).toContain('fell by 1.00 kg (weighed against estimate took off 1.00 kg)');
  });

  it('[B2] counts what drifts and what of it is new, and names a changed process with its cause once there is one', () => {
    const chain = build(200, { target: 400 });
    chain.record(partOf(2, { quantity: 20 }));
    chain.record(estimateOf(2, { massKg: 4, massStdKg: 0.1, xM: 2 }));
    expect(headline(chain).rest).toContain('No part and no process drifts.');
    for (let piece = 1; piece <= 6; piece += 1) chain.record(weighingOf(2, 4.8, { pieces: [piece] }));
    const from = chain.entries.length;
    const called = headline(chain, { from: 4 });
    expect(called.rest).toContainEqual(
      expect.stringMatching(
        /^Wet lay-up runs heavy since P-2 \(2026-05-01\), and nobody has said why; what is still to come \(14 pieces\) is expected \d+\.\d\d kg heavier for it\.$/,
      ),
    );
    expect(called.rest).toContain(
      '6 weighings are beyond their limits, 6 of them new; the largest: P-2 Part 2 takes 0.80 kg from the margin.',
    );
    chain.record(processCauseOf('wet lay-up', from, { found: 'vacuum too low' }));
    const explained = headline(chain, { from });
    expect(explained.rest).toContainEqual(expect.stringContaining('the cause is stated: vacuum too low'));
    expect(explained.rest).toContainEqual(expect.stringMatching(/^6 weighings are beyond their limits; /));
  });

  it('[B2] [D4] of a process with one release it says that, and lists it with the second', () => {
    const chain = build(200, { target: 400 });
    chain.record(partOf(2, { quantity: 20 }));
    chain.record(estimateOf(2, { massKg: 4, massStdKg: 0.1, xM: 2 }));
    chain.record(weighingOf(2, 4.8, { pieces: [1] }));
    const once = briefOf(chain);
    expect(once.drift).toMatchObject({ processes: [], calledOnce: ['wet lay-up'] });
    expect(calledOnceWords(once.drift)).toMatch(/^wet lay-up: one release so far/);
    expect(once.headline.rest.join(' ')).not.toContain('runs heavy');
    const from = chain.entries.length;
    chain.record(weighingOf(2, 4.8, { pieces: [2] }));
    const twice = briefOf(chain, { from });
    expect(twice.drift).toMatchObject({ processes: [{ process: 'wet lay-up', isNew: true }], calledOnce: [] });
    expect(calledOnceWords(twice.drift)).toBeUndefined();
    expect(twice.headline.rest.join(' ')).toContain('Wet lay-up runs heavy since P-2');
  });

  it('[B2] [D4] a process that only has allowance to spare is listed apart from what drifts', () => {
    const chain = build(200, { target: 400 });
    chain.record(partOf(2, { quantity: 20 }));
    chain.record(estimateOf(2, { massKg: 4, massStdKg: 0.1, growth: 0.24, xM: 2 }));
    for (const piece of [1, 2, 3]) chain.record(weighingOf(2, 4.1, { pieces: [piece] }));
    const { drift, headline: told } = briefOf(chain);
    expect(sparingProcesses(drift).map(({ process }) => process)).toEqual(['wet lay-up']);
    expect(driftingProcesses(drift)).toEqual([]);
    expect(told.rest).toContain('No part and no process drifts.');
  });

  it('[B2] says that the aircraft has been weighed, and how much was weighed then and now', () => {
    const chain = build(90, { target: 120 });
    const from = chain.entries.length;
    chain.record(weighingOf(1, 91));
    expect(headline(chain, { from }).rest.at(-1)).toBe('100.0 % of the mass has been weighed (0.0 % then).');
    chain.record(wholeOf(92, 2), { on: '2026-06-01' });
    expect(headline(chain, { from }).rest[0]).toBe(
      'The aircraft was weighed on 2026-06-01; what happened later is counted on top of that.',
    );
  });

  it('[B2] speaks in the units of the aircraft', () => {
    const chain = build(90, { target: 120, cgAftM: 1.9 });
    chain.record(aircraftOf({ massUnit: 'lb', lengthUnit: 'in' }));
    chain.record(armOf(1, { xM: 2 }));
    const told = headline(chain);
    expect(told.lead).toMatch(
      /forecast at 198 ± 16 lb empty, 66 lb below its target of 265 lb, and its CG is 3\.94 in aft/,
    );
    expect(ofCg(told)).toContain('(up to 74.80 in)');
  });
});
