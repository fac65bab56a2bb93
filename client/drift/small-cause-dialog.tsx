/** States why parts that are each in line add up (rule D5), of the sum as it stands when it is recorded. */

import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { ManySmallReport } from '#shared/contract/drift.ts';
import { say } from '#shared/words/say.ts';
import { Button, Field, Picker } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { useDraft } from '../record/draft.ts';
import { useRecord } from '../record/use-record.ts';
import { driftCausesOr } from '../words/choices.ts';

const CAUSES = driftCausesOr(say`Choose the cause`);

export function SmallCauseDialog(props: {
  readonly aircraft: AircraftReport;
  readonly sum: Pick<ManySmallReport, 'by' | 'name' | 'cause'>;
  readonly onRecorded: (recorded: RecordedReport) => void;
  readonly onClose: () => void;
}) {
  const { aircraft, sum } = props;
  const { by, name } = sum;
  const draft = useDraft(`${aircraft.id} small cause ${by} ${name}`, () => ({ cause: sum.cause?.cause ?? '' }));
  const { cause = '', found = '' } = draft.form;
  const record = useRecord(aircraft, (recorded) => {
    draft.forget();
    props.onRecorded(recorded);
  });
  const refusal = record.refusal(['/found', '/cause']);
  const send = () =>
    record.send({
      ...{ id: draft.id, kind: 'process cause', 'sum of': by, name, cause },
      ...(found.trim() === '' ? {} : { found }),
    });
  return (
    <Dialog title={say`Why do small differences add up in the ${by} ${name}?`} isOpen isForm onClose={props.onClose}>
      <form
        className="stack"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          send();
        }}
      >
        <p>{say`Each part is in line with its estimate, and together they are off by more than chance explains.`}</p>
        <Picker
          label={say`Cause`}
          options={CAUSES}
          value={cause}
          onChange={(next) => {
            draft.set({ cause: next });
            record.touch(['cause']);
          }}
          problem={record.problemAt('/cause')}
        />
        <Field
          label={say`What was found`}
          isLong
          value={found}
          onChange={(next) => {
            draft.set({ found: next });
            record.touch(['found']);
          }}
          hint={say`Estimates, scale, lot, tool, weather. May be left empty, but not for “other”.`}
          problem={record.problemAt('/found')}
        />
        <p className="soft small">{say`The figures stay as they are. What they add up to now is kept with the cause; it is open again once it has grown by another two standard deviations.`}</p>
        {refusal === undefined ? null : (
          <p className="notice bad" role="alert">
            {refusal}
          </p>
        )}
        <div className="acts">
          <Button
            kind="main"
            type="submit"
            isDisabled={record.isSending || cause === ''}
          >{say`Record the cause`}</Button>
          <Button onPress={props.onClose}>{say`Cancel`}</Button>
        </div>
      </form>
    </Dialog>
  );
}
