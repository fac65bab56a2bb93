/** Gives a weighing up that was not signed, once it is asked. */

import { useState } from 'react';
import { say } from '#shared/words/say.ts';
import { wordsOf } from '../door/ask.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import type { Draft } from './use-draft.ts';

export function DropButton({ draft }: { readonly draft: Draft }) {
  const may = useMay('engineer');
  const [isOpen, setOpen] = useState(false);
  const [told, setTold] = useState<string>();
  if (!may) return null;
  const drop = async () => {
    try {
      if (!(await draft.drop())) setTold(say`Somebody has typed in it since. Look again, and give it up then.`);
    } catch (error) {
      setTold(wordsOf(error));
    }
  };
  return (
    <>
      <Button slim kind="quiet" onPress={() => setOpen(true)}>{say`Give it up …`}</Button>
      {isOpen ? (
        <Dialog title={say`Give this weighing up?`} isOpen onClose={() => setOpen(false)}>
          <div className="stack">
            <p>{say`Everything that was typed into it goes, on every device. Nothing of it is in the ledger.`}</p>
            {told === undefined ? null : (
              <p className="notice bad" role="alert">
                {told}
              </p>
            )}
            <div className="row">
              <Button kind="main" onPress={() => void drop()}>{say`Give it up`}</Button>
              <Button onPress={() => setOpen(false)}>{say`Keep it`}</Button>
            </div>
          </div>
        </Dialog>
      ) : null}
    </>
  );
}
