/** What is proposed for cells that were brought, and the list that is made of them once every column is settled. */
import { describe, expect, it } from 'vitest';
import { fieldOfHeading } from '#shared/table/columns.ts';
import { readRows } from '#shared/table/csv.ts';
import { type Grid, missingFields, proposed, sentOf, unitChoice, unusedIn, usesOf } from '#shared/table/grid.ts';
import { looksLike, unusedWords } from '#shared/table/look-alike.ts';
import { importParts, PARTS_COLUMNS } from '#shared/table/parts-file.ts';
import { contextOf, told } from './tables.ts';

function gridOf(...lines: string[]): Grid {
  const read = readRows(lines.join('\n'), 20);
  if (!read.ok) throw new Error(read.refusal.refusal.code);
  return { ...read.value, marks: new Map() };
}

describe('headings', () => {
  it.each([
    ['Desc.', 'name', undefined],
    ['Section', 'group', undefined],
    ['m est [g]', 'estimate', 'g'],
    ['Est. wt (lb)', 'estimate', 'lb'],
    ['[kg] mass', 'estimate', 'kg'],
    ['x [mm] arm', 'x', 'mm'],
    ['X cm', 'x', 'cm'],
    ['Bauteil/Item', 'number', undefined],
    ['Planned / mass [g]', 'estimate', 'g'],
    ['Part No.', 'number', undefined],
    ['No. off', 'quantity', undefined],
    ['No off', 'quantity', undefined],
    ['Qty. off', 'quantity', undefined],
  ])('[I1] "%s" is a usual heading', (heading, field, unit) => {
    expect(fieldOfHeading(heading, PARTS_COLUMNS)).toEqual({ field, unit });
  });

  it('[I1] a shop’s heading means what it is nearest to where no other column does', () => {
    const fields = (...headings: string[]) => usesOf('parts', headings).map(({ field }) => field);
    expect(fields('Part No.', 'Planned wt. (kg)', 'Arm aft of datum (mm)', '± %', '+/- %')).toEqual([
      ...['number', 'estimate', 'x', 'std uncertainty'],
      undefined,
    ]);
    expect(fields('Planned mass [kg]', 'Est. mass [kg]')).toEqual([undefined, 'estimate']);
    expect(unitChoice('parts', 'Planned wt. (kg)', { field: 'estimate', unit: undefined }).stated).toBe('kg');
    expect(unitChoice('parts', '± %', { field: 'std uncertainty', unit: undefined }).stated).toBe('%');
    expect(unitChoice('parts', 'Arm aft of datum (mm)', { field: 'x', unit: undefined }).stated).toBe('mm');
  });

  it('[I2] columns that are not used are told, with what they look like, and empty ones are not', () => {
    const grid = gridOf('part no;group;Target [kg];Qty as drawn;Status;Spare', 'A;wing;1,5;2;open;');
    const { headings, open } = unusedIn(grid, proposed(grid.rows));
    expect(unusedWords(headings, open)).toBe(
      'Target [kg] (looks like the estimate), Qty as drawn (looks like the quantity), Status',
    );
    expect(looksLike('Target [kg]', new Set(['x']))).toBeUndefined();
  });

  it('[I1] a heading of two words that mean different things means neither', () => {
    expect(fieldOfHeading('number/name', PARTS_COLUMNS)).toBeUndefined();
    expect(fieldOfHeading('mass (of what?)', PARTS_COLUMNS)).toEqual({ field: 'estimate', unit: undefined });
  });
});

