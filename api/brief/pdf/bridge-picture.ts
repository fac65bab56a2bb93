/** What took the predicted weight from one entry to another, cause by cause (rule B4): each bar begins where the one before it ended. */

import { causeName } from '#shared/brief/tables/changes.ts';
import type { BriefContent } from '#shared/contract/brief.ts';
import { wholeNg } from '#shared/quantity/exact.ts';
import { say } from '#shared/words/say.ts';
import type { Told } from './print-words.ts';
import { type Box, INK, type Picture, type Sheet, type TextStyle } from './sheet.ts';

const TITLE: TextStyle = { size: 8.5, weight: 'bold' };
const SMALL: TextStyle = { size: 7 };
const BAR_PT = 11;
const TITLE_PT = 16;
const FIGURE_PT = 44;

/** Causes that move no mass are in the files, not in the picture. */
function shown({ causes }: BriefContent['bridge']) {
  return causes.filter(({ massKg }) => wholeNg(massKg) !== 0);
}

export function bridgeHeight({ bridge }: Pick<BriefContent, 'bridge'>): number {
  return TITLE_PT + (shown(bridge).length + 2) * BAR_PT + 4;
}

export function bridgePicture(sheet: Sheet, content: BriefContent, told: Told): Picture {
  const { from, to, bridge } = content;
  const causes = shown(bridge);
  const changes = causes.map((effect) => `${causeName(effect)} ${told.massChange(effect.massKg)}`);
  const title = say`Change of the predicted empty weight by cause, ${told.massUnit}`;
  const words = causes.length === 0 ? say`no cause moved it` : changes.join(', ');
  return {
    alt: say`${title}. From ${told.mass(from.predictedKg)} at entry ${from.seq} to ${told.mass(to.predictedKg)} at entry ${to.seq}: ${words}.`,
    draw: (box) => {
      sheet.write(title, box, TITLE);
      drawBars(sheet, content, told, { ...box, y: box.y + TITLE_PT });
    },
  };
}

function drawBars(sheet: Sheet, { from, to, bridge }: BriefContent, told: Told, box: Box): void {
  const causes = shown(bridge);
  const names = [say`entry ${from.seq}`, ...causes.map(causeName), say`entry ${to.seq}`];
  const nameWidth = Math.min(box.width * 0.4, Math.max(...names.map((name) => sheet.widthOf(name, SMALL))) + 6);
  const [left, right] = [box.x + nameWidth, box.x + box.width - FIGURE_PT];
  const ends = [0];
  for (const { massKg } of causes) ends.push((ends.at(-1) ?? 0) + massKg);
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const x = (massKg: number) =>
    high > low ? left + ((massKg - low) / (high - low)) * (right - left) : (left + right) / 2;
  const row = (at: number, name: string, figure: string, style: TextStyle) => {
    const y = box.y + at * BAR_PT;
    sheet.label(name, box.x, y, style);
    sheet.label(figure, box.x + box.width, y, { ...style, align: 'right' });
    return y;
  };
  const bold: TextStyle = { ...SMALL, weight: 'bold' };
  row(0, say`entry ${from.seq}`, told.mass(from.predictedKg), bold);
  causes.forEach((effect, at) => {
    const y = row(at + 1, causeName(effect), told.massChange(effect.massKg), SMALL);
    const [start, end] = [x(ends[at] ?? 0), x(ends[at + 1] ?? 0)];
    drawBar(sheet, Math.min(start, end), y + 1.5, Math.max(0.6, Math.abs(end - start)), effect.massKg > 0);
    sheet.doc
      .moveTo(end, y + 1.5)
      .lineTo(end, y + BAR_PT + 1.5)
      .lineWidth(0.4)
      .stroke(INK.line);
  });
  row(causes.length + 1, say`entry ${to.seq}`, told.mass(to.predictedKg), bold);
}

/** Full where mass was added, hollow where it was taken off. */
function drawBar({ doc }: Sheet, x: number, y: number, width: number, isAdded: boolean): void {
  doc.rect(x, y, width, BAR_PT - 4).lineWidth(0.8);
  if (isAdded) doc.fillAndStroke(INK.text, INK.text);
  else doc.stroke(INK.text);
}
