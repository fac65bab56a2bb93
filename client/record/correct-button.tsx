/** Puts an entry right from wherever it is told: the dialog of the ledger, for the entry that says it now (rule L2). */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { entryAt } from '../door/queries.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed } from '../pieces/states.tsx';
import { CorrectDialog } from './correct-dialog.tsx';

export function CorrectButton(props: {
  readonly aircraft: AircraftReport;
  readonly seq: number;
  /** Where it is a choice among others, and as large as they are. */
  readonly words?: string;
  readonly onRecorded: (recorded: RecordedReport) => void;
}) {
  const { aircraft, seq } = props;
  const [isOpen, setOpen] = useState(false);
  const row = useQuery({
    queryKey: ['aircraft', aircraft.id, 'entry', seq],
    queryFn: ({ signal }) => entryAt(aircraft.id, seq, signal),
    enabled: isOpen,
  });
  return (
    <>
      {props.words === undefined ? (
        <Button slim kind="quiet" onPress={() => setOpen(true)} aria-label={`Correct entry ${seq}`}>
          Correct
        </Button>
      ) : (
        <Button onPress={() => setOpen(true)}>{props.words}</Button>
      )}
      {isOpen && row.isError ? <Failed error={row.error} again={() => void row.refetch()} /> : null}
      {isOpen && row.data !== undefined ? (
        <CorrectDialog
          aircraft={aircraft}
          row={row.data}
          onRecorded={(recorded) => {
            setOpen(false);
            props.onRecorded(recorded);
          }}
          onClose={() => setOpen(false)}
        />
      ) : null}
    </>
  );
}
