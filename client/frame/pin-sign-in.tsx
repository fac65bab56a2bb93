/** On a shared tablet: one's name out of a list, then the PIN. Large, for gloves; the password is one touch away. */

import { useMutation, useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { SessionReport } from '#shared/contract/people.ts';
import { type PinPerson, TabletReport } from '#shared/contract/tablet.ts';
import { say } from '#shared/words/say.ts';
import { ask, wordsOf } from '../door/ask.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { Failed, Waiting, Working } from '../pieces/states.tsx';
import { NumberPad } from '../weigh/number-pad.tsx';
import { TABLET_WORDS } from '../words/tablet.ts';
import { SignInForm } from './sign-in-form.tsx';
import './pin-sign-in.css';

type Done = (report: SessionReport) => void;

export function PinSignIn({ tablet, onDone }: { readonly tablet: string; readonly onDone: Done }) {
  const [chosen, setChosen] = useState<PinPerson>();
  const [hasPassword, setPassword] = useState(false);
  const here = useQuery({
    queryKey: ['tablet'],
    queryFn: ({ signal }) => ask('/api/tablet', { reply: TabletReport, signal }),
    // Somebody may have set a PIN a moment ago.
    refetchOnMount: 'always',
  });
  if (hasPassword)
    return (
      <div className="stack">
        <SignInForm onDone={onDone} />
        <Button onPress={() => setPassword(false)}>{TABLET_WORDS.withPin}</Button>
      </div>
    );
  if (chosen !== undefined) return <PinForm person={chosen} onDone={onDone} onBack={() => setChosen(undefined)} />;
  const people = here.data?.people ?? [];
  return (
    <div className="stack">
      {people.length === 0 ? null : <p>{TABLET_WORDS.onTablet(tablet)}</p>}
      {here.isPending ? <Waiting what={say`the names`} /> : null}
      {here.isLoadingError ? <Failed error={here.error} again={() => void here.refetch()} /> : null}
      {here.data !== undefined && people.length === 0 ? <p className="notice">{TABLET_WORDS.nobody(tablet)}</p> : null}
      {people.length === 0 ? null : (
        <ul className="pin-people" aria-label={TABLET_WORDS.who}>
          {people.map((person) => (
            <li key={person.id}>
              <Button onPress={() => setChosen(person)}>
                {person.name} <span className="soft">{person.initials}</span>
              </Button>
            </li>
          ))}
        </ul>
      )}
      <p className="soft small">{TABLET_WORDS.pinMay}</p>
      <Button onPress={() => setPassword(true)}>{TABLET_WORDS.withPassword}</Button>
    </div>
  );
}

function PinForm(props: { readonly person: PinPerson; readonly onDone: Done; readonly onBack: () => void }) {
  const { person, onDone, onBack } = props;
  const [pin, setPin] = useState('');
  const signIn = useMutation({
    mutationFn: () =>
      ask('/api/pin-sign-in', { method: 'POST', body: { personId: person.id, pin }, reply: SessionReport }),
    onSuccess: onDone,
    onError: () => setPin(''),
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (pin !== '') signIn.mutate();
  };
  return (
    <form className="stack pin-form" onSubmit={submit}>
      <Field
        label={TABLET_WORDS.pinOf(person.name)}
        type="password"
        value={pin}
        onChange={setPin}
        inputMode="numeric"
        autoComplete="off"
        autoFocus
      />
      <NumberPad
        isWhole
        onKey={(key) => {
          if (signIn.isError) signIn.reset();
          setPin(key === 'back' ? pin.slice(0, -1) : `${pin}${key}`.slice(0, 8));
        }}
      />
      {signIn.isError ? (
        <p className="notice bad" role="alert">
          {wordsOf(signIn.error)}
        </p>
      ) : null}
      {signIn.isPending ? <Working words={say`Signing in`} /> : null}
      <Button kind="main" type="submit" isDisabled={signIn.isPending || pin === ''}>{say`Sign in`}</Button>
      <Button onPress={onBack}>{TABLET_WORDS.another}</Button>
    </form>
  );
}
