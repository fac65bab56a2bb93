/** A brief as a workbook (rule B4), read back by the library that reads what people bring. */
import { strFromU8, unzipSync } from 'fflate';
import readWorkbook from 'read-excel-file/universal';
import { describe, expect, it, vi } from 'vitest';
import { briefXlsx } from '#api/brief/xlsx.ts';
import { briefTables } from '#shared/brief/tables/all.ts';
import type { Brief } from '#shared/contract/brief.ts';
import { draftOf, emptyContent, fullContent, issuedOf } from '../../shared/brief/sample-briefs.ts';

const full = fullContent();

async function sheetsOf(brief: Brief) {
  const bytes = await briefXlsx(brief);
  const sheets = await readWorkbook(new Uint8Array(bytes).buffer, { trim: false });
  return new Map(sheets.map(({ sheet, data }) => [sheet, data]));
}

describe('a brief as a workbook', () => {
  it('[B4] has a sheet for each subject with numbers, days and words as such, units in the headings', async () => {
    const brief = draftOf(full);
    const sheets = await sheetsOf(brief);
    expect([...sheets.keys()]).toEqual(briefTables(brief).map(({ name }) => name));
    const [, headings, first] = sheets.get('growth') ?? [];
    expect(headings).toEqual([
      'day',
      ...['predicted', 'forecast', 'nine in ten from', 'nine in ten to', 'target'].map((h) => `${h} [kg]`),
    ]);
    const [day] = full.days;
    expect(first?.[0]).toEqual(new Date(`${day?.day}T00:00:00.000Z`));
    expect(first?.[1]).toBeCloseTo(day?.predictedKg ?? Number.NaN, 9);
    const [, partHeadings = [], ...parts] = sheets.get('parts') ?? [];
    const margin = parts[0]?.[partHeadings.indexOf('effect on the margin [kg]')];
    expect(margin).toBeCloseTo(full.drift.parts.rows[0]?.marginEffectKg ?? Number.NaN, 9);
    expect(margin).toBeLessThan(0);
  });

  it('[B4] keeps words that begin like a formula as words, and holds no formula', async () => {
    const brief = draftOf(full, { all: '=1+2' });
    const sheets = await sheetsOf(brief);
    expect(sheets.get('parts')?.flat()).toContain('=1+2');
    expect(sheets.get('parts')?.flat()).toContain('+49 rib');
    expect(sheets.get('proposals')?.flat()).toContain('-Lighter cores');
    expect(sheets.get('about')?.flat()).toContain('=1+2');
    const files = unzipSync(await briefXlsx(brief));
    for (const [name, content] of Object.entries(files))
      if (name.includes('sheet')) expect(strFromU8(content)).not.toMatch(/<f[ >]/);
  });

  it('[B4] has state and caution in its first row, frozen with the headings, and a format for every number', async () => {
    const [top] = (await sheetsOf(draftOf(full))).get('groups') ?? [];
    expect(top?.[0]).toBe(`DRAFT · Test bird: brief at entry ${full.to.seq} · ${full.cautions[0]}`);
    const [issuedTop] = (await sheetsOf(issuedOf(full))).get('groups') ?? [];
    expect(issuedTop?.[0]).toBe(`Test bird: brief 3 at entry ${full.to.seq} · ${full.cautions[0]}`);
    const files = unzipSync(await briefXlsx(draftOf(full)));
    const sheet = strFromU8(files['xl/worksheets/sheet3.xml'] ?? new Uint8Array());
    expect(sheet).toMatch(/<pane[^>]*ySplit="2"[^>]*state="frozen"/);
    expect(sheet).toMatch(/<col [^>]*width="1\d/);
    const styles = strFromU8(files['xl/styles.xml'] ?? new Uint8Array());
    for (const format of ['0.000', 'yyyy-mm-dd', '0.0']) expect(styles).toContain(`formatCode="${format}"`);
  });

  it('[B4] comes out the same byte for byte on any day, and stands without anything in it', async () => {
    const today = await briefXlsx(issuedOf(full));
    vi.useFakeTimers({ now: Date.parse('2031-02-03T04:05:06Z'), toFake: ['Date'] });
    const later = await briefXlsx(issuedOf(full)).finally(() => vi.useRealTimers());
    expect(Buffer.compare(today, later)).toBe(0);
    const sheets = await sheetsOf(draftOf(emptyContent()));
    expect(sheets.get('parts')?.[2]).toContain('none');
  });
});
