/** Target baselines in words (rules R1, R2, R3, D1, I5). */
import { describe, expect, it } from 'vitest';
import { SHOP_PART_LIMIT } from '#shared/drift/part-drift.ts';
import { targetsFromWords } from '#shared/target/from-words.ts';
import { problemsOf, readerOf } from '../words/words.ts';

const CHORD = { macM: 1.25, lemacM: 2 };
type Groups = Parameters<typeof targetsFromWords>[2];

function read(words: Record<string, string>, chord: typeof CHORD | undefined = CHORD, groups: Groups = []) {
  const reader = readerOf(words);
  const targets = targetsFromWords(reader, chord, groups);
  return { targets, problems: problemsOf(reader) };
}

describe('targets', () => {
  it('[R1] an empty mass is enough, the reserve is then none and the part limit the shop has', () => {
    expect(read({ 'empty mass': '800 lb' }).targets).toEqual({
      kind: 'targets',
      emptyMassKg: 362.873896,
      reserveKg: 0,
      groups: [],
      partLimit: SHOP_PART_LIMIT,
      typed: { 'empty mass': '800 lb' },
    });
  });

  it('[R1] a target of zero and a reserve as large as the target are refused', () => {
    expect(read({}).problems).toEqual(['empty mass: missing']);
    expect(read({ 'empty mass': '0 kg' }).problems).toEqual(['empty mass: target-zero']);
    expect(read({ 'empty mass': '9 kg', reserve: '9 kg' }).problems).toEqual(['reserve: reserve-too-large']);
    expect(read({ 'empty mass': '9 kg', reserve: '8 kg' }).targets?.reserveKg).toBe(8);
  });

  it('[R2] the CG range may be stated in per cent MAC', () => {
    const { targets } = read({ 'empty mass': '370 kg', 'cg forward': '20 % MAC', 'cg aft': '2.4 m' });
    expect([targets?.cgForwardM, targets?.cgAftM]).toEqual([2.25, 2.4]);
    expect(read({ 'empty mass': '370 kg', 'cg forward': '20%' }, undefined).problems).toEqual([]);
    expect(targetsFromWords(readerOf({ 'empty mass': '1 kg', 'cg forward': '20%' }), {}, [])).toBeUndefined();
  });

  it('[R2] per cent MAC without a chord and a range the wrong way round are refused', () => {
    const reader = readerOf({ 'empty mass': '370 kg', 'cg forward': '20 % MAC' });
    expect(targetsFromWords(reader, undefined, [])).toBeUndefined();
    expect(problemsOf(reader)).toEqual(['cg forward: chord-unknown']);
    const reversed = { 'empty mass': '370 kg', 'cg forward': '2.4 m', 'cg aft': '2.3 m' };
    expect(read(reversed).problems).toEqual(['cg aft: range-reversed']);
  });

  it('[D1] the part limit may be stated, absolute and as a share', () => {
    const { targets } = read({ 'empty mass': '370 kg', 'part limit': '50 g', 'part limit share': '4 %' });
    expect(targets?.partLimit).toEqual({ absoluteKg: 0.05, fraction: 0.04 });
    expect(read({ 'empty mass': '370 kg', 'part limit share': '0.04' }).problems).toEqual([
      'part limit share: ambiguous-share',
    ]);
  });

  it('[R3] a group has one target', () => {
    const wing = { group: 'wing', massKg: 80, typed: '80 kg' };
    expect(read({ 'empty mass': '370 kg' }, CHORD, [wing]).targets).toMatchObject({
      groups: [{ group: 'wing', massKg: 80 }],
      typed: { 'group wing': '80 kg' },
    });
    expect(read({ 'empty mass': '370 kg' }, CHORD, [wing, wing]).problems).toEqual(['group: group-twice']);
  });
});
