/** One act on the part of the page: the form of that kind of entry, with the part in it and, for an estimate, everything as it stands. */

import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { PartPageReport } from '#shared/contract/part.ts';
import { estimateInWords } from '#shared/estimate/in-words.ts';
import { say } from '#shared/words/say.ts';
import { Dialog } from '../pieces/dialog.tsx';
import { useDraft } from '../record/draft.ts';
import { EntryForm } from '../record/entry-form.tsx';
import type { Form } from '../record/field-spec.ts';
import { KIND_SPECS } from '../record/kinds.ts';
import '../record/record.css';

/** What can be done from the page, in the order in which it comes up in the life of a part. */
export const ACTS = [
  { kind: 'estimate', words: say`Revise the estimate` },
  { kind: 'arm measured', words: say`Measure the arm` },
  { kind: 'disposition', words: say`Decide` },
  { kind: 'piece installed', words: say`Build in` },
  { kind: 'piece withdrawn', words: say`Withdraw a piece` },
  { kind: 'note', words: say`Add a note` },
] as const;
export type ActKind = (typeof ACTS)[number]['kind'];

export function ActDialog(props: {
  readonly aircraft: AircraftReport;
  readonly page: PartPageReport;
  readonly kind: ActKind;
  readonly onRecorded: (recorded: RecordedReport) => void;
  readonly onClose: () => void;
}) {
  const { aircraft, page, kind } = props;
  const draft = useDraft(`${aircraft.id} ${kind} ${page.part.partId}`, () => beginningOf(kind, page));
  return (
    <Dialog title={`${KIND_SPECS[kind].title}: ${page.part.number}`} isOpen isForm isWide onClose={props.onClose}>
      <EntryForm
        aircraft={aircraft}
        kind={kind}
        draft={draft}
        standing={page.estimates[0]}
        body={(words) => ({ id: draft.id, kind, ...words, ...dayOf(draft.form) })}
        main={say`Record it`}
        onRecorded={props.onRecorded}
        onClose={props.onClose}
      />
    </Dialog>
  );
}

/** An estimate is stated anew as a whole: what is not changed goes on as it was, its arm told from the present datum. */
function beginningOf(kind: ActKind, { part, estimates, weighings }: PartPageReport): Form {
  const [estimate] = estimates;
  if (kind === 'estimate') return { part: part.number, ...(estimate === undefined ? {} : estimateInWords(estimate)) };
  const [counting] = weighings.filter(({ countsFor }) => countsFor.length > 0);
  if (kind !== 'disposition' || part.quantity === 1 || counting === undefined) return { part: part.number };
  return { part: part.number, piece: counting.countsFor.join(', ') };
}

function dayOf(form: Form): Form {
  const day = (form['happenedOn'] ?? '').trim();
  return day === '' ? {} : { happenedOn: day };
}
