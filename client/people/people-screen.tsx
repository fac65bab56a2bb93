/** Who may do what: the lead gives accounts, roles and access. */

import { useMutation, useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { z } from 'zod';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { Person, ROLES, type Role } from '#shared/contract/people.ts';
import { say } from '#shared/words/say.ts';
import { ask, ProblemError, wordsOf } from '../door/ask.ts';
import { queries } from '../door/queries.ts';
import { useMay, usePerson } from '../frame/signed-in.ts';
import { Button, Choice, Field, Picker } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { Empty, Failed, Waiting } from '../pieces/states.tsx';
import { rich } from '../words/rich.ts';
import { ROLE_WORDS } from '../words/roles.ts';
import { NewPassword } from './new-password.tsx';
import { TabletsCard } from './tablets-card.tsx';
import './people.css';

const PEOPLE_REPLY = z.object({ people: z.array(Person) });

const ROLE_CHOICES = ROLES.map((value) => ({
  value,
  words: `${ROLE_WORDS[value].name}: ${ROLE_WORDS[value].inShort}`,
}));

export function PeopleScreen({ aircraft }: { readonly aircraft: readonly AircraftReport[] }) {
  const isLead = useMay('lead');
  const people = useQuery({
    queryKey: ['people'],
    queryFn: async ({ signal }) => (await ask('/api/people', { reply: PEOPLE_REPLY, signal })).people,
    enabled: isLead,
  });
  const [isAdding, setAdding] = useState(false);
  if (!isLead)
    return (
      <div className="narrow-page">
        <Empty isPage title={say`Only the lead sees this page`}>
          <p>{say`Ask the lead for an account or another role.`}</p>
        </Empty>
      </div>
    );
  return (
    <div className="page stack">
      <div className="row people-title">
        <h1>{say`People`}</h1>
        <Button kind="main" onPress={() => setAdding(true)}>{say`Add somebody`}</Button>
      </div>
      {people.isPending ? <Waiting what={say`the people`} /> : null}
      {people.isLoadingError ? <Failed error={people.error} again={() => void people.refetch()} /> : null}
      {people.data === undefined ? null : (
        <ul className="people" aria-label={say`Everybody`}>
          {people.data.map((person) => (
            <PersonRow key={person.id} person={person} aircraft={aircraft} />
          ))}
        </ul>
      )}
      <TabletsCard />
      <AddDialog isOpen={isAdding} onClose={() => setAdding(false)} />
    </div>
  );
}

function PersonRow({ person, aircraft }: { readonly person: Person; readonly aircraft: readonly AircraftReport[] }) {
  const self = usePerson();
  const change = useMutation({
    mutationFn: (body: unknown) => ask(`/api/people/${person.id}`, { method: 'PATCH', body, reply: z.unknown() }),
    onSuccess: () => queries.invalidateQueries({ queryKey: ['people'] }),
  });
  return (
    <li className={`card person ${person.isActive ? '' : 'closed'}`}>
      <div className="person-name">
        <h2>{person.name}</h2>
        <p className="soft small">
          {person.initials}
          {person.isActive ? '' : say` · account closed`}
        </p>
      </div>
      <Picker
        label={say`Role of ${person.name}`}
        hideLabel
        options={ROLE_CHOICES}
        value={person.role}
        onChange={(role) => change.mutate({ role })}
      />
      <AccessChoice person={person} aircraft={aircraft} onChange={(access) => change.mutate({ aircraft: access })} />
      <div className="person-account">
        {person.id === self.id ? (
          <span className="soft small">{say`your account`}</span>
        ) : (
          <div className="row">
            <NewPassword person={person} />
            <Button slim onPress={() => change.mutate({ isActive: !person.isActive })}>
              {person.isActive ? say`Close account` : say`Open again`}
            </Button>
          </div>
        )}
      </div>
      {change.isError ? (
        <p className="notice bad person-problem" role="alert">
          {wordsOf(change.error)}
        </p>
      ) : null}
    </li>
  );
}

function AccessChoice(props: {
  readonly person: Person;
  readonly aircraft: readonly AircraftReport[];
  readonly onChange: (access: Person['aircraft']) => void;
}) {
  const { person, aircraft } = props;
  const access = person.aircraft;
  const name = say`access ${person.id}`;
  return (
    <fieldset className="access">
      <legend className="hidden-words">{rich`Aircraft open to ${person.name}`}</legend>
      <label className="row">
        <input
          type="checkbox"
          name={name}
          checked={access === 'all'}
          onChange={(event) => props.onChange(event.target.checked ? 'all' : aircraft.map((one) => one.id))}
        />
        {say`all aircraft`}
      </label>
      {access === 'all'
        ? null
        : aircraft.map((one) => (
            <label key={one.id} className="row">
              <input
                type="checkbox"
                name={name}
                checked={access.includes(one.id)}
                onChange={(event) =>
                  props.onChange(event.target.checked ? [...access, one.id] : access.filter((id) => id !== one.id))
                }
              />
              {one.name}
            </label>
          ))}
    </fieldset>
  );
}

const EMPTY_FORM = { name: '', initials: '', password: '' };

function AddDialog({ isOpen, onClose }: { readonly isOpen: boolean; readonly onClose: () => void }) {
  const [form, setForm] = useState(EMPTY_FORM);
  const [role, setRole] = useState<Role>('crew');
  const add = useMutation({
    mutationFn: () =>
      ask('/api/people', { method: 'POST', body: { ...form, role, aircraft: 'all' }, reply: z.unknown() }),
    onSuccess: async () => {
      await queries.invalidateQueries({ queryKey: ['people'] });
      setForm(EMPTY_FORM);
      onClose();
    },
  });
  const set = (field: keyof typeof form) => (value: string) => setForm({ ...form, [field]: value });
  const problem = (field: keyof typeof form) =>
    add.error instanceof ProblemError ? add.error.of(`/${field}`) : undefined;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    add.mutate();
  };
  return (
    <Dialog title={say`Add somebody`} isOpen={isOpen} onClose={onClose}>
      <form className="stack" onSubmit={submit}>
        <Field
          label={say`Name`}
          value={form.name}
          onChange={set('name')}
          problem={problem('name')}
          autoComplete="off"
          autoFocus
        />
        <Field
          label={say`Initials`}
          value={form.initials}
          onChange={set('initials')}
          problem={problem('initials')}
          autoComplete="off"
        />
        <Field
          label={say`First password`}
          type="password"
          value={form.password}
          onChange={set('password')}
          hint={say`At least 10 characters. They change it under their initials, at the top right.`}
          problem={problem('password')}
          autoComplete="new-password"
        />
        <Choice label={say`Role`} options={ROLE_CHOICES} value={role} onChange={setRole} />
        {add.isError && (!(add.error instanceof ProblemError) || (add.error.report.problems ?? []).length === 0) ? (
          <p className="notice bad" role="alert">
            {wordsOf(add.error)}
          </p>
        ) : null}
        <div className="acts">
          <Button
            kind="main"
            type="submit"
            isDisabled={add.isPending || Object.values(form).some((value) => value === '')}
          >{say`Add`}</Button>
          <Button onPress={onClose}>{say`Cancel`}</Button>
        </div>
      </form>
    </Dialog>
  );
}
