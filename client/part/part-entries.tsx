/** The entries about one part, newest first, each with its causes and effects; what can be put right is put right here. */
import { useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { EntryReport } from '#shared/contract/reports.ts';
import { useEntries } from '../door/queries.ts';
import { usePerson } from '../frame/signed-in.ts';
import { mayCorrect } from '../ledger/entry-list.tsx';
import { EntryRow } from '../ledger/entry-row.tsx';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import type { Shown } from '../pieces/units.ts';
import { CorrectDialog } from '../record/correct-dialog.tsx';

export function PartEntries(props: {
  readonly aircraft: AircraftReport;
  readonly number: string;
  readonly shown: Shown;
}) {
  const { aircraft, shown } = props;
  const [correcting, setCorrecting] = useState<EntryReport>();
  const person = usePerson();
  const entries = useEntries(aircraft.id, { search: '', kind: '', asKnownAt: undefined, part: props.number });
  const rows = entries.data?.pages.flatMap((page) => page.entries) ?? [];
  return (
    <section className="stack-tight" aria-label="Entries">
      <h2>Entries</h2>
      {entries.isPending ? <Waiting what="the entries" /> : null}
      {entries.isLoadingError ? <Failed error={entries.error} again={() => void entries.refetch()} /> : null}
      {rows.length === 0 ? null : (
        <ol className="entries" reversed>
          {rows.map((row) => (
            <EntryRow
              key={row.seq}
              row={row}
              partName={undefined}
              shown={shown}
              onCorrect={mayCorrect(row, person) ? () => setCorrecting(row) : undefined}
            />
          ))}
        </ol>
      )}
      {entries.hasNextPage ? (
        <div>
          <Button onPress={() => void entries.fetchNextPage()} isDisabled={entries.isFetchingNextPage}>
            Older entries
          </Button>
        </div>
      ) : null}
      {correcting === undefined ? null : (
        <CorrectDialog
          key={correcting.seq}
          aircraft={aircraft}
          row={correcting}
          onRecorded={() => setCorrecting(undefined)}
          onClose={() => setCorrecting(undefined)}
        />
      )}
    </section>
  );
}
