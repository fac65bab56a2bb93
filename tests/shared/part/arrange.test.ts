/** The lines of a table of parts (rules R3, I6): the tree laid flat, sorted and filtered. */
import { expect, it } from 'vitest';
import { flatLines, sortParts, sumsWithin, treeLines, treeOf } from '#shared/part/arrange.ts';

type Part = { readonly number: string; readonly assembly?: string; readonly massKg?: number };

const PARTS: readonly Part[] = [
  { number: 'W-10', assembly: 'W', massKg: 1 },
  { number: 'W', massKg: 0.5 },
  { number: 'W-9', assembly: 'W', massKg: 3 },
  { number: 'RIB', assembly: 'W-9', massKg: 2 },
  { number: 'F-1', assembly: 'gone' },
];

const byNumber = sortParts(PARTS, { by: ({ number }) => number, isDown: false });
const all = () => true;
const told = (lines: ReturnType<typeof treeLines<Part>>) =>
  lines.map(({ part, level, isOpen }) => `${'  '.repeat(level - 1)}${part.number}${isOpen === false ? ' …' : ''}`);

it('[R3] the tree is laid flat, each part once, and what has lost its assembly stands by itself', () => {
  expect(told(treeLines(treeOf(byNumber), all, new Set()))).toEqual(['F-1', 'W', '  W-9', '    RIB', '  W-10']);
  expect(told(treeLines(treeOf(byNumber), all, new Set(['W'])))).toEqual(['F-1', 'W …']);
});

it('[R3] an assembly stays while something in it is asked for, and says that it was not asked for itself', () => {
  const lines = treeLines(treeOf(byNumber), ({ number }) => number === 'RIB', new Set());
  expect(lines.map(({ part, isAsked, place, among }) => [part.number, isAsked, place, among])).toEqual([
    ['W', false, 1, 1],
    ['W-9', false, 1, 1],
    ['RIB', true, 1, 1],
  ]);
  expect(flatLines(byNumber, ({ number }) => number === 'RIB').map(({ part }) => part.number)).toEqual(['RIB']);
});

it('[R3] sorted either way, what has no figure comes last', () => {
  const by = ({ massKg }: Part) => massKg;
  const numbers = (isDown: boolean) => sortParts(PARTS, { by, isDown }).map(({ number }) => number);
  expect(numbers(false)).toEqual(['W', 'W-10', 'RIB', 'W-9', 'F-1']);
  expect(numbers(true)).toEqual(['W-9', 'RIB', 'W-10', 'W', 'F-1']);
});

it('[R3] an assembly sums up everything in it', () => {
  const sums = sumsWithin(treeOf(byNumber), ({ massKg }) => massKg ?? 0);
  expect([...sums].sort()).toEqual([
    ['F-1', 0],
    ['RIB', 2],
    ['W', 6.5],
    ['W-10', 1],
    ['W-9', 5],
  ]);
});
