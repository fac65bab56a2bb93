/**
 * A brief as PDF (rule B4), made without a browser out of its kept content alone, with no clock and no chance: the same brief and paper make the
 * same bytes. Text is text, in a font that is in the file; pictures are lines.
 */

import type { Brief } from '#shared/contract/brief.ts';
import { say } from '#shared/words/say.ts';
import type { Paper } from '../file-kinds.ts';
import { firstPage, type Remark } from './first-page.ts';
import { driftLists, groupList, madeFrom, openList, proposalList } from './lists.ts';
import { hasMissing, toldIn } from './print-words.ts';
import { Sheet } from './sheet.ts';

export async function briefPdf(brief: Brief, paper: Paper): Promise<Uint8Array> {
  const { content, remarks } = brief;
  const sheet = new Sheet(brief, paper);
  const told = toldIn(content.aircraft);
  const remark: Remark = (subject) => {
    const words = remarks[subject];
    if (words === undefined || words === '') return;
    sheet.paragraph('P', `Remark${subject === 'all' ? '' : say` on ${subject}`}: ${words}`, { size: 9 }, 10);
  };
  firstPage(sheet, brief, told, remark);
  driftLists(sheet, content, told, remark);
  groupList(sheet, content, told);
  proposalList(sheet, content, told, remark);
  openList(sheet, content);
  madeFrom(sheet, brief);
  if (hasMissing(JSON.stringify(brief)))
    sheet.paragraph(
      'P',
      say`� stands for a sign that these pages have no font for. The workbook and the CSV file have it.`,
      {
        size: 7.5,
      },
    );
  return await sheet.finish();
}
