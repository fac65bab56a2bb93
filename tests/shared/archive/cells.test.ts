/** Cells that come back as they were, that no spreadsheet program works out, and whose change is found (rule X2). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changedCells, checkCell, jsonCell, textCell, textOfCell, valueOfCell } from '#shared/archive/cells.ts';
import { readTable, tableText } from '#shared/archive/table.ts';

const HEADINGS = ['entry', 'remark'];
const anyText = fc.string({ unit: 'binary' }).filter((text) => text.isWellFormed());

describe('cells', () => {
  it('[X2] every text comes back as it was, the empty one apart from none', () => {
    fc.assert(
      fc.property(fc.option(anyText, { nil: undefined }), (text) => {
        expect(textOfCell(textCell(text))).toBe(text);
      }),
      { seed: 7, numRuns: 2000 },
    );
    expect([textCell(undefined), textCell(''), textCell("'"), textCell("it's")]).toEqual(['', "'", "''", "it's"]);
  });

  it.each(['=1+1', '+1', '-1.5 m', '@SUM(A1)', '\t=1', '\r=1', ' =HYPERLINK("x")', '＝1+1', "'=1", '\uFEFF=1'])(
    '[X2] %j is not worked out by a spreadsheet program, and comes back',
    (text) => {
      expect(textCell(text)).toBe(`'${text}`);
      expect(textOfCell(textCell(text))).toBe(text);
    },
  );

  it('[X2] numbers come back as the very same numbers, and another spelling of one is not taken for it', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (number) => {
        const { isWhole, value } = valueOfCell(jsonCell(number));
        expect([isWhole, value === number]).toEqual([true, true]);
      }),
      { seed: 7, numRuns: 2000 },
    );
    for (const mangled of ['0,916', '0.91600', '9.16E-01', ' 0.916', '1e3', '01', 'Jan 26', '{"a": 1}', 'NaN'])
      expect(valueOfCell(mangled).isWhole).toBe(false);
  });

  it('[X2] check digits tell which cell was changed', () => {
    const cells = ['12', '', 'trimmed', '4.07'];
    const check = checkCell(cells);
    expect(changedCells(cells, check)).toEqual([]);
    expect(changedCells(['12', '', 'trimmed', '4.70'], check)).toEqual([3]);
    expect(changedCells(['1 2', ' ', 'trimmed', '4.07'], check)).toEqual([0, 1]);
    expect(changedCells(['12', '', 'trimmed'], check)).toBeUndefined();
  });

  it('[X2] any table comes back cell by cell, whatever stands in it', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(), anyText)), (drawn) => {
        const rows = drawn.map(([seq, text]) => [jsonCell(seq), textCell(text)]);
        const read = readTable(tableText({ headings: HEADINGS, rows }), HEADINGS);
        expect(read.problems).toEqual([]);
        expect(read.rows.map(({ cells }) => cells)).toEqual(rows);
      }),
      { seed: 7, numRuns: 500 },
    );
  });

  it('[X2] lines count as an editor shows them, also behind a cell of several lines', () => {
    const rows = [
      ['1', 'two\nlines'],
      ['2', 'plain'],
    ];
    const text = tableText({ headings: HEADINGS, rows });
    expect(readTable(text, HEADINGS).rows.map(({ line }) => line)).toEqual([2, 4]);
    expect(readTable(text.replace('plain', 'plane'), HEADINGS).problems).toEqual([
      { line: 4, column: 2, heading: 'remark', refusal: { code: 'archive-changed', what: 'cell' } },
    ]);
  });
});
