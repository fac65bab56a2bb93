/**
 * A brief as a workbook (rule B4): a sheet for each of its tables, numbers as numbers in a format that suits their unit, days as days, and text as
 * text, whatever it begins with. The caution and what it stands for are in the first row, frozen above the headings. The same brief makes the
 * same bytes.
 */
import { type Unzipped, unzipSync, type Zippable, zipSync } from 'fflate';
import writeWorkbook, { type Sheet, type Cell as SheetCell } from 'write-excel-file/node';
import { stampOf, titleOf } from '#shared/brief/standing.ts';
import { briefTables } from '#shared/brief/tables/all.ts';
import type { BriefTable, Cell, NumberKind, Units } from '#shared/brief/tables/table.ts';
import type { Brief } from '#shared/contract/brief.ts';
import { CG_CHANGE_DECIMALS, LENGTH_DECIMALS, MASS_DECIMALS } from '#shared/quantity/show.ts';

export async function briefXlsx(brief: Brief): Promise<Uint8Array> {
  const { aircraft, cautions } = brief.content;
  const top = [stampOf(brief), titleOf(brief), cautions[0]].filter((words) => words !== undefined).join(' · ');
  const sheets = briefTables(brief).map((table) => sheetOf(table, top, aircraft));
  return withoutTimes(await writeWorkbook(sheets, { fontFamily: 'Calibri', fontSize: 11 }).toBuffer());
}

/** Caution and headings stay in sight. */
const FROZEN_ROWS = 2;

function sheetOf({ name, headings, rows, note }: BriefTable, top: string, units: Units): Sheet<never> {
  const plain = (words: string): SheetCell => ({ value: words, type: String });
  return {
    sheet: name,
    data: [
      [{ value: top, type: String, fontWeight: 'bold' }],
      headings.map((heading) => ({ ...HEADING, value: heading, type: String })),
      ...rows.map((cells) => cells.map((cell) => sheetCell(cell, units))),
      ...(rows.length === 0 ? [[plain('none')]] : []),
      ...(note === undefined ? [] : [[plain(note)]]),
    ],
    columns: headings.map((heading, at) => ({ width: widthOf(heading, rows, at) })),
    stickyRowsCount: FROZEN_ROWS,
    dateFormat: DAY_FORMAT,
  } satisfies Sheet<never>;
}

const DAY_FORMAT = 'yyyy-mm-dd';
const HEADING = { fontWeight: 'bold', wrap: true, alignVertical: 'top', bottomBorderStyle: 'thin' } as const;

function sheetCell(cell: Cell, units: Units): SheetCell {
  if (cell === undefined) return null;
  if (cell.kind === 'text')
    return { value: cell.text, type: String, wrap: cell.text.length > WIDEST, alignVertical: 'top' };
  if (cell.kind === 'day') return { value: new Date(`${cell.day}T00:00:00Z`), type: Date, format: DAY_FORMAT };
  return { value: cell.value, type: Number, format: formatOf(cell.kind, units) };
}

function formatOf(kind: NumberKind, { massUnit, lengthUnit }: Units): string {
  const decimals: Readonly<Record<NumberKind, number>> = {
    mass: MASS_DECIMALS[massUnit],
    station: LENGTH_DECIMALS[lengthUnit],
    'CG change': CG_CHANGE_DECIMALS[lengthUnit],
    moment: MASS_DECIMALS[massUnit],
    'per cent': 1,
    count: 0,
  };
  return decimals[kind] === 0 ? '0' : `0.${'0'.repeat(decimals[kind])}`;
}

const NARROWEST = 10;
const WIDEST = 60;
/** Headings are wrapped, so that a long one does not widen its figures. */
const WIDEST_HEADING = 14;

/** In characters, as workbooks count widths. */
function widthOf(heading: string, rows: BriefTable['rows'], at: number): number {
  const texts = rows.map((cells) => {
    const cell = cells[at];
    return cell?.kind === 'text' ? cell.text.length + 2 : 0;
  });
  return Math.min(WIDEST, Math.max(NARROWEST, Math.min(WIDEST_HEADING, heading.length + 2), ...texts));
}

/** The library stamps the files in the archive with the time of day: the first day that an archive can say is put in its place. */
function withoutTimes(bytes: Uint8Array): Uint8Array {
  const files: Unzipped = unzipSync(bytes);
  const mtime = new Date(1980, 0, 1);
  const timeless: Zippable = Object.fromEntries(
    Object.entries(files)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([name, content]) => [name, [content, { mtime }]]),
  );
  return zipSync(timeless);
}
