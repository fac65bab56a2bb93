/** The running entries, newest first, each with its causes and what it left behind. */
import { useDeferredValue, useState } from 'react';
import { Input, Label, SearchField } from 'react-aria-components';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { EffectReport, EntryReport } from '#shared/contract/reports.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { describeEntry } from '#shared/rollup/describe-entry.ts';
import { useEntries } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button, Picker } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import type { Shown } from '../pieces/units.ts';
import { CorrectDialog } from './correct-dialog.tsx';

const KINDS = [
  { value: '', words: 'All kinds' },
  ...[
    'weighing',
    'estimate',
    'part added',
    'part removed',
    'arm measured',
    'piece withdrawn',
    'piece installed',
    'targets',
    'datum moved',
    'correction',
    'note',
  ].map((value) => ({ value, words: value })),
];

export function EntryList(props: {
  readonly aircraft: AircraftReport;
  readonly asKnownAt: number | undefined;
  readonly shown: Shown;
  readonly onAsKnownAt: (seq: number) => void;
}) {
  const { aircraft, shown } = props;
  const [search, setSearch] = useState('');
  const [kind, setKind] = useState('');
  const [correcting, setCorrecting] = useState<EntryReport>();
  const mayCorrect = useMay('engineer') && props.asKnownAt === undefined;
  const entries = useEntries(aircraft.id, {
    search: useDeferredValue(search).trim(),
    kind,
    asKnownAt: props.asKnownAt,
  });
  const rows = entries.data?.pages.flatMap((page) => page.entries) ?? [];
  return (
    <section className="stack" aria-label="Entries">
      <div className="row entry-tools">
        <h2>Entries</h2>
        <SearchField className="search slim" value={search} onChange={setSearch}>
          <Label className="hidden-words">Search the entries</Label>
          <Input placeholder="Part, name, person, words" />
        </SearchField>
        <Picker label="Kind of entry" hideLabel options={KINDS} value={kind} onChange={setKind} />
      </div>
      {entries.isPending ? <Waiting what="the entries" /> : null}
      {entries.isError ? <Failed error={entries.error} again={() => void entries.refetch()} /> : null}
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
              shown={shown}
              onAsKnownAt={() => props.onAsKnownAt(row.seq)}
              onCorrect={mayCorrect && canBeCorrected(row) ? () => setCorrecting(row) : undefined}
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
          onClose={() => setCorrecting(undefined)}
        />
      )}
    </section>
  );
}

/** Weighings can be put right here; other kinds by the command, until they have their screens. */
function canBeCorrected({ entry, correctedBySeq }: EntryReport): boolean {
  if (correctedBySeq !== undefined) return false;
  if (entry.kind === 'correction') return entry.replacement?.statement.kind === 'weighing';
  return entry.kind === 'weighing';
}

function EntryRow(props: {
  readonly row: EntryReport;
  readonly shown: Shown;
  readonly onAsKnownAt: () => void;
  readonly onCorrect: (() => void) | undefined;
}) {
  const { row, shown } = props;
  const { mass, length, units } = shown;
  return (
    <li className={`entry ${row.correctedBySeq === undefined ? '' : 'corrected'}`} value={row.seq}>
      <div className="entry-what">
        <p>{describeEntry(row, units)}</p>
        <p className="soft small">
          entry {row.seq} · {row.entry.happenedOn} · {row.entry.by}
          {row.entry.remark === undefined ? '' : ` · ${row.entry.remark}`}
        </p>
      </div>
      <ul className="entry-effects">
        {row.effects.map((effect) => (
          <li key={`${effect.cause}${effect.isCorrection}`}>{effectWords(effect, shown)}</li>
        ))}
      </ul>
      <dl className="entry-after">
        <dt>predicted</dt>
        <dd>
          {mass(row.predictedKg)} {units.mass}
        </dd>
        <dt>CG x</dt>
        <dd>
          {length(row.cgXM)} {units.length}
        </dd>
        {row.marginKg === undefined ? null : (
          <>
            <dt>margin</dt>
            <dd>
              {mass(row.marginKg, { sign: true })} {units.mass}
            </dd>
          </>
        )}
      </dl>
      <div className="entry-acts no-print">
        <Button slim kind="quiet" onPress={props.onAsKnownAt} aria-label={`As known then, at entry ${row.seq}`}>
          As known then
        </Button>
        {props.onCorrect === undefined ? null : (
          <Button slim kind="quiet" onPress={props.onCorrect} aria-label={`Correct entry ${row.seq}`}>
            Correct
          </Button>
        )}
      </div>
    </li>
  );
}

function effectWords(effect: EffectReport, { mass, units }: Shown): string {
  const name = effect.isCorrection ? `${effect.cause}, corrected` : effect.cause;
  if (effect.massKg !== 0) return `${name} ${mass(effect.massKg, { sign: true })} ${units.mass}`;
  if (effect.marginKg !== 0) return `${name} ${mass(effect.marginKg, { sign: true })} ${units.mass} of margin`;
  const moment = effect.momentXKgM / MASS_UNIT_KG[units.mass] / LENGTH_UNIT_M[units.length];
  return `${name} ${showFixed(moment, 2, { sign: true })} ${units.mass} ${units.length}`;
}
