/** States why a piece came out heavy or light (rule W5): a correction of its weighing, which says the same with a cause. */

import { useMutation } from '@tanstack/react-query';
import { type AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { piecesText } from '#shared/rollup/describe-entry.ts';
import { say, term } from '#shared/words/say.ts';
import { statementInWords } from '#shared/words/statement-in-words.ts';
import { ask, wordsOf as wordsOfError } from '../door/ask.ts';
import { entryAt, ledgerMoved } from '../door/queries.ts';
import { Button, Field, Picker } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { shownIn } from '../pieces/units.ts';
import { useDraft } from '../record/draft.ts';
import { statementOf } from '../record/standing.ts';
import { driftCausesOr } from '../words/choices.ts';
import { type Decided, FindingLine } from './finding-line.tsx';

const CAUSES = driftCausesOr(say`Choose the cause`);

/** A flagged weighing, and what is said of its cause so far. */
type Explained = Decided & { readonly cause?: string | undefined };

export function CauseDialog(props: {
  readonly aircraft: AircraftReport;
  readonly finding: Explained;
  readonly onRecorded: (recorded: RecordedReport) => void;
  readonly onClose: () => void;
}) {
  const { aircraft, finding } = props;
  const draft = useDraft(`${aircraft.id} cause ${finding.weighingSeq}`, () => ({ cause: finding.cause ?? '' }));
  const { cause = '', remark = '' } = draft.form;
  const state = useMutation({
    mutationFn: async () => {
      const row = await entryAt(aircraft.id, finding.weighingSeq);
      const said = row === undefined ? undefined : await statementOf(aircraft.id, row);
      if (said === undefined) throw new Error('the weighing of a finding is in the ledger');
      const weighing = { ...statementInWords(said.statement, finding.number, new Map()), happenedOn: said.happenedOn };
      return ask(`/api/aircraft/${aircraft.id}/entries`, {
        method: 'POST',
        body: {
          id: draft.id,
          kind: 'correction',
          entry: finding.weighingSeq,
          reason: remark.trim() === '' ? say`cause stated: ${term(cause)}` : remark,
          replacement: { ...weighing, cause },
        },
        reply: RecordedReport,
      });
    },
    onSuccess: (recorded) => {
      draft.forget();
      ledgerMoved(aircraft.id);
      props.onRecorded(recorded);
    },
  });
  return (
    <Dialog
      title={say`Why is ${piecesText(finding.number, finding.pieces, finding.quantity)} ${finding.flag.endsWith('light') ? say`light` : say`heavy`}?`}
      isOpen
      isForm
      onClose={props.onClose}
    >
      <form
        className="stack"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          state.mutate();
        }}
      >
        <FindingLine finding={finding} shown={shownIn(props.aircraft)} />
        <Picker label={say`Cause`} options={CAUSES} value={cause} onChange={(next) => draft.set({ cause: next })} />
        <Field
          label={say`In words`}
          value={remark}
          onChange={(next) => draft.set({ remark: next })}
          hint={say`May be left empty. Needed to make sense of “other”.`}
        />
        <p className="soft small">{say`The weighing stays as it is; a correction of it adds the cause.`}</p>
        {state.isError ? (
          <p className="notice bad" role="alert">
            {wordsOfError(state.error)}
          </p>
        ) : null}
        <div className="acts">
          <Button
            kind="main"
            type="submit"
            isDisabled={state.isPending || cause === ''}
          >{say`Record the cause`}</Button>
          <Button onPress={props.onClose}>{say`Cancel`}</Button>
        </div>
      </form>
    </Dialog>
  );
}
