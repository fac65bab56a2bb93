/**
 * A measure over the days of a brief, drawn as lines (rule B4): a band, its middle, what it is held against. Each line has its own dash, named with a
 * sample of it above the picture, so that the picture is read without colours.
 */

import { showFixed } from '#shared/quantity/show.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { axisOf } from './axis.ts';
import { minus } from './print-words.ts';
import { type Box, INK, type Picture, type Sheet, type TextStyle } from './sheet.ts';

export type Line = {
  readonly name: string;
  /** One for each day; nothing where it is not known. */
  readonly values: readonly (number | undefined)[];
  readonly colour: string;
  readonly dash?: readonly [on: number, off: number];
  readonly widthPt?: number;
  /** It keeps its value until the day of the next one: a target, and not a measure. */
  readonly isStep?: boolean;
};
export type Band = {
  readonly name: string;
  readonly low: readonly (number | undefined)[];
  readonly high: readonly (number | undefined)[];
  readonly colour: string;
};
export type TimePicture = {
  readonly title: string;
  /** What a person is told who does not see it. */
  readonly alt: string;
  readonly days: readonly string[];
  readonly bands: readonly Band[];
  readonly lines: readonly Line[];
};

const TITLE: TextStyle = { size: 8.5, weight: 'bold' };
const SMALL: TextStyle = { size: 7, colour: INK.soft };
const LEFT_PT = 34;
const BOTTOM_PT = 14;
const TITLE_PT = 14;
const SAMPLE_PT = 18;

export function timePicture(sheet: Sheet, picture: TimePicture): Picture {
  return { alt: `${picture.title}. ${picture.alt}`, draw: (box) => draw(sheet, picture, box) };
}

function draw(sheet: Sheet, { title, days, bands, lines }: TimePicture, box: Box): void {
  const { doc } = sheet;
  sheet.write(title, box, TITLE);
  const known = [...lines.map(({ values }) => values), ...bands.flatMap(({ low, high }) => [low, high])].map((values) =>
    values.filter((value) => value !== undefined),
  );
  const values = known.flat();
  if (values.length === 0) {
    sheet.write(say`Nothing to draw yet.`, { ...box, y: box.y + TITLE_PT + 4 }, SMALL);
    return;
  }
  const keyHeight = key(sheet, { bands, lines }, { ...box, y: box.y + TITLE_PT });
  const plot = {
    left: box.x + LEFT_PT,
    right: box.x + box.width - 4,
    top: box.y + TITLE_PT + keyHeight + 3,
    bottom: box.y + box.height - BOTTOM_PT,
  };
  const up = axisOf(values, plot.bottom, plot.top, 5);
  for (const mark of up.marks) {
    const y = up.at(mark);
    doc.moveTo(plot.left, y).lineTo(plot.right, y).lineWidth(0.4).stroke(INK.line);
    sheet.label(minus(showFixed(mark, up.decimals)), plot.left - 4, y - 4.5, { ...SMALL, align: 'right' });
  }
  const times = days.map((day) => Date.parse(day));
  const [start = 0, end = 0] = [times[0], times.at(-1)];
  // Of a single day the points lie in the middle.
  const x = (time: number) =>
    start === end
      ? (plot.left + plot.right) / 2
      : plot.left + ((time - start) / (end - start)) * (plot.right - plot.left);
  const xs = times.map(x);
  for (const { low, high, colour } of bands) drawBand(sheet, xs, low.map(upAt(up)), high.map(upAt(up)), colour);
  for (const line of lines) drawLine(sheet, xs, line.values.map(upAt(up)), line);
  const y = plot.bottom + 3;
  if (start === end) sheet.label(dayWords(days[0] ?? ''), x(start), y, { ...SMALL, align: 'center' });
  else {
    sheet.label(dayWords(days[0] ?? ''), plot.left, y, SMALL);
    sheet.label(dayWords(days.at(-1) ?? ''), plot.right, y, { ...SMALL, align: 'right' });
    const middle = new Date((start + end) / 2).toISOString().slice(0, 10);
    const wide = sheet.widthOf(middle, SMALL) * 4 < plot.right - plot.left;
    if (wide) sheet.label(middle, x(Date.parse(middle)), y, { ...SMALL, align: 'center' });
  }
}

function upAt({ at }: { readonly at: (value: number) => number }) {
  return (value: number | undefined) => (value === undefined ? undefined : at(value));
}

/** Samples with their names, in as many rows as they need; how high they are together. */
function key(sheet: Sheet, { bands, lines }: Pick<TimePicture, 'bands' | 'lines'>, { x, y, width }: Box): number {
  const rowPt = 10;
  let [atX, row] = [x, 0];
  const next = (name: string, sample: (sampleX: number, sampleY: number) => void) => {
    const needed = SAMPLE_PT + 3 + sheet.widthOf(name, SMALL) + 10;
    if (atX > x && atX + needed > x + width) [atX, row] = [x, row + 1];
    sample(atX, y + row * rowPt + 5);
    sheet.label(name, atX + SAMPLE_PT + 3, y + row * rowPt, SMALL);
    atX += needed;
  };
  for (const { name, colour } of bands)
    next(name, (sampleX, sampleY) => sheet.doc.rect(sampleX, sampleY - 3, SAMPLE_PT, 6).fill(colour));
  for (const line of lines)
    next(line.name, (sampleX, sampleY) =>
      stroke(sheet, line, () => sheet.doc.moveTo(sampleX, sampleY).lineTo(sampleX + SAMPLE_PT, sampleY)),
    );
  return (row + 1) * rowPt;
}

function stroke({ doc }: Sheet, { colour, dash, widthPt = 1.2 }: Line, path: () => void): void {
  doc.save().lineWidth(widthPt).lineJoin('round');
  if (dash !== undefined) doc.dash(dash[0], { space: dash[1] });
  path();
  doc.stroke(colour).restore();
}

type Heights = readonly (number | undefined)[];

function drawLine(sheet: Sheet, xs: readonly number[], heights: Heights, line: Line): void {
  const { doc } = sheet;
  for (const run of runsOf(xs, heights)) {
    const [first, ...rest] = run;
    if (first === undefined) continue;
    if (rest.length === 0) {
      doc.circle(first.x, first.y, 2).fill(line.colour);
      continue;
    }
    stroke(sheet, line, () => {
      doc.moveTo(first.x, first.y);
      let before = first;
      for (const point of rest) {
        if (line.isStep === true) doc.lineTo(point.x, before.y);
        doc.lineTo(point.x, point.y);
        before = point;
      }
    });
  }
}

function drawBand({ doc }: Sheet, xs: readonly number[], low: Heights, high: Heights, colour: string): void {
  const both = low.map((value, at) => (high[at] === undefined ? undefined : value));
  for (const run of runsOf(xs, both)) {
    const upper = run.map(({ x, at }) => ({ x, y: high[at] ?? 0 }));
    const [first] = upper;
    if (first === undefined) continue;
    doc.moveTo(first.x, first.y);
    for (const { x, y } of [...upper.slice(1), ...run.toReversed()]) doc.lineTo(x, y);
    doc.closePath().fillAndStroke(colour, colour);
  }
}

/** Unbroken stretches of days on which the value is known. */
function runsOf(xs: readonly number[], heights: Heights) {
  const runs: { readonly x: number; readonly y: number; readonly at: number }[][] = [[]];
  heights.forEach((y, at) => {
    const x = xs[at];
    if (y === undefined || x === undefined) runs.push([]);
    else runs.at(-1)?.push({ x, y, at });
  });
  return runs.filter((run) => run.length > 0);
}
