/** A draft: its remarks as they are typed, and its end. What is typed stays until it is saved, whatever the screen or the server does. */
import { useState } from 'react';
import { useLocation } from 'wouter';
import { BRIEF_SUBJECTS, type Brief, type BriefSubject, MOST_REMARK } from '#shared/contract/brief.ts';
import { newId, ProblemError, wordsOf } from '../door/ask.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { useHold } from '../pieces/leaving.ts';
import { Working } from '../pieces/states.tsx';
import { SUBJECT_WORDS } from '../words/brief.ts';
import { useStateBrief } from './questions.ts';

type Typed = Readonly<Partial<Record<BriefSubject, string>>>;

export function DraftCard({ aircraftId, brief }: { readonly aircraftId: string; readonly brief: Brief }) {
  const { briefId, revision, remarks } = brief;
  const [, go] = useLocation();
  const [typed, setTyped] = useState<Typed>({});
  const [ending, setEnding] = useState<'issue' | 'drop'>();
  const say = useStateBrief(aircraftId, briefId);
  const now = { ...remarks, ...typed };
  const isTyped = BRIEF_SUBJECTS.some((about) => (now[about] ?? '').trim() !== (remarks[about] ?? ''));
  const isTooLong = BRIEF_SUBJECTS.some((about) => tooLong(now[about]) !== undefined);
  const holding = useHold(isTyped);
  const saved = () => setTyped({});
  const remark = () => ({ id: newId(), after: revision, act: 'remark' as const, remarks: now });
  const end = (act: 'issue' | 'drop') => {
    setEnding(undefined);
    const first = isTyped && act === 'issue' ? [remark()] : [];
    say.mutate([...first, { id: newId(), after: revision + first.length, act }], {
      onSuccess: () => {
        saved();
        if (act === 'drop') go(`/aircraft/${aircraftId}/brief`);
      },
    });
  };
  const hasMovedOn = say.error instanceof ProblemError && say.error.report.status === 409;
  return (
    <section className="card stack" aria-label="The draft">
      <h2>This is a draft</h2>
      <p className="soft">
        Remarks can be added until it is issued. An issued brief is fixed: nothing of it changes any more, whatever is
        recorded later.
      </p>
      <div className="brief-remarks">
        {BRIEF_SUBJECTS.map((about) => (
          <Field
            key={about}
            isLong
            label={`Remark: ${SUBJECT_WORDS[about]}`}
            value={now[about] ?? ''}
            onChange={(words) => setTyped({ ...typed, [about]: words })}
            problem={tooLong(now[about])}
          />
        ))}
      </div>
      {say.isError ? (
        <div className="notice bad stack-tight" role="alert">
          <p>{wordsOf(say.error)}</p>
          {hasMovedOn && isTyped ? (
            <div className="row">
              <Button
                slim
                onPress={() => {
                  saved();
                  say.reset();
                }}
              >
                Drop what I typed and show theirs
              </Button>
            </div>
          ) : null}
        </div>
      ) : null}
      <div className="row">
        <Button
          isDisabled={!isTyped || isTooLong || say.isPending}
          onPress={() => say.mutate([remark()], { onSuccess: saved })}
        >
          Save the remarks
        </Button>
        <Button kind="main" isDisabled={isTooLong || say.isPending} onPress={() => setEnding('issue')}>
          Issue the brief
        </Button>
        <Button kind="quiet" isDisabled={say.isPending} onPress={() => setEnding('drop')}>
          Drop the draft
        </Button>
        {say.isPending ? <Working words="Saving" /> : null}
        {isTyped && !say.isPending ? <span className="soft small">There are remarks that are not saved.</span> : null}
      </div>
      <Dialog title="Issue this brief?" isOpen={ending === 'issue'} onClose={() => setEnding(undefined)}>
        <p>
          It gets its number and is fixed from then on, for everybody.{' '}
          {isTyped ? 'The remarks that are not saved yet are saved with it.' : ''}
        </p>
        <div className="acts">
          <Button kind="main" onPress={() => end('issue')}>
            Issue it
          </Button>
          <Button onPress={() => setEnding(undefined)}>Not yet</Button>
        </div>
      </Dialog>
      <Dialog title="Drop this draft?" isOpen={ending === 'drop'} onClose={() => setEnding(undefined)}>
        <p>Its remarks go with it. Another brief can be made from the same entries at any time.</p>
        <div className="acts">
          <Button kind="main" onPress={() => end('drop')}>
            Drop it
          </Button>
          <Button onPress={() => setEnding(undefined)}>Keep it</Button>
        </div>
      </Dialog>
      <Dialog title="The remarks are not saved" isOpen={holding.isAsking} onClose={holding.stay}>
        <p>What you typed is lost when you leave.</p>
        <div className="acts">
          <Button kind="main" onPress={holding.stay}>
            Stay here
          </Button>
          <Button onPress={holding.leave}>Leave without them</Button>
        </div>
      </Dialog>
    </section>
  );
}

function tooLong(words = ''): string | undefined {
  const { length } = words.trim();
  return length > MOST_REMARK ? `Shorten it: ${length} of at most ${MOST_REMARK} characters.` : undefined;
}
