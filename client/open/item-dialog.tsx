/** The form of the entry that closes an open item, in front of the list, with what is known already in it. */

import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { Dialog } from '../pieces/dialog.tsx';
import { useDraft } from '../record/draft.ts';
import { EntryForm } from '../record/entry-form.tsx';
import { KIND_SPECS } from '../record/kinds.ts';
import { useStandingWords } from '../record/use-standing-words.ts';
import type { Act } from './acts.ts';
import '../record/record.css';

export function ItemDialog(props: {
  readonly aircraft: AircraftReport;
  readonly act: Extract<Act, { by: 'entry' }>;
  /** What it is about. */
  readonly subject: string;
  readonly onRecorded: (recorded: RecordedReport) => void;
  readonly onClose: () => void;
}) {
  const { aircraft, subject } = props;
  const { kind, form } = props.act;
  const draft = useDraft(`${aircraft.id} open ${kind} ${subject}`, () => form);
  useStandingWords(aircraft.id, kind, draft);
  // A calibration happened on its own day: what has been weighed since then is judged by it.
  const day = kind === 'scale' ? draft.form['calibrated'] : draft.form['happenedOn'];
  return (
    <Dialog title={`${KIND_SPECS[kind].title}: ${subject}`} isOpen isForm isWide onClose={props.onClose}>
      <EntryForm
        aircraft={aircraft}
        kind={kind}
        draft={draft}
        without={kind === 'scale' ? ['happenedOn'] : []}
        body={(words) => ({
          id: draft.id,
          kind,
          ...words,
          ...(day === undefined || day.trim() === '' ? {} : { happenedOn: day.trim() }),
        })}
        main={say`Record it`}
        onRecorded={props.onRecorded}
        onClose={props.onClose}
      />
    </Dialog>
  );
}
