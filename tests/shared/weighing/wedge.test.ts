/** A scale that types, told from a hand (rule W13). */
import { expect, it } from 'vitest';
import { Wedge } from '../../../client/weigh/line/wedge.ts';

/** Types the keys with these gaps before each; answers what the last one was taken for. */
function typed(keys: readonly string[], gapMs: number, lastGapMs = gapMs): boolean {
  const wedge = new Wedge();
  const ends = keys.map((key, at) =>
    wedge.endsLine(key, 1000 + at * gapMs + (at === keys.length - 1 ? lastGapMs - gapMs : 0)),
  );
  return ends.at(-1) ?? false;
}

it.each([
  [['4', '.', '0', '5', 'Enter'], 8, 8, true],
  [['4', '.', '0', '5', 'Enter'], 90, 90, false],
  [['4', '.', '0', '5', 'Enter'], 8, 300, false],
  [['4', '5', 'Enter'], 8, 8, false],
  [['Shift', '4', '.', 'Shift', '0', 'Enter'], 8, 8, true],
])('[W13] keys %j, %d ms apart and the last after %d ms, end a line: %s', (keys, gapMs, lastGapMs, isLine) => {
  expect(typed(keys, gapMs, lastGapMs)).toBe(isLine);
});

it('[W13] a line begins anew behind Enter, and after a pause', () => {
  const wedge = new Wedge();
  for (const [at, key] of ['4', '.', '0', 'Enter'].entries()) wedge.endsLine(key, at);
  expect(wedge.endsLine('Enter', 5)).toBe(false);
  expect(['1', '2', '3'].map((key, at) => wedge.endsLine(key, 1000 + at * 100))).toEqual([false, false, false]);
  expect(wedge.endsLine('Enter', 1210)).toBe(false);
});
