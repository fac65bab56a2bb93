/** Entries page by page, newest first, and the dialog that puts one right: the same on the ledger and on a part's page. */

import { useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import { mayAs, type Person } from '#shared/contract/people.ts';
import type { EntryReport } from '#shared/contract/reports.ts';
import { say } from '#shared/words/say.ts';
import type { useEntries } from '../door/queries.ts';
import { usePerson } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import type { Shown } from '../pieces/units.ts';
import { CorrectDialog } from '../record/correct-dialog.tsx';
import { EntryRow } from './entry-row.tsx';

export function EntryPages(props: {
  readonly aircraft: AircraftReport;
  readonly entries: ReturnType<typeof useEntries>;
  readonly shown: Shown;
  /** Said where there is no entry. */
  readonly none?: string;
  readonly partNames?: ReadonlyMap<string, string> | undefined;
  readonly isNow: boolean;
  readonly onAsKnownAt?: (seq: number) => void;
  readonly onRecorded?: (recorded: RecordedReport) => void;
}) {
  const { aircraft, entries, shown, onAsKnownAt } = props;
  const [correcting, setCorrecting] = useState<EntryReport>();
  const person = usePerson();
  const rows = entries.data?.pages.flatMap((page) => page.entries) ?? [];
  return (
    <>
      {entries.isPending ? <Waiting what={say`the entries`} /> : null}
      {entries.isLoadingError ? <Failed error={entries.error} again={() => void entries.refetch()} /> : null}
      {entries.data !== undefined && rows.length === 0 && props.none !== undefined ? (
        <p className="notice">{props.none}</p>
      ) : null}
      {rows.length === 0 ? null : (
        <>
          {person.role === 'crew' && props.isNow ? (
            <p className="soft small">{say`Is one of them wrong? An engineer corrects it: a note tells which, and why.`}</p>
          ) : null}
          <ol className="entries" reversed>
            {rows.map((row) => (
              <EntryRow
                key={row.seq}
                row={row}
                partName={row.part === undefined ? undefined : props.partNames?.get(row.part)}
                shown={shown}
                {...(onAsKnownAt === undefined ? {} : { onAsKnownAt: () => onAsKnownAt(row.seq) })}
                onCorrect={props.isNow && mayCorrect(row, person) ? () => setCorrecting(row) : undefined}
              />
            ))}
          </ol>
        </>
      )}
      {entries.hasNextPage ? (
        <div>
          <Button
            onPress={() => void entries.fetchNextPage()}
            isDisabled={entries.isFetchingNextPage}
          >{say`Older entries`}</Button>
        </div>
      ) : null}
      {correcting === undefined ? null : (
        <CorrectDialog
          key={correcting.seq}
          aircraft={aircraft}
          row={correcting}
          onRecorded={(recorded) => {
            setCorrecting(undefined);
            props.onRecorded?.(recorded);
          }}
          onClose={() => setCorrecting(undefined)}
        />
      )}
    </>
  );
}

/** An entry is corrected once, by an engineer at least, and by no less than who may record its kind (rules L2, N4). */
function mayCorrect({ entry, correctedBySeq }: EntryReport, { role }: Person): boolean {
  if (correctedBySeq !== undefined || !mayAs(role, 'engineer')) return false;
  const kind = entry.kind === 'correction' ? entry.replacement?.statement.kind : entry.kind;
  return kind === undefined || mayAs(role, ROLE_OF_KIND[kind]);
}
