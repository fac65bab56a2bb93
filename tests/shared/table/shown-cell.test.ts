import { expect, it } from 'vitest';
import { shownCell } from '#shared/table/shown-cell.ts';

it('[N19] a table that is saved from the screen keeps its figures and brings no formula', () => {
  for (const [shown, cell] of [
    ['\u22121\u00a0234.5', '-1234.5'],
    ['+0.35\u00a0kg', '+0.35 kg'],
    ['\u22120.2 kg m', '-0.2 kg m'],
    ['+12 %', '+12 %'],
    ['–', ''],
    ['Skin, outer', '"Skin, outer"'],
    ['=1+1', "'=1+1"],
    ['@SUM(A1)', "'@SUM(A1)"],
    ["-1+cmd|'/c x'!A1", "'-1+cmd|'/c x'!A1"],
    ['+2*3', "'+2*3"],
    ['\uff1d1', "'\uff1d1"],
  ] as const)
    expect(shownCell(shown)).toBe(cell);
});
