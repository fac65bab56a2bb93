/** A draft: its remarks as they are typed, and its end. What is typed stays until it is saved, whatever the screen or the server does. */

import { useState } from 'react';
import { useLocation } from 'wouter';
import { BRIEF_SUBJECTS, type Brief, type BriefSubject, MOST_REMARK } from '#shared/contract/brief.ts';
import { say } from '#shared/words/say.ts';
import { newId, ProblemError, wordsOf } from '../door/ask.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { useHold } from '../pieces/leaving.ts';
import { Working } from '../pieces/states.tsx';
import { SUBJECT_WORDS } from '../words/brief.ts';
import { rich } from '../words/rich.ts';
import { useStateBrief } from './questions.ts';

type Typed = Readonly<Partial<Record<BriefSubject, string>>>;

export function DraftCard({ aircraftId, brief }: { readonly aircraftId: string; readonly brief: Brief }) {
  const { briefId, revision, remarks } = brief;
  const [, go] = useLocation();
  const [typed, setTyped] = useState<Typed>({});
  const [ending, setEnding] = useState<'issue' | 'drop'>();
  const state = useStateBrief(aircraftId, briefId);
  const now = { ...remarks, ...typed };
  const isTyped = BRIEF_SUBJECTS.some((about) => (now[about] ?? '').trim() !== (remarks[about] ?? ''));
  const isTooLong = BRIEF_SUBJECTS.some((about) => tooLong(now[about]) !== undefined);
  const holding = useHold(isTyped);
  const saved = () => setTyped({});
  const remark = () => ({ id: newId(), after: revision, act: 'remark' as const, remarks: now });
  const end = (act: 'issue' | 'drop') => {
    setEnding(undefined);
    const first = isTyped && act === 'issue' ? [remark()] : [];
    state.mutate([...first, { id: newId(), after: revision + first.length, act }], {
      onSuccess: () => {
        saved();
        if (act === 'drop') go(`/aircraft/${aircraftId}/brief`);
      },
    });
  };
  const hasMovedOn = state.error instanceof ProblemError && state.error.report.status === 409;
  return (
    <section className="card stack" aria-label={say`The draft`}>
      <h2>{say`This is a draft`}</h2>
      <p className="soft">{say`Remarks can be added until it is issued. An issued brief is fixed: nothing of it changes any more, whatever is recorded later.`}</p>
      <div className="brief-remarks">
        {BRIEF_SUBJECTS.map((about) => (
          <Field
            key={about}
            isLong
            label={say`Remark: ${SUBJECT_WORDS[about]}`}
            value={now[about] ?? ''}
            onChange={(words) => setTyped({ ...typed, [about]: words })}
            problem={tooLong(now[about])}
          />
        ))}
      </div>
      {state.isError ? (
        <div className="notice bad stack-tight" role="alert">
          <p>{wordsOf(state.error)}</p>
          {hasMovedOn && isTyped ? (
            <div className="row">
              <Button
                slim
                onPress={() => {
                  saved();
                  state.reset();
                }}
              >{say`Drop what I typed and show theirs`}</Button>
            </div>
          ) : null}
        </div>
      ) : null}
      <div className="row">
        <Button
          isDisabled={!isTyped || isTooLong || state.isPending}
          onPress={() => state.mutate([remark()], { onSuccess: saved })}
        >{say`Save the remarks`}</Button>
        <Button
          kind="main"
          isDisabled={isTooLong || state.isPending}
          onPress={() => setEnding('issue')}
        >{say`Issue the brief`}</Button>
        <Button
          kind="quiet"
          isDisabled={state.isPending}
          onPress={() => setEnding('drop')}
        >{say`Drop the draft`}</Button>
        {state.isPending ? <Working words={say`Saving`} /> : null}
        {isTyped && !state.isPending ? (
          <span className="soft small">{say`There are remarks that are not saved.`}</span>
        ) : null}
      </div>
      <Dialog title={say`Issue this brief?`} isOpen={ending === 'issue'} onClose={() => setEnding(undefined)}>
        <p>
          {rich`It gets its number and is fixed from then on, for everybody. ${isTyped ? say`The remarks that are not saved yet are saved with it.` : ''}`}
        </p>
        <div className="acts">
          <Button kind="main" onPress={() => end('issue')}>{say`Issue it`}</Button>
          <Button onPress={() => setEnding(undefined)}>{say`Not yet`}</Button>
        </div>
      </Dialog>
      <Dialog title={say`Drop this draft?`} isOpen={ending === 'drop'} onClose={() => setEnding(undefined)}>
        <p>{say`Its remarks go with it. Another brief can be made from the same entries at any time.`}</p>
        <div className="acts">
          <Button kind="main" onPress={() => end('drop')}>{say`Drop it`}</Button>
          <Button onPress={() => setEnding(undefined)}>{say`Keep it`}</Button>
        </div>
      </Dialog>
      <Dialog title={say`The remarks are not saved`} isOpen={holding.isAsking} onClose={holding.stay}>
        <p>{say`What you typed is lost when you leave.`}</p>
        <div className="acts">
          <Button kind="main" onPress={holding.stay}>{say`Stay here`}</Button>
          <Button onPress={holding.leave}>{say`Leave without them`}</Button>
        </div>
      </Dialog>
    </section>
  );
}

function tooLong(words = ''): string | undefined {
  const { length } = words.trim();
  return length > MOST_REMARK ? say`Shorten it: ${length} of at most ${MOST_REMARK} characters.` : undefined;
}
