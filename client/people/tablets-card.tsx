/** The lead's list of shared tablets: this browser can be made one, and each is taken away in a touch (rule N15). */

import { useMutation, useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { type Tablet, TabletList, USUAL_IDLE_MINUTES } from '#shared/contract/tablet.ts';
import { say } from '#shared/words/say.ts';
import { ask, ProblemError, wordsOf } from '../door/ask.ts';
import { queries } from '../door/queries.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { momentOf } from '../queue/words-of.ts';
import { rich } from '../words/rich.ts';

export function TabletsCard() {
  const [isMaking, setMaking] = useState(false);
  const tablets = useQuery({
    queryKey: ['tablets'],
    queryFn: async ({ signal }) => (await ask('/api/tablets', { reply: TabletList, signal })).tablets,
  });
  const list = tablets.data ?? [];
  return (
    <section className="stack" aria-labelledby="shared-tablets">
      <div className="row people-title">
        <h2 id="shared-tablets">{say`Shared tablets`}</h2>
        {tablets.data === undefined || list.some(({ isHere }) => isHere) ? null : (
          <Button onPress={() => setMaking(true)}>{say`Make this browser a shared tablet`}</Button>
        )}
      </div>
      <p className="soft">{say`On a shared tablet people choose their name and type a PIN, and weigh and read, whatever their role. Everybody sets a PIN under their own initials, at the top right.`}</p>
      {tablets.isPending ? <Waiting what={say`the tablets`} /> : null}
      {tablets.isLoadingError ? <Failed error={tablets.error} again={() => void tablets.refetch()} /> : null}
      {tablets.data !== undefined && list.length === 0 ? <p>{say`There is none yet.`}</p> : null}
      {list.length === 0 ? null : (
        <ul className="people" aria-label={say`Shared tablets`}>
          {list.map((tablet) => (
            <TabletRow key={tablet.id} tablet={tablet} />
          ))}
        </ul>
      )}
      {isMaking ? <MakeDialog onClose={() => setMaking(false)} /> : null}
    </section>
  );
}

function tabletsAre({ tablets }: { readonly tablets: readonly Tablet[] }): void {
  queries.setQueryData(['tablets'], tablets);
  void queries.invalidateQueries({ queryKey: ['session'] });
}

function TabletRow({ tablet }: { readonly tablet: Tablet }) {
  const [minutes, setMinutes] = useState(String(tablet.idleMinutes));
  const change = useMutation({
    mutationFn: () =>
      ask(`/api/tablets/${tablet.id}`, { method: 'PATCH', body: { idleMinutes: Number(minutes) }, reply: TabletList }),
    onSuccess: tabletsAre,
  });
  const takeAway = useMutation({
    mutationFn: () => ask(`/api/tablets/${tablet.id}/take-away`, { method: 'POST', body: {}, reply: TabletList }),
    onSuccess: tabletsAre,
  });
  const error = change.error ?? takeAway.error;
  const isChanged = minutes !== String(tablet.idleMinutes);
  return (
    <li className="card tablet">
      <div>
        <h3>
          {tablet.name}
          {tablet.isHere ? <span className="soft">{say` · this browser`}</span> : null}
        </h3>
        <p className="soft small">{rich`Last used ${momentOf(tablet.lastUsedAt)} from ${tablet.lastAddress}. Made by ${tablet.madeBy}, ${momentOf(tablet.madeAt)}.`}</p>
      </div>
      <div className="row tablet-minutes">
        <Field
          label={say`Minutes until ${tablet.name} locks`}
          value={minutes}
          onChange={setMinutes}
          inputMode="numeric"
          autoComplete="off"
        />
        {isChanged ? (
          <Button slim isDisabled={change.isPending} onPress={() => change.mutate()}>{say`Set`}</Button>
        ) : null}
      </div>
      <Button
        slim
        aria-label={say`Take away ${tablet.name}`}
        isDisabled={takeAway.isPending}
        onPress={() => takeAway.mutate()}
      >{say`Take away`}</Button>
      {error === null ? null : (
        <p className="notice bad person-problem" role="alert">
          {wordsOf(error)}
        </p>
      )}
    </li>
  );
}

function MakeDialog({ onClose }: { readonly onClose: () => void }) {
  const [name, setName] = useState('');
  const [minutes, setMinutes] = useState(String(USUAL_IDLE_MINUTES));
  const make = useMutation({
    mutationFn: () =>
      ask('/api/tablets', { method: 'POST', body: { name, idleMinutes: Number(minutes) }, reply: TabletList }),
    onSuccess: (list) => {
      tabletsAre(list);
      onClose();
    },
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    make.mutate();
  };
  const problem = (field: string) => (make.error instanceof ProblemError ? make.error.of(`/${field}`) : undefined);
  const isPlaced = problem('name') !== undefined || problem('idleMinutes') !== undefined;
  return (
    <Dialog title={say`Make this browser a shared tablet`} isOpen onClose={onClose} isForm>
      <form className="stack" onSubmit={submit}>
        <p className="soft">{say`Do this on the tablet itself. You stay signed in until it locks or you switch; keep it where only the shop gets at it.`}</p>
        <Field
          label={say`Name of the tablet`}
          value={name}
          onChange={setName}
          hint={say`Where it hangs, as “Trim bench”.`}
          problem={problem('name')}
          autoComplete="off"
          autoFocus
        />
        <Field
          label={say`Minutes without a touch until it locks`}
          value={minutes}
          onChange={setMinutes}
          inputMode="numeric"
          problem={problem('idleMinutes')}
          autoComplete="off"
        />
        {make.isError && !isPlaced ? (
          <p className="notice bad" role="alert">
            {wordsOf(make.error)}
          </p>
        ) : null}
        <div className="acts">
          <Button
            kind="main"
            type="submit"
            isDisabled={make.isPending || name.trim() === ''}
          >{say`Make it one`}</Button>
          <Button onPress={onClose}>{say`Cancel`}</Button>
        </div>
      </form>
    </Dialog>
  );
}
