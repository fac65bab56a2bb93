/** Puts a weighing right (rule L2): the old entry stays, the new one says what it should have said, and why. */
import { useMutation } from '@tanstack/react-query';
import { type FormEvent, useRef, useState } from 'react';
import { type AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { EntryReport } from '#shared/contract/reports.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { ask, newId, wordsOf } from '../door/ask.ts';
import { ledgerMoved } from '../door/queries.ts';
import { CONDITIONS } from '../pieces/conditions.ts';
import { Button, Choice, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { carriedOver } from './carried-over.ts';

const WAYS = [
  { value: 'replace', words: 'It should say something else' },
  { value: 'strike', words: 'It should never have been made' },
] as const;

export function CorrectDialog(props: {
  readonly aircraft: AircraftReport;
  readonly row: EntryReport;
  readonly onClose: () => void;
}) {
  const { row } = props;
  const weighing = weighingOf(row);
  const [way, setWay] = useState<(typeof WAYS)[number]['value']>('replace');
  const [reason, setReason] = useState('');
  const [form, setForm] = useState(() => ({
    part: row.part ?? '',
    piece: weighing.pieces.join(', '),
    gross: weighing.readings.map(({ typed }) => typed['gross'] ?? '').join(' / '),
    tare: weighing.readings
      .map(({ typed }) => typed['tare'] ?? '')
      .join(' / ')
      .replace(/^[\s/]+$/, ''),
    happenedOn: row.entry.kind === 'correction' ? (row.entry.replacement?.happenedOn ?? '') : row.entry.happenedOn,
  }));
  const [condition, setCondition] = useState(weighing.condition);
  const id = useRef(newId());
  const correct = useMutation({
    mutationFn: () =>
      ask(`/api/aircraft/${props.aircraft.id}/entries`, {
        method: 'POST',
        body: {
          id: id.current,
          kind: 'correction',
          entry: row.seq,
          reason,
          replacement:
            way === 'strike'
              ? null
              : {
                  ...form,
                  ...(form.tare === '' ? { tare: undefined } : {}),
                  condition,
                  ...carriedOver(weighing),
                },
        },
        reply: RecordedReport,
      }),
    onSuccess: () => {
      ledgerMoved(props.aircraft.id);
      props.onClose();
    },
  });
  // One id while it says one thing: sent again after a lost answer, it is known for the same (rule L3).
  const andChanged =
    <Value,>(change: (value: Value) => void) =>
    (value: Value) => {
      id.current = newId();
      change(value);
    };
  const set = (field: keyof typeof form) => andChanged((value: string) => setForm({ ...form, [field]: value }));
  const submit = (event: FormEvent) => {
    event.preventDefault();
    correct.mutate();
  };
  return (
    <Dialog title={`Correct entry ${row.seq}`} isOpen onClose={props.onClose}>
      <form className="stack" onSubmit={submit}>
        <p className="soft">The entry stays in the ledger; a new one says what it should have said.</p>
        <Choice label="What is wrong" options={WAYS} value={way} onChange={andChanged(setWay)} />
        {way === 'strike' ? null : (
          <>
            <Field label="Part number" value={form.part} onChange={set('part')} />
            <div className="readings">
              <Field label="Gross and unit" value={form.gross} onChange={set('gross')} />
              <Field label="Tare and unit" value={form.tare} onChange={set('tare')} />
              <Field label="Piece" value={form.piece} onChange={set('piece')} />
              <Field label="Day" value={form.happenedOn} onChange={set('happenedOn')} />
            </div>
            <Choice label="Weighed as" options={CONDITIONS} value={condition} onChange={andChanged(setCondition)} />
          </>
        )}
        <Field
          label="Reason"
          value={reason}
          onChange={andChanged(setReason)}
          hint="Stands beside the correction for good."
        />
        {correct.isError ? (
          <p className="notice bad" role="alert">
            {wordsOf(correct.error)}
          </p>
        ) : null}
        <div className="acts">
          <Button kind="main" type="submit" isDisabled={correct.isPending || reason.trim() === ''}>
            Record the correction
          </Button>
          <Button onPress={props.onClose}>Cancel</Button>
        </div>
      </form>
    </Dialog>
  );
}

/** What the entry says now: the list offers the correction of weighings only. */
function weighingOf({ entry }: EntryReport): StatementOf<'weighing'> {
  const statement = entry.kind === 'correction' ? entry.replacement?.statement : entry;
  if (statement?.kind !== 'weighing') throw new Error('only a weighing is corrected here');
  return statement;
}
