/** Where labels lie on paper (rule H1). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  A4_MM,
  firstLeft,
  onSheets,
  problemsOfRoll,
  problemsOfSheet,
  ROLLS,
  SHEETS,
  type Sheet,
} from '#shared/label/sheet.ts';

const [SIX = SHEETS[0]] = [
  { columns: 2, rows: 3, widthMm: 90, heightMm: 60, leftMm: 10, topMm: 20, acrossMm: 5, downMm: 4 },
];
if (SIX === undefined) throw new Error('there is a sheet');

describe('labels on paper', () => {
  it('[H1] they lie row by row, and those of a sheet that was begun go on where it was left', () => {
    const [first = [], second = [], ...more] = onSheets(['a', 'b', 'c', 'd'], SIX, 4);
    expect(first.map(({ label, at }) => [label, at.leftMm, at.topMm])).toEqual([
      ['a', 105, 84],
      ['b', 10, 148],
      ['c', 105, 148],
    ]);
    expect(second.map(({ label, at }) => [label, at.leftMm, at.topMm])).toEqual([['d', 10, 20]]);
    expect(more).toEqual([]);
    expect(firstLeft(4, SIX, 4)).toBe(2);
    expect(firstLeft(3, SIX, 4)).toBe(1);
  });

  it('[H1] every size that is offered lies on its paper, and is large enough', () => {
    for (const sheet of SHEETS) expect(problemsOfSheet(sheet), JSON.stringify(sheet)).toEqual([]);
    for (const roll of ROLLS) expect(problemsOfRoll(roll), JSON.stringify(roll)).toEqual([]);
  });

  it('[H1] of any number of labels none is lost, none lies on another, and all lie on the sheet', () => {
    const numbers = fc.array(fc.nat(), { maxLength: 90 });
    fc.assert(
      fc.property(numbers, fc.constantFrom(...SHEETS), fc.integer({ min: -3, max: 60 }), (labels, sheet, first) => {
        const sheets = onSheets(labels, sheet, first);
        expect(sheets.flat().map(({ label }) => label)).toEqual(labels);
        for (const placed of sheets) {
          const places = new Set(placed.map(({ at }) => `${at.leftMm} ${at.topMm}`));
          expect(places.size).toBe(placed.length);
          for (const { at } of placed) {
            expect(at.leftMm + sheet.widthMm).toBeLessThanOrEqual(A4_MM.width + 0.5);
            expect(at.topMm + sheet.heightMm).toBeLessThanOrEqual(A4_MM.height + 0.5);
          }
        }
      }),
    );
  });

  it('[H1] a size that is none, too small or beyond the paper is told, all of it at once', () => {
    const told = (changed: Partial<Sheet>) =>
      problemsOfSheet({ ...SIX, ...changed }).map((one) => Object.values(one).join(' '));
    expect(told({ columns: 0, rows: 2.5, topMm: Number.NaN, downMm: -1 })).toEqual([
      'no length columns',
      'no length rows',
      'no length topMm',
      'no length downMm',
    ]);
    expect(told({ widthMm: 30, heightMm: 12 })).toEqual(['too small']);
    expect(told({ columns: 3, rows: 5 })).toEqual(['off the paper right 80', 'off the paper lower 39']);
    expect(told({ leftMm: 25.4 })).toEqual([]);
    expect(problemsOfRoll({ widthMm: 34, heightMm: 25 })).toEqual([{ is: 'too small' }]);
    expect(problemsOfRoll({ widthMm: 50, heightMm: Number.POSITIVE_INFINITY })).toEqual([
      { is: 'no length', field: 'heightMm' },
    ]);
  });
});
