/** A brief as CSV (rule B4): the tables of a brief, and the one text made of them. */
import { describe, expect, it } from 'vitest';
import { briefCsv } from '#shared/brief/csv.ts';
import { fileNameOf } from '#shared/brief/standing.ts';
import { briefTables } from '#shared/brief/tables/all.ts';
import type { Brief } from '#shared/contract/brief.ts';
import { MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { readRows } from '#shared/table/csv.ts';
import { harmless } from '#shared/table/formula-text.ts';
import { draftOf, emptyContent, fullContent, issuedOf, NAMES } from './sample-briefs.ts';

const full = fullContent();

/** The rows of each table as a reader of CSV has them, by the name in the first column; `headings` under `table`. */
function tablesIn(brief: Brief): ReadonlyMap<string, readonly Readonly<Record<string, string>>[]> {
  const read = readRows(briefCsv(brief));
  if (!read.ok) throw new Error(JSON.stringify(read.refusal));
  expect(read.value.separator).toBe(',');
  const tables = new Map<string, Record<string, string>[]>();
  let headings: readonly string[] = [];
  for (const { cells } of read.value.rows) {
    const [name = '', ...rest] = cells;
    if (name === 'table') headings = rest;
    else
      tables.set(name, [...(tables.get(name) ?? []), Object.fromEntries(headings.map((h, at) => [h, rest[at] ?? '']))]);
  }
  return tables;
}

describe('a brief as CSV', () => {
  it('[B4] is led by the name of its table in every row, and has every figure of the brief to a millionth', () => {
    const tables = tablesIn(draftOf(full));
    const growth = tables.get('growth') ?? [];
    expect(growth).toHaveLength(full.days.length);
    growth.forEach((row, at) => {
      expect(row['day']).toBe(full.days[at]?.day);
      expect(Number(row['forecast [kg]'])).toBeCloseTo(full.days[at]?.forecastKg ?? Number.NaN, 6);
    });
    const parts = tables.get('parts') ?? [];
    expect(parts).toHaveLength(full.drift.parts.count);
    expect(Number(parts[0]?.['difference [kg]'])).toBeCloseTo(full.drift.parts.rows[0]?.differenceKg ?? Number.NaN, 6);
    const causes = (tables.get('bridge') ?? []).filter((row) => row['by'] === 'cause');
    const change = causes.reduce((sum, row) => sum + Number(row['change of the predicted weight [kg]']), 0);
    expect(change).toBeCloseTo(full.to.predictedKg - full.from.predictedKg, 4);
  });

  it('[B4] says that it is a draft, or who issued it when and from what, and carries the cautions', () => {
    const about = (brief: Brief) =>
      (tablesIn(brief).get('about') ?? []).map((row) => `${row['what']}: ${row['words']}`);
    expect(about(draftOf(full))).toContain('state: DRAFT');
    const issued = about(issuedOf(full, { growth: 'slower now' }));
    expect(issued.join('\n')).toMatch(
      /state: issued\nstanding: Brief 3, issued by Zoë at 2026-07-01 09:30 UTC; made by AB on 2026-06-30/,
    );
    expect(issued).toEqual(expect.arrayContaining(full.cautions.map((words) => `caution: ${words}`)));
    expect(issued).toContain(`hash of that entry: ${'0'.repeat(64)}`);
    expect(issued).toContain('remark on growth: slower now');
  });

  it('[B4] tells what drifts by part, process and assembly, each with its cause and owner', () => {
    const tables = tablesIn(draftOf(full));
    expect(tables.get('parts')?.map((row) => row['owner'])).toEqual(
      expect.arrayContaining(['Ann (decided)', 'nobody']),
    );
    expect(tables.get('processes')?.[0]).toMatchObject({
      ...{ process: 'prepreg', runs: 'heavy', cause: 'resin-rich', owner: 'Iñés (stated the cause)' },
      'what was found': "'@vacuum bag leaked",
    });
    expect(tables.get('assemblies')?.[0]).toMatchObject({ part: 'P-800', decision: 'not decided' });
    expect(tables.get('proposals')).toHaveLength(2);
  });

  it('[B4] has figures in the units of the aircraft, and the units in the headings', () => {
    const pounds = fullContent({ aircraft: { massUnit: 'lb', lengthUnit: 'in' } });
    const [last] = (tablesIn(draftOf(pounds)).get('growth') ?? []).slice(-1);
    expect(Number(last?.['predicted [lb]'])).toBeCloseTo(pounds.to.predictedKg / MASS_UNIT_KG.lb, 5);
    expect(tablesIn(draftOf(pounds)).get('CG')?.at(-1)).toHaveProperty('CG x, predicted [in]');
  });

  it('[B4] keeps text that a spreadsheet would work out as text, and numbers below nought as numbers', () => {
    const tables = tablesIn(draftOf(full, { all: '\t=HYPERLINK("x")' }));
    const names = (tables.get('parts') ?? []).map((row) => row['name']);
    expect(names).toContain("'=1+2");
    expect(tables.get('proposals')?.[0]?.['proposal']).toBe("'-Lighter cores");
    expect(tables.get('about')?.at(-1)?.['words']).not.toMatch(/^\s*=/);
    const cells = briefCsv(draftOf(full)).split(/[,\r\n]+/);
    expect(cells.filter((cell) => /^"?\s*[=+@]/.test(cell))).toEqual([]);
    expect(cells.filter((cell) => /^-/.test(cell)).every((cell) => /^-\d+(\.\d+)?$/.test(cell))).toBe(true);
    expect(cells.some((cell) => /^-\d/.test(cell))).toBe(true);
    for (const text of ['=1', '+1', '-1', '@a', ' =1', '\u00a0=1', '\t@a', '\r+1', '＝1'])
      expect(harmless(text)).toBe(`'${text}`);
    for (const text of ['a=1', '3 - 2', 'Π', '']) expect(harmless(text)).toBe(text);
  });

  it('[B4] keeps names of every script', () => {
    const text = briefCsv(draftOf(full));
    expect(text.startsWith('\uFEFFtable,what,words\r\n')).toBe(true);
    for (const name of NAMES.slice(1, 5)) expect(text).toContain(name);
  });

  it('[B4] has all its tables also where there is nothing in them, and says where rows are left out', () => {
    const empty = draftOf(emptyContent());
    expect([...tablesIn(empty).keys()]).toEqual(briefTables(empty).map(({ name }) => name));
    expect(tablesIn(empty).get('parts')).toEqual([expect.objectContaining({ part: 'none' })]);
    const crowded = draftOf(fullContent({ drifting: 60 }));
    expect(tablesIn(crowded).get('parts')?.at(-1)?.['part']).toBe('The 40 largest of 60.');
  });

  it('[B4] its file is named after the aircraft and its number', () => {
    expect(fileNameOf(issuedOf(full), 'csv')).toBe('brief-3-test-bird.csv');
    expect(fileNameOf(issuedOf(full), 'pdf', 'letter')).toBe('brief-3-test-bird-letter.pdf');
    const named = { ...full, aircraft: { ...full.aircraft, name: ' ../Crème "Brûlée"\n' } };
    expect(fileNameOf(draftOf(named), 'pdf')).toBe(`brief-draft-entry-${full.to.seq}-creme-brulee.pdf`);
    const greek = { ...full, aircraft: { ...full.aircraft, name: 'Πέλαγος' } };
    expect(fileNameOf(issuedOf(greek), 'pdf')).toBe('brief-3.pdf');
  });
});
