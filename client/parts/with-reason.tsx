/** What wants a reason: a part removed, or what it was added as put right. The reason stands in the ledger for good. */

import { type FormEvent, useRef, useState } from 'react';
import { say } from '#shared/words/say.ts';
import { newId, wordsOf } from '../door/ask.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';

export function WithReason(props: {
  readonly title: string;
  readonly words: string;
  readonly act: string;
  /** Records it under this id; answers when it was taken. */
  readonly onRecord: (reason: string, id: string) => Promise<void>;
  readonly onClose: () => void;
}) {
  const [reason, setReason] = useState('');
  const [failure, setFailure] = useState<string>();
  const [isSending, setSending] = useState(false);
  const id = useRef(newId());
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    setSending(true);
    setFailure(undefined);
    try {
      await props.onRecord(reason, id.current);
      props.onClose();
    } catch (error) {
      setFailure(wordsOf(error));
      setSending(false);
    }
  };
  return (
    <Dialog title={props.title} isOpen onClose={props.onClose}>
      <form className="stack" onSubmit={(event) => void submit(event)}>
        <p>{props.words}</p>
        <Field
          label={say`Reason`}
          value={reason}
          autoFocus
          onChange={(words) => {
            id.current = newId();
            setReason(words);
          }}
          hint={say`Stands in the ledger for good.`}
        />
        {failure === undefined ? null : (
          <p className="notice bad" role="alert">
            {failure}
          </p>
        )}
        <div className="acts">
          <Button kind="main" type="submit" isDisabled={isSending || reason.trim() === ''}>
            {props.act}
          </Button>
          <Button onPress={props.onClose}>{say`Cancel`}</Button>
        </div>
      </form>
    </Dialog>
  );
}
