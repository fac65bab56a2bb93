/** What a check weight said, in plain words, and what to do about it. */

import type { ScaleReport } from '#shared/contract/drift.ts';
import type { EntryReport } from '#shared/contract/reports.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { passesCheck } from '#shared/weighing/scales.ts';
import { say } from '#shared/words/say.ts';
import type { Shown } from '../pieces/units.ts';
import { entriesInWords } from '../words/entries.ts';
import { rich } from '../words/rich.ts';

export type Check = { readonly seq: number; readonly statement: StatementOf<'check weight'> };

export function checkOf({ seq, entry }: EntryReport): Check | undefined {
  return entry.kind === 'check weight' ? { seq, statement: entry } : undefined;
}

export function CheckResult(props: {
  readonly check: Check;
  readonly scale: ScaleReport | undefined;
  readonly shown: Shown;
}) {
  const { seq, statement } = props.check;
  const { massWithUnit } = props.shown;
  const offKg = statement.shownKg - statement.referenceKg;
  const figures = say`${statement.typed['reference']} is shown as ${statement.typed['shown']}, ${massWithUnit(offKg, { sign: true })}; ±${massWithUnit(statement.limitKg)} is allowed.`;
  if (passesCheck(statement))
    return (
      <p className="notice good" role="status">
        {rich`${<strong>{say`● Passed.`}</strong>} ${figures} Entry ${seq}.`}
      </p>
    );
  const marked = (props.scale?.marked ?? []).filter(({ marks }) =>
    marks.some((mark) => mark.mark === 'check weight failed' && mark.checkSeq === seq),
  );
  const parts = [...new Set(marked.flatMap(({ part }) => part ?? []))];
  return (
    <div className="notice bad stack-tight" role="status">
      <p>{rich`${<strong>{say`▲ Failed.`}</strong>} ${figures} Entry ${seq}.`}</p>
      <p>
        {marked.length === 0
          ? say`No weighing has been made on it since the last check that passed.`
          : say`In doubt since the last check that passed: ${entriesInWords(marked.map((one) => one.seq))}. Parts: ${parts.join(', ')}.`}
      </p>
      <p>{say`Do not weigh on it until it has been put right and a check weight passes; weigh what is in doubt again.`}</p>
    </div>
  );
}
