/** The running entries, newest first, each with its causes and what it left behind. */

import { useDeferredValue, useEffect, useRef, useState } from 'react';
import { Input, Label, SearchField } from 'react-aria-components';
import { useSearchParams } from 'wouter';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { KINDS } from '#shared/words/fields.ts';
import { say } from '#shared/words/say.ts';
import { useEntries, usePartNames } from '../door/queries.ts';
import { Button, Picker } from '../pieces/controls.tsx';
import type { Shown } from '../pieces/units.ts';
import { orNone } from '../words/choices.ts';
import { rich } from '../words/rich.ts';
import { EntryPages } from './entry-pages.tsx';

const KIND_CHOICES = orNone([...KINDS, 'correction'], say`All kinds`);

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
  const isNow = props.asKnownAt === undefined;
  const [asked, setAsked] = useSearchParams();
  const upTo = Number(asked.get('entry')) || undefined;
  const entries = useEntries(aircraft.id, {
    search: useDeferredValue(search).trim(),
    kind,
    asKnownAt: props.asKnownAt,
    upTo,
  });
  const names = usePartNames(aircraft.id);
  const section = useRef<HTMLElement>(null);
  const isThere = entries.data !== undefined;
  useEffect(() => {
    if (upTo !== undefined && isThere) section.current?.scrollIntoView();
  }, [upTo, isThere]);
  return (
    <section className="stack" aria-label={say`Entries`} ref={section}>
      <div className="row entry-tools">
        <h2>{say`Entries`}</h2>
        <SearchField className="search slim" value={search} onChange={setSearch}>
          <Label className="hidden-words">{say`Search the entries`}</Label>
          <Input placeholder={say`Search: part, initials, words`} />
        </SearchField>
        <Picker label={say`Kind of entry`} hideLabel options={KIND_CHOICES} value={kind} onChange={setKind} />
      </div>
      {upTo === undefined ? null : (
        <div className="notice row" role="status">
          <span>{rich`From entry ${<strong>{upTo}</strong>} backwards; later entries are left out.`}</span>
          <Button slim onPress={() => setAsked({}, { replace: true })}>{say`All entries`}</Button>
        </div>
      )}
      <EntryPages
        aircraft={aircraft}
        entries={entries}
        shown={shown}
        none={search === '' && kind === '' ? say`Nothing has been recorded yet.` : say`No entry fits the search.`}
        partNames={names.data}
        isNow={isNow}
        onAsKnownAt={props.onAsKnownAt}
        onRecorded={props.onRecorded}
      />
    </section>
  );
}
