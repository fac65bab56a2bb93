/** A picture as a file: PNG and SVG, drawn anew with its title above and paper behind it, and its table as CSV. */

import { type ChartConfiguration, Chart as Drawing } from 'chart.js';
import { shownCell } from '#shared/table/shown-cell.ts';
import { say } from '#shared/words/say.ts';
import { saveFile, saveFrom } from '../pieces/save-file.ts';
import { quoted, SvgPen } from './svg-pen.ts';

export type Sheet = {
  readonly title: string;
  readonly summary: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly configure: () => ChartConfiguration;
};

/** Room for the title and a line of words above the picture, and around all of it. */
const HEAD_PX = 56;
const AIR_PX = 16;
/** A saved picture is printed, too. */
const SHARPNESS = 2;
const TITLE_FONT_PX = 17;

export function savePng(sheet: Sheet): void {
  const drawn = document.createElement('canvas');
  const drawing = drawOn(drawn, sheet, SHARPNESS);
  const paper = document.createElement('canvas');
  const pen = paper.getContext('2d');
  if (pen === null) return;
  paper.width = (sheet.widthPx + 2 * AIR_PX) * SHARPNESS;
  paper.height = (sheet.heightPx + HEAD_PX + AIR_PX) * SHARPNESS;
  const { card, ink, soft, family } = look();
  pen.fillStyle = card;
  pen.fillRect(0, 0, paper.width, paper.height);
  pen.scale(SHARPNESS, SHARPNESS);
  pen.fillStyle = ink;
  pen.font = `600 ${TITLE_FONT_PX}px ${family}`;
  pen.fillText(sheet.title, AIR_PX, 24, sheet.widthPx);
  pen.fillStyle = soft;
  pen.font = `13px ${family}`;
  pen.fillText(sheet.summary, AIR_PX, 44, sheet.widthPx);
  pen.drawImage(drawn, AIR_PX, HEAD_PX, sheet.widthPx, sheet.heightPx);
  drawing.destroy();
  saveFrom(paper.toDataURL('image/png'), `${sheet.title}.png`);
}

export function saveSvg(sheet: Sheet): void {
  const blob = new Blob([svgOf(sheet)], { type: 'image/svg+xml' });
  saveFile(`${sheet.title}.svg`, blob);
}

function svgOf(sheet: Sheet): string {
  const measure = document.createElement('canvas').getContext('2d');
  if (measure === null) return '';
  const canvas = document.createElement('canvas');
  const svg = new SvgPen(canvas, measure);
  // Chart.js asks its canvas for a pen, and draws with whichever it is given.
  Object.defineProperty(canvas, 'getContext', { value: () => svg });
  drawOn(canvas, sheet, 1).destroy();
  const { card, ink, soft, family } = look();
  const [width, height] = [sheet.widthPx + 2 * AIR_PX, sheet.heightPx + HEAD_PX + AIR_PX];
  return [
    say`<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img">`,
    `<title>${quoted(sheet.title)}</title>`,
    `<desc>${quoted(sheet.summary)}</desc>`,
    say`<rect width="100%" height="100%" fill="${card}"/>`,
    say`<g font-family="${quoted(family)}"><text x="${AIR_PX}" y="24" font-size="${TITLE_FONT_PX}" font-weight="600" fill="${ink}">${quoted(sheet.title)}</text>`,
    say`<text x="${AIR_PX}" y="44" font-size="13" fill="${soft}">${quoted(sheet.summary)}</text></g>`,
    `<g transform="translate(${AIR_PX} ${HEAD_PX})">`,
    svg.drawn,
    '</g>',
    '</svg>',
    '',
  ].join('\n');
}

function drawOn(canvas: HTMLCanvasElement, sheet: Sheet, devicePixelRatio: number): Drawing {
  canvas.width = sheet.widthPx;
  canvas.height = sheet.heightPx;
  const config = sheet.configure();
  // Lines that may change along their way are drawn stroke by stroke, and not as a path that only a browser can read.
  for (const line of config.data.datasets) if (config.type === 'line') Object.assign(line, { segment: {} });
  const options = { ...config.options, responsive: false, animation: false as const, devicePixelRatio };
  return new Drawing(canvas, { ...config, options });
}

function look() {
  const colour = (name: string) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  return {
    card: colour('--card'),
    ink: colour('--ink'),
    soft: colour('--ink-soft'),
    family: getComputedStyle(document.body).fontFamily,
  };
}

/** The table as it is read, with plain minus signs and an empty cell where nothing is known. */
export function saveCsv(title: string, table: HTMLTableElement | null): void {
  if (table === null) return;
  const rows = [...table.rows].map((row) => [...row.cells].map(({ textContent }) => shownCell(textContent)).join(','));
  // The mark at the beginning tells spreadsheets that it is UTF-8.
  saveFile(`${title}.csv`, new Blob([`\uFEFF${rows.join('\r\n')}\r\n`], { type: 'text/csv' }));
}
