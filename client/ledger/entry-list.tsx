/** The running entries, newest first, each with its causes and what it left behind. */
import { useDeferredValue, useState } from 'react';
import { Input, Label, SearchField } from 'react-aria-components';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import { mayAs, type Person } from '#shared/contract/people.ts';
import type { EntryReport } from '#shared/contract/reports.ts';
import type { Entry } from '#shared/ledger/entry.ts';
import { useEntries, usePartNames } from '../door/queries.ts';
import { usePerson } from '../frame/signed-in.ts';
import { Button, Picker } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import type { Shown } from '../pieces/units.ts';
import { CorrectDialog } from '../record/correct-dialog.tsx';
import { EntryRow } from './entry-row.tsx';

/** Every kind there is: the compiler asks for one that is missing. */
const KIND_WORDS: Readonly<Record<Exclude<Entry['kind'], 'aircraft'>, string>> = {
  weighing: 'weighing',
  'assembly weighing': 'assembly weighing',
  estimate: 'estimate',
  'part added': 'part added',
  'part removed': 'part removed',
  'arm measured': 'arm measured',
  'piece withdrawn': 'piece withdrawn',
  'piece installed': 'piece installed',
  disposition: 'disposition',
  targets: 'targets',
  'datum moved': 'datum moved',
  scale: 'scale',
  'check weight': 'check weight',
  correction: 'correction',
  note: 'note',
};
const KINDS = [
  { value: '', words: 'All kinds' },
  ...Object.entries(KIND_WORDS).map(([value, words]) => ({ value, words })),
];

export function EntryList(props: {
  readonly aircraft: AircraftReport;
  readonly asKnownAt: number | undefined;
  readonly shown: Shown;
  readonly onAsKnownAt: (seq: number) => void;
  readonly onRecorded: (recorded: RecordedReport) => void;
}) {
  const { aircraft, shown } = props;
  const [search, setSearch] = useState('');
  const [kind, setKind] = useState('');
  const [correcting, setCorrecting] = useState<EntryReport>();
  const person = usePerson();
  const isNow = props.asKnownAt === undefined;
  const entries = useEntries(aircraft.id, {
    search: useDeferredValue(search).trim(),
    kind,
    asKnownAt: props.asKnownAt,
  });
  const names = usePartNames(aircraft.id);
  const rows = entries.data?.pages.flatMap((page) => page.entries) ?? [];
  return (
    <section className="stack" aria-label="Entries">
      <div className="row entry-tools">
        <h2>Entries</h2>
        <SearchField className="search slim" value={search} onChange={setSearch}>
          <Label className="hidden-words">Search the entries</Label>
          <Input placeholder="Search: part, initials, words" />
        </SearchField>
        <Picker label="Kind of entry" hideLabel options={KINDS} value={kind} onChange={setKind} />
      </div>
      {entries.isPending ? <Waiting what="the entries" /> : null}
      {entries.isLoadingError ? <Failed error={entries.error} again={() => void entries.refetch()} /> : null}
      {entries.data !== undefined && rows.length === 0 ? (
        <p className="notice">
          {search === '' && kind === '' ? 'Nothing has been recorded yet.' : 'No entry fits the search.'}
        </p>
      ) : null}
      {rows.length === 0 ? null : (
        <ol className="entries" reversed>
          {rows.map((row) => (
            <EntryRow
              key={row.seq}
              row={row}
              partName={row.part === undefined ? undefined : names.data?.get(row.part)}
              shown={shown}
              onAsKnownAt={() => props.onAsKnownAt(row.seq)}
              onCorrect={isNow && mayCorrect(row, person) ? () => setCorrecting(row) : undefined}
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
          onRecorded={(recorded) => {
            setCorrecting(undefined);
            props.onRecorded(recorded);
          }}
          onClose={() => setCorrecting(undefined)}
        />
      )}
    </section>
  );
}

/** An entry is corrected once, by an engineer at least, and by no less than who may record its kind (rules L2, N4). */
export function mayCorrect({ entry, correctedBySeq }: EntryReport, { role }: Person): boolean {
  if (correctedBySeq !== undefined || !mayAs(role, 'engineer')) return false;
  const kind = entry.kind === 'correction' ? entry.replacement?.statement.kind : entry.kind;
  return kind === undefined || mayAs(role, ROLE_OF_KIND[kind]);
}
