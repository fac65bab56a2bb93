/** The entries about one part, newest first, each with its causes and effects; what can be put right is put right here. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { useEntries } from '../door/queries.ts';
import { EntryPages } from '../ledger/entry-pages.tsx';
import type { Shown } from '../pieces/units.ts';

export function PartEntries(props: {
  readonly aircraft: AircraftReport;
  readonly number: string;
  readonly shown: Shown;
}) {
  const { aircraft, shown } = props;
  const entries = useEntries(aircraft.id, { search: '', kind: '', asKnownAt: undefined, part: props.number });
  return (
    <section className="stack-tight" aria-label={say`Entries`}>
      <h2>{say`Entries`}</h2>
      <EntryPages aircraft={aircraft} entries={entries} shown={shown} isNow />
    </section>
  );
}
