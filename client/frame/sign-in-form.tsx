/** Name and password. Stands alone before the app, and in front of it when a session has ended. */

import { useMutation } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { SessionReport } from '#shared/contract/people.ts';
import { say } from '#shared/words/say.ts';
import { ask, wordsOf } from '../door/ask.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { Working } from '../pieces/states.tsx';

export function SignInForm({
  onDone,
  name: given = '',
}: {
  readonly onDone: (report: SessionReport) => void;
  readonly name?: string;
}) {
  const [name, setName] = useState(given);
  const [password, setPassword] = useState('');
  const signIn = useMutation({
    mutationFn: () => ask('/api/sign-in', { method: 'POST', body: { name, password }, reply: SessionReport }),
    onSuccess: (report) => onDone(report),
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    signIn.mutate();
  };
  return (
    <form className="stack" onSubmit={submit}>
      <Field
        label={say`Name`}
        hint={say`In full, not your initials.`}
        value={name}
        onChange={setName}
        autoComplete="username"
        autoFocus={given === ''}
        isRequired
      />
      <Field
        label={say`Password`}
        type="password"
        value={password}
        onChange={setPassword}
        autoComplete="current-password"
        autoFocus={given !== ''}
        isRequired
      />
      {signIn.isError ? (
        <p className="notice bad" role="alert">
          {wordsOf(signIn.error)}
        </p>
      ) : null}
      {signIn.isPending ? <Working words={say`Signing in`} /> : null}
      <Button
        kind="main"
        type="submit"
        isDisabled={signIn.isPending || name === '' || password === ''}
      >{say`Sign in`}</Button>
    </form>
  );
}
