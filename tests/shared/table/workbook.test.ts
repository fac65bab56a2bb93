/** XLSX workbooks into cells that say what the spreadsheet showed, and nothing else. */
import { describe, expect, it } from 'vitest';
import { type Grid, markProblems, proposed, sentOf } from '#shared/table/grid.ts';
import { importParts } from '#shared/table/parts-file.ts';
import { readWorkbook, type Sheet } from '#shared/table/workbook.ts';
import { type MadeCell, makeWorkbook } from './make-workbook.ts';
import { contextOf } from './tables.ts';

async function sheetsOf(bytes: Uint8Array<ArrayBuffer>): Promise<readonly Sheet[]> {
  const read = await readWorkbook(bytes.buffer);
  if (!read.ok) throw new Error(JSON.stringify(read.refusal));
  return read.value;
}

async function gridOf(rows: readonly (readonly MadeCell[])[], merged: readonly string[] = []): Promise<Grid> {
  const [sheet] = await sheetsOf(makeWorkbook({ name: 'Parts', rows, merged }));
  if (sheet === undefined) throw new Error('a sheet with rows is read');
  return sheet.grid;
}

const cellsOf = (grid: Grid) => grid.rows.map(({ line, cells }) => [line, ...cells]);
const HEADS = ['number', 'group', 'estimate [kg]', 'allowance', 'date', 'tare'];
/** The problems of the marks alone, by place. */
const marked = (grid: Grid) =>
  markProblems(grid, proposed(grid.rows, ['parts'])).map(({ line, at, refusal }) => `${line}:${at} ${refusal.code}`);

describe('a workbook', () => {
  it('[I8] numbers, days and shares become texts that read only one way', async () => {
    const grid = await gridOf([
      HEADS,
      ['P-1', 'wing', 4.1, { share: 0.24 }, new Date('2026-05-31'), 0.1 + 0.2],
      ['P-2', 'wing', 12, { share: 0.065 }, new Date('2026-05-31T14:30:00Z'), 1234.5],
      ['P-3', 'wing', '1,25', '24 %', '2026-05-30', undefined],
    ]);
    expect(cellsOf(grid).slice(1)).toEqual([
      [2, 'P-1', 'wing', '4.1', '24 %', '2026-05-31', '0.3'],
      [3, 'P-2', 'wing', '12', '6.5 %', '2026-05-31T14:30', '1234.5'],
      [4, 'P-3', 'wing', '1,25', '24 %', '2026-05-30', ''],
    ]);
    expect(marked(grid)).toEqual([]);
  });

  it('[I8] lines are those of the sheet, also below a title and between empty rows', async () => {
    const grid = await gridOf(
      [['Parts of Curlew, as of May'], [], HEADS, [], ['P-1', 'wing', 4], [undefined, undefined], ['P-2', 'tail', 1]],
      ['A1:F1'],
    );
    expect(grid.rows.map(({ line }) => line)).toEqual([1, 3, 5, 7]);
    expect(proposed(grid.rows)).toMatchObject({ kind: 'parts', headingAt: 1 });
    expect(marked(grid)).toEqual([]);
  });

  it('[I8] a formula gives the result that is kept with it', async () => {
    const grid = await gridOf([
      ['number', 'group', 'estimate [kg]'],
      ['P-1', 'wing', { xml: '<c><f>B1*2</f><v>3.5</v></c>' }],
      [{ xml: '<c t="str"><f>"P-"&amp;2</f><v>P-2</v></c>' }, 'wing', 1],
    ]);
    expect(cellsOf(grid).slice(1)).toEqual([
      [2, 'P-1', 'wing', '3.5'],
      [3, 'P-2', 'wing', '1'],
    ]);
    expect(marked(grid)).toEqual([]);
  });

  it('[I8] an error, a formula without a result, a merged cell and a date out of place are told at their cells', async () => {
    const grid = await gridOf(
      [
        ['number', 'group', 'estimate [kg]', 'later [kg]', 'name'],
        ['P-1', 'wing', { xml: '<c t="e"><f>1/0</f><v>#DIV/0!</v></c>' }, { xml: '<c t="e"><v>#N/A</v></c>' }, 'Rib'],
        ['P-2', 'wing', 4, { xml: '<c><f>B2*2</f></c>' }, { xml: '<c t="str"><f>A1</f></c>' }],
        ['P-3', undefined, 4, 1, 'Cap'],
        [new Date('2026-02-01'), 'wing', 4, 1, 'Spar'],
        ['P-5', 'wing', 4, { xml: '<c t="str"><f>IF(1,"","")</f><v></v></c>' }, 'Web'],
      ],
      ['B3:B4'],
    );
    expect(marked(grid)).toEqual([
      '2:2 cell-error',
      '2:3 cell-error',
      '3:3 cell-without-result',
      '3:4 cell-without-result',
      '4:1 cell-merged',
      '5:0 cell-is-date',
    ]);
    // None of them is an empty cell by then.
    expect(grid.rows[1]?.cells.slice(2, 4)).toEqual(['#DIV/0!', '#N/A']);
  });

  it('[I8] an error in the last cell of the last row is not lost with it', async () => {
    const grid = await gridOf([
      ['number', 'group', 'estimate [kg]'],
      ['P-1', 'wing'],
      [{ xml: '<c t="e"><v>#REF!</v></c>' }],
    ]);
    expect(cellsOf(grid)[2]).toEqual([3, '#REF!']);
    const edge = await gridOf([
      ['number', 'group', 'estimate [kg]'],
      ['P-1', 'wing', { xml: '<c t="e"><v>#REF!</v></c>' }],
    ]);
    expect(marked(edge)).toEqual(['2:2 cell-error']);
  });

  it('[I8] every sheet with anything in it is offered, by its name', async () => {
    const sheets = await sheetsOf(
      makeWorkbook({ name: 'Notes', rows: [] }, { name: 'R&amp;D', rows: [['a']] }, { name: 'Parts', rows: [HEADS] }),
    );
    expect(sheets.map(({ name }) => name)).toEqual(['R&D', 'Parts']);
  });

  it('[I8] what is no workbook is refused with words', async () => {
    const codes = async (bytes: Uint8Array) => {
      const read = await readWorkbook(new Uint8Array(bytes).buffer);
      return read.ok ? 'taken' : read.refusal.code;
    };
    expect(await codes(Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 1, 2))).toBe('workbook-unreadable');
    expect(await codes(Uint8Array.of(0x50, 0x4b, 3, 4, 9, 9))).toBe('workbook-unreadable');
    expect(await codes(makeWorkbook({ name: 'A', rows: [] }))).toBe('file-empty');
  });

  it('[I8] what comes of it is the same parts as from a CSV file', async () => {
    const grid = await gridOf([
      ['number', 'group', 'estimate [kg]', 'allowance'],
      ['P-1', 'wing', 4.1, { share: 0.24 }],
    ]);
    const { list } = sentOf(grid, proposed(grid.rows));
    const [heading, ...rows] = (list.rows ?? []).map(([line, cells]) => ({ line, cells }));
    if (heading === undefined) throw new Error('there are headings');
    const { entries, problems } = importParts({ separator: '\t', heading, rows }, contextOf(), list.columns);
    expect(problems).toEqual([]);
    expect(entries[1]).toMatchObject({ massKg: 4.1, growth: 0.24, typed: { estimate: '4.1 kg', allowance: '24 %' } });
  });
});
