/** One weighing that is not in line: how far it is off, what that does, why, and what was decided. */

import type { DriftReport } from '#shared/contract/drift.ts';
import { isFlagged } from '#shared/drift/part-drift.ts';
import { piecesText } from '#shared/rollup/describe-entry.ts';
import { say, term } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { Day } from '../pieces/day.tsx';
import { FlagWord } from '../pieces/flag-word.tsx';
import { percent, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { marksWords } from '../words/scale-marks.ts';
import { Facts } from './facts.tsx';

export function PartRow(props: {
  readonly finding: DriftReport;
  readonly shown: Shown;
  readonly onAct: ((what: 'decide' | 'cause', finding: DriftReport) => void) | undefined;
}) {
  const { finding, shown, onAct } = props;
  const { massWithUnit, cgEffect } = shown;
  const name = piecesText(finding.number, finding.pieces, finding.quantity);
  const each = finding.pieces.length === 1 ? '' : say` each`;
  const share = finding.differenceFraction;
  const decideWords = finding.disposition === undefined ? say`Decide` : say`Decide anew`;
  const causeWords = finding.cause === undefined ? say`State the cause` : say`Change the cause`;
  return (
    <li className="finding">
      <div className="finding-what">
        <p>
          <strong>{name}</strong> {finding.name}
        </p>
        <p className="finding-flag">
          <FlagWord flag={finding.flag} />
        </p>
        <p className="soft small">
          {rich`${finding.group}, ${term(finding.process)} · ${term(finding.condition)} on ${<Day of={finding.weighedOn} />} · entry ${finding.weighingSeq}`}
        </p>
        {finding.marks.length === 0 ? null : <p className="doubt small">{marksWords(finding.marks)}</p>}
      </div>
      <Facts
        facts={[
          {
            name: say`difference`,
            value: `${massWithUnit(finding.differenceKg, { sign: true })}${each}${share === undefined ? '' : `, ${percent(share, { sign: true })}`}`,
          },
          { name: say`effect on margin`, value: massWithUnit(finding.marginEffectKg, { sign: true }) },
          {
            name: say`effect on CG`,
            value: cgEffect(finding.cgEffectM),
          },
        ]}
      />
      <Facts
        facts={[
          {
            name: say`cause`,
            value: term(finding.cause) ?? (isFlagged(finding.flag) ? <em>{say`not stated`}</em> : '–'),
          },
          { name: say`decision`, value: decisionOf(finding) },
        ]}
      />
      {onAct === undefined ? null : (
        <div className="finding-acts no-print">
          <Button slim onPress={() => onAct('decide', finding)} aria-label={say`${decideWords} on ${name}`}>
            {decideWords}
          </Button>
          <Button slim kind="quiet" onPress={() => onAct('cause', finding)} aria-label={say`${causeWords} of ${name}`}>
            {causeWords}
          </Button>
        </div>
      )}
    </li>
  );
}

/** What is only to be watched asks for no decision. */
export function decisionOf({ disposition, decidedBy, flag }: Pick<DriftReport, 'disposition' | 'decidedBy' | 'flag'>) {
  if (disposition === undefined) return isFlagged(flag) ? <em>{say`open`}</em> : '–';
  return `${term(disposition)}${decidedBy === undefined ? '' : `, ${decidedBy}`}`;
}
