/** The walk along the chain (rule L5): is every entry as it was recorded, and if not, what now? */

import { useMutation } from '@tanstack/react-query';
import { useState } from 'react';
import { type AircraftReport, VerifyReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { ask } from '../door/ask.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed } from '../pieces/states.tsx';
import { rich } from '../words/rich.ts';
import { CheckpointButton } from './checkpoint-button.tsx';

export function VerifySection({ aircraft }: { readonly aircraft: AircraftReport }) {
  const isLead = useMay('lead');
  const walk = useMutation({
    mutationFn: () => ask(`/api/aircraft/${aircraft.id}/verify`, { reply: VerifyReport }),
  });
  return (
    <section className="card stack" aria-label={say`Verify the ledger`}>
      <h2>{say`Verify the ledger`}</h2>
      <p>{say`Every entry carries a hash, a check sum of its own text and of the entry before it. The walk reckons each of them anew: an entry that was changed, put in or taken out behind Tarebook's back no longer fits.`}</p>
      {isLead ? (
        <div>
          <Button kind="main" onPress={() => walk.mutate()} isDisabled={walk.isPending}>
            {walk.isPending ? say`Walking …` : walk.data === undefined ? say`Walk the ledger` : say`Walk it again`}
          </Button>
        </div>
      ) : (
        <p className="soft">{say`The lead walks the ledger.`}</p>
      )}
      <div aria-live="polite" className="stack">
        {walk.isError ? <Failed error={walk.error} again={() => walk.mutate()} /> : null}
        {walk.data === undefined ? null : walk.data.ok ? (
          <Whole count={walk.data.entryCount} hash={walk.data.headHash} />
        ) : (
          <Broken seq={walk.data.seq} words={walk.data.words} />
        )}
      </div>
      {isLead ? <CheckpointButton aircraft={aircraft} /> : null}
    </section>
  );
}

function Whole({ count, hash }: { readonly count: number; readonly hash: string }) {
  return (
    <div className="notice good stack-tight">
      <p>
        <strong>{say`● The ledger is whole.`}</strong>{' '}
        {count === 1 ? say`Its one entry fits.` : say`All ${count} entries fit, each to the one before it.`}
      </p>
      <p>{say`Hash of the last entry:`}</p>
      <div className="row">
        <code className="hash">{hash}</code>
        <CopyButton text={hash} />
      </div>
      <p className="soft small">{rich`Keep it outside of Tarebook, with the number ${count} and the day. A ledger that is rewritten as a whole still fits in itself, but entry ${count} will have another hash than the one you kept.`}</p>
    </div>
  );
}

function CopyButton({ text }: { readonly text: string }) {
  const [words, setWords] = useState('Copy');
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      setWords(say`Copied`);
    } catch {
      // Over plain http a browser has no clipboard for pages: the text can still be marked and copied by hand.
      setWords(say`Cannot copy here: mark it and copy`);
    }
  };
  return (
    <Button slim onPress={() => void copy()}>
      {words}
    </Button>
  );
}

function Broken({ seq, words }: { readonly seq: number; readonly words: string }) {
  return (
    <div className="notice bad stack-tight" role="alert">
      <p>
        <strong>{rich`▲ Entry ${seq} does not fit.`}</strong> {words}
      </p>
      <p>
        {seq > 1
          ? say`Entries 1 to ${seq - 1} fit each other; whether they are as they were recorded, a checkpoint on paper tells. Do not rely on what comes after them.`
          : say`Do not rely on this ledger.`}
      </p>
      <ol className="steps">
        <li>{say`Record nothing more, and let nobody change the database.`}</li>
        <li>{say`Stop Tarebook and copy the data folder, or the database, as it is: it is the evidence.`}</li>
        <li>{say`Find out who had a hand in the database since the ledger was last found whole.`}</li>
        <li>{say`Bring back the last copy that is found whole, and record what was made since again from paper.`}</li>
      </ol>
    </div>
  );
}
