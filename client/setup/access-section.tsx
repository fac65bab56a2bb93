/** Who may see this aircraft, and write to it (rule N17): everybody, or leads and the named alone. */

import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { AircraftAccess, type May } from '#shared/contract/access.ts';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { ask, wordsOf } from '../door/ask.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button, Choice, Picker } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { ROLE_WORDS } from '../words/roles.ts';
import './access.css';

export function AccessSection({ aircraft }: { readonly aircraft: AircraftReport }) {
  const isLead = useMay('lead');
  return (
    <section className="card stack" aria-label={say`Access`}>
      <h2>{say`Who may see this aircraft`}</h2>
      <p>{say`An open aircraft is there for everybody whose account says so under People. A closed one is there for leads and for those named here; for everybody else it does not exist.`}</p>
      {isLead ? <Access aircraft={aircraft} /> : <p className="soft">{say`The lead decides this.`}</p>}
    </section>
  );
}

function Access({ aircraft }: { readonly aircraft: AircraftReport }) {
  const key = ['access', aircraft.id];
  const access = useQuery({
    queryKey: key,
    queryFn: ({ signal }) => ask(`/api/aircraft/${aircraft.id}/access`, { reply: AircraftAccess, signal }),
  });
  if (access.isPending) return <Waiting what={say`who may see it`} />;
  if (access.isLoadingError) return <Failed error={access.error} again={() => void access.refetch()} />;
  // Another lead's change replaces what is shown, and what was chosen here and not yet set.
  return <Form key={JSON.stringify(access.data)} aircraft={aircraft} access={access.data as AircraftAccess} />;
}

const MAYS = [
  { value: 'nothing', words: say`nothing` },
  { value: 'see', words: say`see` },
  { value: 'write', words: say`see and write` },
] as const;

const OPEN_OR_CLOSED = [
  { value: 'open', words: say`Open to everybody` },
  { value: 'closed', words: say`Closed to all but the named` },
] as const;

function Form({ aircraft, access }: { readonly aircraft: AircraftReport; readonly access: AircraftAccess }) {
  const queries = useQueryClient();
  const [isClosed, setClosed] = useState(access.isClosed);
  const [chosen, setChosen] = useState<ReadonlyMap<string, May>>(new Map());
  const mayOf = ({ id, may }: AircraftAccess['people'][number]) => chosen.get(id) ?? may;
  const named = access.people.filter((person) => person.role !== 'lead');
  const change = useMutation({
    mutationFn: () => {
      const people = isClosed ? access.people.map((person) => ({ id: person.id, may: mayOf(person) })) : [];
      const body = { isClosed, people };
      return ask(`/api/aircraft/${aircraft.id}/access`, { method: 'POST', body, reply: AircraftAccess });
    },
    onSuccess: (now) => queries.setQueryData(['access', aircraft.id], now),
  });
  const isChanged = isClosed !== access.isClosed || (isClosed && access.people.some((one) => mayOf(one) !== one.may));
  return (
    <form
      className="stack short-form"
      onSubmit={(event) => {
        event.preventDefault();
        change.mutate();
      }}
    >
      <Choice
        label={say`This aircraft is`}
        options={OPEN_OR_CLOSED}
        value={isClosed ? 'closed' : 'open'}
        onChange={(value) => setClosed(value === 'closed')}
      />
      {isClosed ? (
        <>
          <p className="soft">{say`Who may see only is a viewer here, whatever the role. Leads see and write always.`}</p>
          {named.length === 0 ? <p>{say`Nobody but leads has an account yet.`}</p> : null}
          <ul className="access-list">
            {named.map((person) => (
              <li key={person.id}>
                <span className="access-name">
                  {person.name} <span className="soft small">{ROLE_WORDS[person.role].name}</span>
                </span>
                <Picker
                  label={say`${person.name} may`}
                  hideLabel
                  options={MAYS}
                  value={mayOf(person)}
                  onChange={(may) => setChosen(new Map(chosen).set(person.id, may))}
                />
              </li>
            ))}
          </ul>
        </>
      ) : null}
      <div aria-live="polite">
        {change.isError ? <p className="notice bad">{wordsOf(change.error)}</p> : null}
        {isChanged ? null : (
          <p className="soft">
            {access.isClosed ? say`● Closed to all but the named, as set.` : say`● Open to everybody, as set.`}
          </p>
        )}
      </div>
      <div className="acts">
        <Button kind="main" type="submit" isDisabled={!isChanged || change.isPending}>{say`Set who may see it`}</Button>
      </div>
    </form>
  );
}
