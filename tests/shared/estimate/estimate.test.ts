/** Estimates: conditions, allowances and words (rules E1, E2, W3, W9). */
import { describe, expect, it } from 'vitest';
import { allowancesFromWords, shopGrowth } from '#shared/estimate/allowance.ts';
import { conditionRank, expectedAtScaleKg, projectedInstalledKg } from '#shared/estimate/condition.ts';
import { estimateFromWords } from '#shared/estimate/from-words.ts';
import { Condition, Evidence, Process } from '#shared/ledger/entry.ts';
import { partIdOf } from '../ledger/make-entries.ts';
import { problemsOf, readerOf } from '../words/words.ts';

const PART = { partId: partIdOf(1), process: 'prepreg' } as const;

function read(words: Record<string, string>) {
  const reader = readerOf(words);
  const estimate = estimateFromWords(reader, PART);
  return { estimate, problems: problemsOf(reader) };
}

describe('conditions', () => {
  const estimate = { massKg: 10, flashKg: 0.5, laterKg: 2, finishKg: 0.75 };

  it('[E2] what the scale should show depends on what has been done to the piece', () => {
    expect(Condition.options.map((condition) => expectedAtScaleKg(estimate, condition))).toEqual([8.5, 8, 9.25, 10]);
  });

  it('[W3] what is expected at the scale is projected back to the installed mass', () => {
    for (const condition of Condition.options)
      expect(projectedInstalledKg(expectedAtScaleKg(estimate, condition), condition, estimate)).toBe(10);
  });

  it('[W3] flash comes off as released only, later goes on unless finished', () => {
    const projected = Condition.options.map((condition) => projectedInstalledKg(9, condition, estimate));
    expect(projected).toEqual([10.5, 11, 9.75, 9]);
  });

  it('[W3] a piece lighter than its flash is taken for nothing, not for less', () => {
    expect(projectedInstalledKg(0.2, 'as released', estimate)).toBe(2);
  });

  it('[E2] without a stated finish a piece that is fitted out is all there', () => {
    const { finishKg: _, ...plain } = estimate;
    expect(expectedAtScaleKg(plain, 'fitted')).toBe(10);
    expect(projectedInstalledKg(9, 'fitted', plain)).toBe(9);
  });

  it('[W9] conditions follow each other as work goes on', () => {
    expect(Condition.options.map(conditionRank)).toEqual([0, 1, 2, 3]);
  });
});

describe('allowance', () => {
  it('[E1] the shop has a default for every process, and what is calculated needs less than what is estimated', () => {
    for (const process of Process.options) {
      const [estimated, calculated] = Evidence.options.map((evidence) => shopGrowth(process, evidence));
      expect(calculated).toBeGreaterThan(0);
      expect(estimated).toBeGreaterThan(calculated ?? 1);
      expect(estimated).toBeLessThanOrEqual(0.5);
    }
    expect([shopGrowth('prepreg', 'estimated'), shopGrowth('wiring', 'calculated')]).toEqual([0.24, 0.2]);
  });

  it('[E1] without a stated allowance the default is taken and said to be one', () => {
    expect(read({ estimate: '4 kg' }).estimate).toMatchObject({
      growth: 0.24,
      laterGrowth: 0.24,
      growthFrom: 'shop default',
      evidence: 'estimated',
    });
    expect(read({ estimate: '4 kg', evidence: 'Calculation' }).estimate).toMatchObject({ growth: 0.06 });
    expect(read({ estimate: '4 kg', allowance: '0 %' }).estimate).toMatchObject({ growth: 0, growthFrom: 'stated' });
    expect(read({ estimate: '4 kg', allowance: '10 %', 'later allowance': '30 %' }).estimate).toMatchObject({
      growth: 0.1,
      laterGrowth: 0.3,
    });
  });

  it('[E1] the shop\u2019s own allowances go before common practice, and what they leave out stays', () => {
    const own = allowancesFromWords(readerOf({ 'prepreg estimated': '12.5 %', 'wiring calculated': '0 %' }));
    expect(own?.shares).toEqual([
      { process: 'prepreg', evidence: 'estimated', growth: 0.125 },
      { process: 'wiring', evidence: 'calculated', growth: 0 },
    ]);
    expect(shopGrowth('prepreg', 'estimated', own)).toBe(0.125);
    expect(shopGrowth('wiring', 'calculated', own)).toBe(0);
    expect(shopGrowth('prepreg', 'calculated', own)).toBe(0.06);
    const reader = readerOf({ estimate: '4 kg' });
    expect(estimateFromWords(reader, PART, own)).toMatchObject({ growth: 0.125, growthFrom: 'shop default' });
  });
});

describe('words', () => {
  it('[E1] a full estimate is read with all its parts', () => {
    const { estimate, problems } = read({
      estimate: '10 lb',
      'std uncertainty': '5 %',
      x: '100 in',
      y: '-2 in',
      z: '0 m',
      'arm uncertainty': '5 mm',
      evidence: 'calculated',
      allowance: '6 %',
      flash: '1 oz',
      later: '100 g',
    });
    expect(problems).toEqual([]);
    expect(estimate).toMatchObject({ massKg: 4.5359237, xM: 2.54, yM: -0.0508, zM: 0, armStdM: 0.005, laterKg: 0.1 });
    expect(estimate?.massStdKg).toBeCloseTo(0.226796185, 12);
    expect(estimate?.typed).toMatchObject({ estimate: '10 lb', x: '100 in', flash: '1 oz', allowance: '6 %' });
  });

  it('[E1] what goes on later is part of the installed mass and cannot exceed it', () => {
    expect(read({ estimate: '4 kg', later: '4 kg' }).problems).toEqual([]);
    expect(read({ estimate: '4 kg', later: '4.001 kg' })).toEqual({
      estimate: undefined,
      problems: ['later: later-above-estimate'],
    });
  });

  it('[E1] a value beside an estimate that is not there is refused, an empty estimate is none', () => {
    expect(read({ x: '1 m' }).problems).toEqual(['estimate: estimate-missing']);
    expect(read({ evidence: 'estimated' })).toEqual({ estimate: undefined, problems: [] });
    expect(read({})).toEqual({ estimate: undefined, problems: [] });
  });

  it('[E1] an uncertainty below zero is refused', () => {
    expect(read({ estimate: '4 kg', 'arm uncertainty': '-1 mm' }).problems).toEqual(['arm uncertainty: negative']);
    expect(read({ estimate: '4 kg', 'std uncertainty': '-1 g' }).problems).toEqual(['std uncertainty: out-of-range']);
  });

  it('[E2] the finish is part of what goes on later, and cannot exceed it', () => {
    const words = { estimate: '4 kg', later: '500 g' };
    expect(read({ ...words, finish: '0.5 kg' })).toMatchObject({ problems: [], estimate: { finishKg: 0.5 } });
    expect(read(words).estimate).not.toHaveProperty('finishKg');
    expect(read({ ...words, finish: '501 g' }).problems).toEqual(['finish: finish-above-later']);
    expect(read({ estimate: '4 kg', finish: '1 g' }).problems).toEqual(['finish: finish-above-later']);
    expect(read({ finish: '1 g' }).problems).toEqual(['estimate: estimate-missing']);
  });
});
