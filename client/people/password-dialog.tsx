/** Changes the own password. All other sessions of the person end. */

import { useMutation } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { z } from 'zod';
import { say } from '#shared/words/say.ts';
import { ask, ProblemError, wordsOf } from '../door/ask.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';

export function PasswordDialog({ isOpen, onClose }: { readonly isOpen: boolean; readonly onClose: () => void }) {
  const [current, setCurrent] = useState('');
  const [next, setNext] = useState('');
  const change = useMutation({
    mutationFn: () => ask('/api/password', { method: 'POST', body: { current, next }, reply: z.unknown() }),
    onSuccess: () => {
      setCurrent('');
      setNext('');
    },
  });
  const close = () => {
    change.reset();
    onClose();
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    change.mutate();
  };
  const problem = change.error instanceof ProblemError ? change.error.of('/next') : undefined;
  return (
    <Dialog title={say`Change password`} isOpen={isOpen} onClose={close}>
      {change.isSuccess ? (
        <>
          <p className="notice good">{say`The password is changed. Other devices are signed out.`}</p>
          <Button kind="main" onPress={close}>{say`Done`}</Button>
        </>
      ) : (
        <form className="stack" onSubmit={submit}>
          <Field
            label={say`Present password`}
            type="password"
            value={current}
            onChange={setCurrent}
            autoComplete="current-password"
          />
          <Field
            label={say`New password`}
            type="password"
            value={next}
            onChange={setNext}
            autoComplete="new-password"
            hint={say`At least 10 characters; a few words are good.`}
            problem={problem}
          />
          {change.isError && problem === undefined ? (
            <p className="notice bad" role="alert">
              {wordsOf(change.error)}
            </p>
          ) : null}
          <div className="acts">
            <Button
              kind="main"
              type="submit"
              isDisabled={change.isPending || current === '' || next === ''}
            >{say`Change`}</Button>
            <Button onPress={close}>{say`Cancel`}</Button>
          </div>
        </form>
      )}
    </Dialog>
  );
}
