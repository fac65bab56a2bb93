/** What speaks against the scale of a weighing (rules W1, W12), in words. */
import type { MarkReport } from '#shared/contract/drift.ts';

export function marksWords(marks: readonly MarkReport[]): string {
  return `⚠ Scale in doubt: ${marks.map(wordsOfMark).join('; ')}.`;
}

function wordsOfMark(mark: MarkReport): string {
  return mark.mark === 'calibration out of date'
    ? `its calibration was out of date (due ${mark.dueOn})`
    : `the check weight of ${mark.checkedOn} failed (entry ${mark.checkSeq})`;
}
