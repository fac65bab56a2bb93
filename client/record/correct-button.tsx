/** Puts an entry right from wherever it is told: the dialog of the ledger, for the entry that says it now (rule L2). */

import { useQuery } from '@tanstack/react-query';
import { lazy, Suspense, useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { entryAt } from '../door/queries.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed } from '../pieces/states.tsx';

// Few entries are corrected, and Weigh offers it too: the dialog comes when it is asked for.
const CorrectDialog = lazy(async () => ({ default: (await import('./correct-dialog.tsx')).CorrectDialog }));

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
        <Button
          slim
          kind="quiet"
          onPress={() => setOpen(true)}
          aria-label={say`Correct entry ${seq}`}
        >{say`Correct`}</Button>
      ) : (
        <Button onPress={() => setOpen(true)}>{props.words}</Button>
      )}
      {isOpen && row.isError ? <Failed error={row.error} again={() => void row.refetch()} /> : null}
      {isOpen && row.data !== undefined ? (
        <Suspense>
          <CorrectDialog
            aircraft={aircraft}
            row={row.data}
            onRecorded={(recorded) => {
              setOpen(false);
              props.onRecorded(recorded);
            }}
            onClose={() => setOpen(false)}
          />
        </Suspense>
      ) : null}
    </>
  );
}
