/** Sets the own PIN for shared tablets, or takes it away. */

import { useMutation } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { SessionReport } from '#shared/contract/people.ts';
import { say } from '#shared/words/say.ts';
import { ask, ProblemError, wordsOf } from '../door/ask.ts';
import { queries } from '../door/queries.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';

export function PinDialog(props: { readonly hasPin: boolean; readonly isOpen: boolean; readonly onClose: () => void }) {
  const [password, setPassword] = useState('');
  const [pin, setPin] = useState('');
  const change = useMutation({
    mutationFn: (next: string | null) =>
      ask('/api/pin', { method: 'POST', body: { password, pin: next }, reply: SessionReport }),
    onMutate: () => ({ hadPin: props.hasPin }),
    onSuccess: (report) => {
      queries.setQueryData(['session'], report);
      setPassword('');
      setPin('');
    },
  });
  const close = () => {
    change.reset();
    setPassword('');
    setPin('');
    props.onClose();
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    change.mutate(pin);
  };
  const problem = change.error instanceof ProblemError ? change.error.of('/pin') : undefined;
  const isNone = change.isSuccess && change.variables === null;
  return (
    <Dialog title={say`PIN for shared tablets`} isOpen={props.isOpen} onClose={close} isForm>
      {change.isSuccess ? (
        <>
          <p className="notice good">
            {isNone ? say`You have no PIN any more.` : say`The PIN is set.`}
            {change.context?.hadPin === true ? say` Whoever was signed in with the one before is signed out.` : ''}
          </p>
          <Button kind="main" onPress={close}>{say`Done`}</Button>
        </>
      ) : (
        <form className="stack" onSubmit={submit}>
          <p className="soft">{say`With it you choose your name on a tablet that a lead has made a shared one, and weigh and read there. It opens nothing else.`}</p>
          <Field
            label={say`Your password`}
            type="password"
            value={password}
            onChange={setPassword}
            autoComplete="current-password"
          />
          <Field
            label={props.hasPin ? say`New PIN` : say`PIN`}
            type="password"
            value={pin}
            onChange={setPin}
            inputMode="numeric"
            autoComplete="off"
            hint={say`4 to 8 digits, not one over and over nor in a row. Not a PIN that you use elsewhere.`}
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
              isDisabled={change.isPending || password === '' || pin === ''}
            >{say`Set the PIN`}</Button>
            {props.hasPin ? (
              <Button
                isDisabled={change.isPending || password === ''}
                onPress={() => change.mutate(null)}
              >{say`Have no PIN`}</Button>
            ) : null}
            <Button onPress={close}>{say`Cancel`}</Button>
          </div>
        </form>
      )}
    </Dialog>
  );
}
