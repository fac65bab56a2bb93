/** States why a process changed (rule D4), of the release at which it was called. */

import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { ProcessDriftReport } from '#shared/contract/forecast.ts';
import { say, term } from '#shared/words/say.ts';
import { Button, Field, Picker } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { useDraft } from '../record/draft.ts';
import { useRecord } from '../record/use-record.ts';
import { driftCausesOr } from '../words/choices.ts';
import { callWords, ProcessWord } from './process-words.tsx';

const CAUSES = driftCausesOr(say`Choose the cause`);

export function ProcessCauseDialog(props: {
  readonly aircraft: AircraftReport;
  readonly report: ProcessDriftReport;
  readonly onRecorded: (recorded: RecordedReport) => void;
  readonly onClose: () => void;
}) {
  const { aircraft, report } = props;
  const { process, signal } = report;
  const draft = useDraft(`${aircraft.id} process cause ${process} ${signal?.seq}`, () => ({
    cause: report.cause?.cause ?? '',
  }));
  const { cause = '', found = '' } = draft.form;
  const record = useRecord(aircraft, (recorded) => {
    draft.forget();
    props.onRecorded(recorded);
  });
  const refusal = record.refusal(['/found', '/cause']);
  if (signal === undefined) return null;
  const send = () =>
    record.send({
      id: draft.id,
      kind: 'process cause',
      process,
      release: String(signal.seq),
      cause,
      ...(found.trim() === '' ? {} : { found }),
    });
  return (
    <Dialog title={say`Why did ${term(process)} change?`} isOpen isForm onClose={props.onClose}>
      <form
        className="stack"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          send();
        }}
      >
        <ProcessWord report={report} />
        <p>{callWords(signal, report.points)}</p>
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
          hint={say`Lot, batch, tool, setting, weather. May be left empty, but not for “other”.`}
          problem={record.problemAt('/found')}
        />
        <p className="soft small">{say`The figures stay as they are: the forecast already goes by what the process shows since.`}</p>
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
