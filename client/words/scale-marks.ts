/** What speaks against the scale of a weighing (rules W1, W12), in words. */

import type { MarkReport } from '#shared/contract/drift.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';

export function marksWords(marks: readonly MarkReport[]): string {
  return say`⚠ Scale in doubt: ${marks.map(wordsOfMark).join('; ')}.`;
}

function wordsOfMark(mark: MarkReport): string {
  return mark.mark === 'calibration out of date'
    ? say`its calibration was out of date (due ${dayWords(mark.dueOn)})`
    : say`the check weight of ${dayWords(mark.checkedOn)} failed (entry ${mark.checkSeq})`;
}
