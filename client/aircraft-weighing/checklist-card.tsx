/** What is looked at before anybody signs (rule A2): each yes, or no with a word on what was done instead. */

import { checkField } from '#shared/aircraft-weighing/draft.ts';
import { CHECKS } from '#shared/aircraft-weighing/weighing.ts';
import { say } from '#shared/words/say.ts';
import { Choice } from '../pieces/controls.tsx';
import { CHECK_WORDS } from '../words/aircraft-weighing.ts';
import { rich } from '../words/rich.ts';
import { WordField } from './supports-card.tsx';
import type { Weighing } from './use-weighing.ts';

const ANSWERS = [
  { value: 'yes', words: say`yes` },
  { value: 'no', words: say`no` },
] as const;

export function ChecklistCard({ of, levelling }: { readonly of: Weighing; readonly levelling: string | undefined }) {
  return (
    <section className="card stack" aria-label={say`Checklist`}>
      <h2>{say`Checklist`}</h2>
      {levelling === undefined ? null : <p className="soft">{rich`Levelled by: ${levelling}`}</p>}
      <ul className="weighing-rows checks">
        {CHECKS.map((check) => {
          const so = of.draft.words[checkField(check, 'so')];
          return (
            <li key={check} className="stack-tight">
              <Choice
                label={CHECK_WORDS[check]}
                options={ANSWERS}
                value={so === 'yes' || so === 'no' ? so : undefined}
                onChange={(answer) => of.draft.set(checkField(check, 'so'), answer)}
              />
              {so === 'no' || (of.draft.words[checkField(check, 'words')] ?? '') !== '' ? (
                <WordField of={of} field={checkField(check, 'words')} label={say`What was done instead`} />
              ) : null}
            </li>
          );
        })}
      </ul>
      {of.problemsOf('checklist').map((words) => (
        <p key={words} className="problem" role="alert">
          {words}
        </p>
      ))}
    </section>
  );
}