describe('a grid', () => {
  it('[I1] the list and its headings are found, also below a title', () => {
    expect(proposed(gridOf('number;group', 'A;wing').rows)).toMatchObject({ kind: 'parts', headingAt: 0 });
    const titled = gridOf('Curlew, all parts', 'rev C', 'part no;group;estimate [kg];x [m]', 'A;wing;1,5;2');
    expect(titled.separator).toBe(';');
    expect(proposed(titled.rows)).toMatchObject({ kind: 'parts', headingAt: 2 });
    expect(proposed(gridOf('part\tgross [kg]\tcondition', 'A\t1\ttrimmed').rows)).toMatchObject({ kind: 'weighings' });
    expect(proposed(gridOf('target,value', 'empty mass,9 kg').rows)).toMatchObject({ kind: 'targets' });
    expect(missingFields(proposed(gridOf('Sachnr,Baugruppe', 'A,wing').rows))).toEqual(['number', 'group']);
  });

  it('[I1] of two columns of one field the second is left for somebody to decide', () => {
    const fields = usesOf('parts', ['number', 'part no', '', 'weight']).map(({ field }) => field);
    expect(fields).toEqual(['number', undefined, undefined, 'estimate']);
  });

  it('[I1] a unit is offered where a column holds a quantity, and known where the heading says it', () => {
    const use = (field: string) => ({ field, unit: undefined });
    expect(unitChoice('parts', 'estimate', use('estimate'))).toEqual({
      units: ['kg', 'g', 'lb', 'oz'],
      stated: undefined,
    });
    expect(unitChoice('parts', 'geplant [g]', use('estimate')).stated).toBe('g');
    expect(unitChoice('parts', 'planned in stone', use('estimate')).stated).toBeUndefined();
    expect(unitChoice('parts', 'Sachnr', use('number')).units).toEqual([]);
  });

  it('[I1] columns matched by hand, with their units, are read as if the headings had said so', () => {
    const grid = gridOf('Liste', 'Sachnr\tWas\tBaugruppe\tMasse\tOrt', 'A\tx\twing\t1500\t2', 'B\tx\ttail\t900\t7');
    const uses = ['number', undefined, 'group', 'estimate', 'x'].map((field) => ({
      field,
      unit: field === 'estimate' ? 'g' : field === 'x' ? 'm' : undefined,
    }));
    const { list, columnOf } = sentOf(grid, { kind: 'parts', headingAt: 1, uses, decimalComma: undefined });
    expect(list.rows?.[0]).toEqual([2, ['Sachnr', 'Baugruppe', 'Masse [g]', 'Ort [m]']]);
    expect([1, 2, 3, 4, 5].map(columnOf)).toEqual([0, 2, 3, 4, undefined]);
    const [heading, ...rows] = (list.rows ?? []).map(([line, cells]) => ({ line, cells }));
    if (heading === undefined) throw new Error('there are headings');
    const outcome = importParts({ separator: '\t', heading, rows }, contextOf(), list.columns);
    expect(told(outcome)).toEqual([]);
    expect(outcome.entries[1]).toMatchObject({ massKg: 1.5, xM: 2, typed: { estimate: '1500 g', x: '2 m' } });
  });

  it('[I2] cells beyond the headings go along and are told at their place', () => {
    const grid = gridOf('number,note,group', 'A,left, right,wing');
    const { list, columnOf } = sentOf(grid, proposed(grid.rows));
    const [heading, ...rows] = (list.rows ?? []).map(([line, cells]) => ({ line, cells }));
    if (heading === undefined) throw new Error('there are headings');
    const { problems } = importParts({ separator: '\t', heading, rows }, contextOf(), list.columns);
    expect(problems.map(({ refusal, column }) => [refusal.code, columnOf(column)])).toEqual([['cells-too-many', 3]]);
  });

  it('[I5] what the separator said of commas goes along with the cells', () => {
    const commaOf = (...lines: string[]) => {
      const grid = gridOf(...lines);
      return sentOf(grid, proposed(grid.rows)).list.decimalComma;
    };
    expect(commaOf('number;group;estimate [kg]', 'A;wing;1,234')).toBe(true);
    expect(commaOf('number;group;estimate [kg]', 'A;wing;1,234', 'B;wing;1.5')).toBe(false);
    expect(commaOf('number,group,estimate [kg]', 'A,wing,"1,234"')).toBe(false);
    expect(commaOf('number\tgroup\testimate [kg]', 'A\twing\t1,234')).toBeUndefined();
  });

  it('[I5] a day is read in the order that somebody stated, and in none by itself', () => {
    const grid = gridOf('part\tgross [kg]\tcondition\tdate', 'A\t1\ttrimmed\t5.4.2026', 'B\t1\ttrimmed\t2026-04-06');
    const days = (dayOrder: 'day first' | 'month first' | undefined) =>
      (sentOf(grid, { ...proposed(grid.rows), dayOrder }).list.rows ?? []).slice(1).map(([, cells]) => cells[3]);
    expect(days(undefined)).toEqual(['5.4.2026', '2026-04-06']);
    expect(days('day first')).toEqual(['2026-04-05', '2026-04-06']);
    expect(days('month first')).toEqual(['2026-05-04', '2026-04-06']);
  });
});
