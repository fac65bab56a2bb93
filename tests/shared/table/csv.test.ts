/** CSV and its headings (rules I1, I2, I5). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { byPlace, cellOf, type FieldColumn, fieldsOfRow, matchColumns } from '#shared/table/columns.ts';
import { isWorkbook, readCsv } from '#shared/table/csv.ts';
import { tableOf, told } from './tables.ts';

const FIELDS: readonly FieldColumn[] = [
  { field: 'part', holds: 'text', required: true, names: ['part number', 'no'] },
  { field: 'gross', holds: 'mass', required: true, names: ['gross weight'] },
  { field: 'x', holds: 'length', names: ['station'] },
  { field: 'allowance', holds: 'share', names: ['growth'] },
  { field: 'std', holds: 'mass or share', names: ['u'] },
  { field: 'pieces', holds: 'count', names: ['qty'] },
];

function refusalOf(text: string): string {
  const table = readCsv(text);
  return table.ok ? 'taken' : `${table.refusal.line} ${table.refusal.refusal.code}`;
}

describe('text', () => {
  it.each([
    ['a,b\n1,2', ','],
    ['a;b\n1,5;2', ';'],
    ['a\tb\n1\t2', '\t'],
    ['"a;x;y",b\n1,2', ','],
    ['a\n1', ','],
  ])('[I1] the separator of %j is found from its headings', (text, separator) => {
    const table = readCsv(text);
    expect(table.ok && table.value.separator).toBe(separator);
  });

  it('[I2] lines count as an editor shows them, behind quoted line breaks and blank lines too', () => {
    const table = tableOf('\uFEFFa,b', '"one', 'two",1', '', ' , ', 'x,2');
    expect(table.rows.map(({ line }) => line)).toEqual([2, 6]);
    expect(table.heading).toEqual({ line: 1, cells: ['a', 'b'] });
    const windows = readCsv('\r\n\r\na,b\r\n1,2\r\n');
    expect(windows.ok && [windows.value.heading.line, windows.value.rows[0]?.line]).toEqual([3, 4]);
  });

  it('[I2] a quotation mark that is wrong is told with its line', () => {
    expect(refusalOf('a,b\n1,2\n"open,3\n4,5')).toBe('3 quote-not-closed');
    expect(refusalOf('a,b\n1,2\n5" rib,3')).toBe('3 quote-misplaced');
    expect(refusalOf('a,b\n"5"" rib",3')).toBe('taken');
  });

  it('[I2] a file without text, or with headings only, is refused', () => {
    expect([refusalOf(''), refusalOf(' \n\n'), refusalOf(',,\n , ,'), refusalOf('a,b\n,\n')]).toEqual([
      '1 file-empty',
      '1 file-empty',
      '1 file-empty',
      '1 no-rows',
    ]);
  });

  it('[I2] workbooks are known by their first bytes', () => {
    expect(isWorkbook(new Uint8Array([0x50, 0x4b, 3, 4, 9]))).toBe(true);
    expect(isWorkbook(new Uint8Array([0xd0, 0xcf, 0x11, 0xe0]))).toBe(true);
    expect(isWorkbook(new TextEncoder().encode('PK,b'))).toBe(false);
    expect(isWorkbook(new Uint8Array())).toBe(false);
  });

  it('[I2] what was written as CSV is read back cell by cell, with its lines', () => {
    const cell = fc.string({ unit: fc.constantFrom('a', '1', ',', ';', '"', '\n', ' ', 'ü') });
    const rows = fc.array(fc.tuple(cell, cell), { minLength: 1, maxLength: 6 });
    const writes = fc.property(rows, (drawn) => {
      const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`;
      const lines = drawn.map((row) => row.map(quoted).join(','));
      const table = readCsv(['x,y', ...lines].join('\n'));
      const full = drawn.filter((row) => row.some((text) => text.trim() !== ''));
      if (full.length === 0) expect(table.ok).toBe(false);
      else expect(table.ok && table.value.rows.map(({ cells }) => cells)).toEqual(full);
      let line = 2;
      const starts = lines.map((text) => {
        const start = line;
        line += text.split('\n').length;
        return start;
      });
      if (table.ok)
        expect(table.value.rows.map((row) => row.line)).toEqual(
          starts.filter((_, at) => full.includes(drawn[at] ?? ['', ''])),
        );
    });
    fc.assert(writes, { seed: 20_260_101, numRuns: 200 });
  });
});

describe('headings', () => {
  it('[I1] headings are matched in any order, case and spacing and under their usual names', () => {
    const table = tableOf('Station, GROSS_Weight ,colour,Part  Number', '1,2,red,P');
    const columns = matchColumns(table, FIELDS);
    expect(columns.problems).toEqual([]);
    expect(columns.unused).toEqual(['colour']);
    const [row] = table.rows;
    if (row === undefined) throw new Error('one row');
    expect(fieldsOfRow(row, columns)).toEqual({ x: '1', gross: '2', part: 'P' });
    expect(cellOf(row, 'gross', columns)).toEqual({ line: 2, column: 2, heading: 'GROSS_Weight' });
    expect(cellOf(row, 'pieces', columns)).toEqual({ line: 2, column: 0, heading: 'pieces' });
  });

  it.each([
    ['gross [lb]', 'gross', 'lb'],
    ['Gross (kg)', 'gross', 'kg'],
    ['gross weight, g', 'gross', 'g'],
    ['gross / oz', 'gross', 'oz'],
    ['gross_kg', 'gross', 'kg'],
    ['gross pounds', 'gross', 'lb'],
    ['station mm', 'x', 'mm'],
    ['x (inches)', 'x', 'in'],
    ['growth %', 'allowance', '%'],
    ['allowance [per cent]', 'allowance', '%'],
    ['u (%)', 'std', '%'],
    ['u (g)', 'std', 'g'],
  ])('[I1] "%s" gives %s its unit %s', (heading, field, unit) => {
    const table = tableOf(`"${heading}";z`, '1;2');
    const columns = matchColumns(
      table,
      FIELDS.map(({ required: _, ...one }) => one),
    );
    expect(columns.problems).toEqual([]);
    expect(columns.manner.units).toEqual({ [field]: unit });
  });

  it.each(['gross [mm]', 'gross [stone]', 'x (kg)', 'part [kg]', 'qty (kg)', 'growth [kg]'])(
    '[I2] the unit in "%s" does not suit it and is refused',
    (heading) => {
      const table = tableOf(`${heading},z`, '1,2');
      const columns = matchColumns(
        table,
        FIELDS.map(({ required: _, ...one }) => one),
      );
      expect(told(columns)).toEqual(['1:1 column-unit-unknown']);
    },
  );

  it('[I2] a missing and a doubled column are told with the headings that are there', () => {
    const columns = matchColumns(tableOf('part,no.,colour', 'a,b,c'), FIELDS);
    expect(told(columns)).toEqual(['1:2 column-twice', '1:0 column-missing']);
    expect(columns.problems[1]?.refusal).toEqual({
      code: 'column-missing',
      column: 'gross',
      found: ['part', 'no.', 'colour'],
    });
  });

  it('[I1] a heading of any wording can be named for a field, whatever words it ends in', () => {
    const table = tableOf('Teil Nummer,Gewicht Brutto,Lage [mm]', 'P,4 kg,7');
    const renamed = { part: 'teil nummer', gross: 'Gewicht Brutto', x: 'Lage [mm]' };
    const columns = matchColumns(table, FIELDS, renamed);
    expect(columns.problems).toEqual([]);
    expect([...columns.byField.keys()]).toEqual(['part', 'gross', 'x']);
    expect(columns.manner.units).toEqual({ x: 'mm' });
  });

  it('[I2] a heading that was named for a field and is not there is told, not passed over', () => {
    const columns = matchColumns(tableOf('part,gross,x', 'P,4 kg,1 m'), FIELDS, { x: 'Lage' });
    expect(columns.unused).toEqual(['x']);
    expect(columns.problems.map(({ refusal }) => refusal)).toMatchObject([{ code: 'column-missing', column: 'Lage' }]);
  });

  it.each([
    [['part;gross', 'P;1,25 kg'], true],
    [['part;gross', 'P;1,25 kg', 'Q;1.5 kg'], false],
    [['part,gross', 'P,"1,25 kg"'], false],
    [['part;gross', '1,2;3 kg'], false],
  ])('[I5] %j writes decimals with a comma: %s', (lines, decimalComma) => {
    expect(matchColumns(tableOf(...lines), FIELDS).manner.decimalComma).toBe(decimalComma);
  });

  it('[I2] problems are told in the order of their places', () => {
    const at = (line: number, column: number) => ({ line, column, heading: '' });
    expect([at(3, 1), at(2, 5), at(2, 0)].sort(byPlace)).toEqual([at(2, 0), at(2, 5), at(3, 1)]);
  });
});
