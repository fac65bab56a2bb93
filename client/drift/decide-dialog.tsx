/** What becomes of a piece that was flagged (rule W11). A light one is not accepted without a word of inspection. */

import { useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { Disposition } from '#shared/ledger/entry.ts';
import { piecesText } from '#shared/rollup/describe-entry.ts';
import { say, term } from '#shared/words/say.ts';
import { Button, Choice, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { shownIn } from '../pieces/units.ts';
import { useDraft } from '../record/draft.ts';
import { useRecord } from '../record/use-record.ts';
import { type Decided, FindingLine } from './finding-line.tsx';

const DECISIONS = Disposition.options.map((value) => ({ value, words: term(value) }));

export function DecideDialog(props: {
  readonly aircraft: AircraftReport;
  readonly finding: Decided;
  readonly onRecorded: (recorded: RecordedReport) => void;
  readonly onClose: () => void;
}) {
  const { finding } = props;
  const piece = finding.pieces.join(', ');
  const draft = useDraft(`${props.aircraft.id} decide ${finding.weighingSeq} ${piece}`, () => ({}));
  const record = useRecord(props.aircraft, (recorded) => {
    draft.forget();
    props.onRecorded(recorded);
  });
  const [isIncomplete, setIncomplete] = useState(false);
  const decision = Disposition.options.find((one) => one === draft.form['decision']);
  const inspection = draft.form['inspection'] ?? '';
  const isLight = finding.flag.endsWith('light');
  const needsWord = isLight && decision === 'accepted';
  const refusal = record.refusal(['/decision', '/inspection']);
  const send = () => {
    if (decision === undefined) return setIncomplete(true);
    record.send({
      id: draft.id,
      kind: 'disposition',
      part: finding.number,
      piece,
      decision,
      ...(inspection.trim() === '' ? {} : { inspection }),
    });
  };
  return (
    <Dialog
      title={say`Decide on ${piecesText(finding.number, finding.pieces, finding.quantity)}`}
      isOpen
      isForm
      onClose={props.onClose}
    >
      <form
        className="stack"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          send();
        }}
      >
        <FindingLine finding={finding} shown={shownIn(props.aircraft)} />
        {isLight ? (
          <p className="notice warn">{say`A light part can be a weak part, with a dry laminate or a missing ply: inspect it before it is used.`}</p>
        ) : null}
        <Choice
          label={say`Decision`}
          options={DECISIONS}
          value={decision}
          onChange={(next) => draft.set({ decision: next })}
          problem={
            record.problemAt('/decision') ??
            (isIncomplete && decision === undefined ? say`Nothing is chosen yet. Choose one.` : undefined)
          }
        />
        <Field
          label={needsWord ? say`What was inspected and found` : say`What was inspected and found, if anything`}
          isLong
          value={inspection}
          onChange={(next) => draft.set({ inspection: next })}
          problem={record.problemAt('/inspection')}
        />
        <p className="soft small">{ABOUT[decision ?? 'accepted']}</p>
        {refusal === undefined ? null : (
          <p className="notice bad" role="alert">
            {refusal}
          </p>
        )}
        <div className="acts">
          <Button kind="main" type="submit" isDisabled={record.isSending}>{say`Record the decision`}</Button>
          <Button onPress={props.onClose}>{say`Cancel`}</Button>
        </div>
      </form>
    </Dialog>
  );
}

const ABOUT = {
  accepted: say`The decision carries your initials. A later weighing opens the question again.`,
  'to be reworked': say`It still counts as it was weighed; its next weighing opens the question again.`,
  scrapped: say`It stops counting; the estimate counts until the next piece is weighed.`,
} as const;
