/** The CG of a part by two supports (rule W6), by hand. */
import { describe, expect, it } from 'vitest';
import { centreOnSupports } from '#shared/weighing/two-supports.ts';
import { armFromWords } from '#shared/words/arm-from-words.ts';
import { Chain, partIdOf, partOf } from '../ledger/make-entries.ts';
import { problemsOf, readerOf } from '../words/words.ts';

function read(words: Record<string, string>) {
  const reader = readerOf(words);
  return { arm: armFromWords(reader, partIdOf(1)), problems: problemsOf(reader) };
}

const LOADS = {
  'first load': '2 kg',
  'first station': '500 mm',
  'second load': '6 kg',
  'second station': '2500 mm',
};

describe('two supports', () => {
  it('[W6] the CG lies at the moment over the load', () => {
    // (2 x 0.5 + 6 x 2.5)/8 = 16/8.
    const exact = { netStdKg: 0, stationStdM: 0 };
    expect(centreOnSupports({ ...exact, netKg: 2, stationM: 0.5 }, { ...exact, netKg: 6, stationM: 2.5 })).toEqual({
      ok: true,
      value: { xM: 2, xStdM: 0 },
    });
    // One support bears it all.
    expect(
      centreOnSupports({ ...exact, netKg: 0, stationM: 0.5 }, { ...exact, netKg: 6, stationM: -2.5 }),
    ).toMatchObject({ value: { xM: -2.5 } });
  });

  it('[W6] its uncertainty is that of loads and stations, by hand', () => {
    // Loads known to 0.04 kg: (0.5 - 2)/8 x 0.04 = 7.5 mm, (2.5 - 2)/8 x 0.04 = 2.5 mm.
    // Stations known to 4 mm: 2/8 x 4 = 1 mm, 6/8 x 4 = 3 mm. The root of 56.25 + 6.25 + 1 + 9 = 72.5 is 8.514 693 2 mm.
    const known = { netStdKg: 0.04, stationStdM: 0.004 };
    const centre = centreOnSupports({ ...known, netKg: 2, stationM: 0.5 }, { ...known, netKg: 6, stationM: 2.5 });
    expect(centre.ok && centre.value.xStdM).toBeCloseTo(0.008_514_693_2, 10);
  });

  it('[W6] nothing on the supports is refused', () => {
    const nothing = { netKg: 0, netStdKg: 0, stationM: 1, stationStdM: 0 };
    expect(centreOnSupports(nothing, { ...nothing, stationM: 2 })).toEqual({
      ok: false,
      refusal: { code: 'supports-bear-nothing' },
    });
  });
});

describe('words', () => {
  it('[W6] loads and stations make the station of the part, counted from the bench zero', () => {
    const { arm, problems } = read({
      ...LOADS,
      'bench zero': '3 m',
      'load uncertainty': '40 g',
      'station uncertainty': '4 mm',
      z: '100 mm',
    });
    expect(problems).toEqual([]);
    expect(arm).toMatchObject({
      xM: 5,
      zM: 0.1,
      supports: { firstNetKg: 2, firstM: 0.5, secondNetKg: 6, secondM: 2.5, benchZeroM: 3 },
      typed: { 'first load': '2 kg', 'bench zero': '3 m', 'station uncertainty': '4 mm' },
    });
    expect(arm?.armStdM).toBeCloseTo(0.008_514_693_2, 10);
  });

  it('[W6] without stated uncertainties the digits of the loads tell theirs, and without a bench zero it is the datum', () => {
    const { arm } = read({ ...LOADS, 'first load': '2.00 kg', 'second load': '6.00 kg' });
    // 0.01/sqrt(12) = 0.002 886 751; times the root of (1.5/8)^2 + (0.5/8)^2 = 0.197 642 354.
    expect(arm?.armStdM).toBeCloseTo(0.002_886_751 * 0.197_642_354, 9);
    expect(arm).toMatchObject({ xM: 2, supports: { benchZeroM: 0 } });
  });

  it('[W6] it places the part as any measured arm does', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    const { arm } = read({ ...LOADS, 'bench zero': '-1 m' });
    if (arm === undefined) throw new Error('an arm');
    chain.record(arm);
    expect(chain.fold().books.byPart.get(partIdOf(1))?.state.armsNm.x).toBe(1_000_000_000n);
  });

  it.each([
    [{ 'second load': '' }, 'second load: missing'],
    [{ 'first station': '500' }, 'first station: unit-missing'],
    [{ 'first load': '2 m' }, 'first load: unit-unknown'],
    [{ 'second station': '0.5 m' }, 'second station: supports-at-one-place'],
    [{ 'first load': '0 kg', 'second load': '0 kg' }, 'first load: supports-bear-nothing'],
    [{ 'first load': '-2 kg' }, 'first load: out-of-range'],
    [{ 'station uncertainty': '-1 mm' }, 'station uncertainty: negative'],
    [{ 'load uncertainty': '-1 g' }, 'load uncertainty: out-of-range'],
    [{ x: '2 m' }, 'x: arm-stated-twice'],
    [{ 'arm uncertainty': '2 mm' }, 'arm uncertainty: arm-stated-twice'],
  ])('[W6] loads with %j are refused: %s', (words, problem) => {
    expect(read({ ...LOADS, ...words })).toEqual({ arm: undefined, problems: [problem] });
  });

  it('[W6] a bench zero alone asks for the loads', () => {
    expect(read({ 'bench zero': '1 m' }).problems).toEqual([
      'first load: missing',
      'first station: missing',
      'second load: missing',
      'second station: missing',
    ]);
  });
});
