/** A lead sets another password for somebody who has lost theirs; everywhere they are signed in ends (rule N2). */

import { useMutation } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { z } from 'zod';
import type { Person } from '#shared/contract/people.ts';
import { say } from '#shared/words/say.ts';
import { ask, ProblemError, wordsOf } from '../door/ask.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { rich } from '../words/rich.ts';

export function NewPassword({ person }: { readonly person: Person }) {
  const [isOpen, setOpen] = useState(false);
  return (
    <>
      <Button
        slim
        onPress={() => setOpen(true)}
        aria-label={say`New password for ${person.name}`}
      >{say`New password`}</Button>
      {isOpen ? <Ask person={person} onClose={() => setOpen(false)} /> : null}
    </>
  );
}

function Ask({ person, onClose }: { readonly person: Person; readonly onClose: () => void }) {
  const [password, setPassword] = useState('');
  const set = useMutation({
    mutationFn: () => ask(`/api/people/${person.id}`, { method: 'PATCH', body: { password }, reply: z.unknown() }),
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    set.mutate();
  };
  const problem = set.error instanceof ProblemError ? set.error.of('/password') : undefined;
  return (
    <Dialog title={say`New password for ${person.name}`} isOpen onClose={onClose}>
      {set.isSuccess ? (
        <>
          <p className="notice good">{rich`Set. Tell it to ${person.name}: every device of theirs is signed out, and they change it under their initials.`}</p>
          <Button kind="main" onPress={onClose}>{say`Done`}</Button>
        </>
      ) : (
        <form className="stack" onSubmit={submit}>
          <Field
            label={say`New password`}
            type="password"
            value={password}
            onChange={setPassword}
            hint={say`At least 10 characters; a few words are good.`}
            problem={problem}
            autoComplete="new-password"
            autoFocus
          />
          {set.isError && problem === undefined ? (
            <p className="notice bad" role="alert">
              {wordsOf(set.error)}
            </p>
          ) : null}
          <div className="acts">
            <Button kind="main" type="submit" isDisabled={set.isPending || password === ''}>{say`Set it`}</Button>
            <Button onPress={onClose}>{say`Cancel`}</Button>
          </div>
        </form>
      )}
    </Dialog>
  );
}
