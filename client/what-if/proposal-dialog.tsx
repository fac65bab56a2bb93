/** Keeps the changes as a proposal, keeps an idea that has only a stated saving, or states a proposal anew (rule F8). */

import { useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import {
  type KeptProposal,
  PROPOSAL_STATES,
  type ProposalReport,
  type ProposalState,
  type SentChange,
} from '#shared/contract/proposal.ts';
import { plain } from '#shared/quantity/in-words.ts';
import { MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { ProblemError, wordsOf } from '../door/ask.ts';
import { usePerson } from '../frame/signed-in.ts';
import { Button, Choice, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { typedWith } from '../pieces/typed-units.ts';
import { type Shown, shownIn } from '../pieces/units.ts';
import { useDraft } from '../record/draft.ts';
import { STATE_WORDS } from '../words/proposals.ts';
import { useKeep } from './questions.ts';

const FIELDS = ['title', 'owner', 'saving', 'likelihood', 'due', 'state', 'reason'] as const;
const STATES = PROPOSAL_STATES.map((value) => ({ value, words: STATE_WORDS[value] }));

export function ProposalDialog(props: {
  readonly aircraft: AircraftReport;
  /** The proposal that is stated anew; undefined for a new one. */
  readonly before: ProposalReport | undefined;
  /** The changes that are kept with it; undefined where they stay as they are, or where there are none. */
  readonly changes: readonly SentChange[] | undefined;
  /** The changes it has then, in words, and what they save. */
  readonly says: readonly string[];
  readonly onKept: (kept: KeptProposal, title: string) => void;
  readonly onClose: () => void;
}) {
  const { aircraft, before, changes } = props;
  const shown = shownIn(aircraft);
  const person = usePerson();
  const key = say`${aircraft.id} proposal ${before === undefined ? say`new` : `${before.proposalId} ${before.revision}`}`;
  const draft = useDraft(`${key} ${changes === undefined ? '' : say`with changes`}`, () =>
    wordsBefore(before, shown, person.name),
  );
  const [touched, setTouched] = useState<ReadonlySet<string>>(new Set());
  const word = (field: (typeof FIELDS)[number]) => draft.form[field] ?? '';
  const keep = useKeep(aircraft.id, before?.proposalId, (kept) => {
    draft.forget();
    props.onKept(kept, word('title').trim());
  });
  const set = (field: (typeof FIELDS)[number], text: string) => {
    draft.set({ [field]: text });
    setTouched((fields) => new Set([...fields, field]));
  };
  const problemAt = (field: string) =>
    keep.error instanceof ProblemError && !touched.has(field) ? keep.error.of(`/${field}`) : undefined;
  const hasChanges = props.says.length > 0;
  const state = PROPOSAL_STATES.find((one) => one === word('state')) ?? 'open';
  const send = () => {
    setTouched(new Set());
    keep.mutate({
      id: draft.id,
      ...filled({
        ...{ title: word('title'), owner: word('owner'), due: word('due'), state },
        likelihood: word('likelihood'),
        reason: state === 'dropped' ? word('reason') : '',
        saving: hasChanges || word('saving').trim() === '' ? '' : typedWith(word('saving').trim(), shown.units.mass),
      }),
      ...(changes === undefined ? {} : { changes }),
      ...(before === undefined ? {} : { after: before.revision }),
    });
  };
  const field = (name: 'title' | 'owner' | 'likelihood' | 'due' | 'saving' | 'reason') => ({
    value: word(name),
    onChange: (text: string) => set(name, text),
    problem: problemAt(name),
    autoComplete: 'off',
  });
  return (
    <Dialog
      title={before === undefined ? say`Keep as a proposal` : say`Change the proposal`}
      isOpen
      isForm
      onClose={props.onClose}
    >
      <form
        className="stack"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          send();
        }}
      >
        {hasChanges ? (
          <ul className="said small">
            {props.says.map((says) => (
              <li key={says}>{says}</li>
            ))}
          </ul>
        ) : null}
        <Field label={say`Title`} autoFocus {...field('title')} />
        <div className="field-grid">
          <Field label={say`Owner`} {...field('owner')} />
          {hasChanges ? null : <Field label={say`Expected saving`} unit={shown.units.mass} {...field('saving')} />}
          <Field label={say`Likelihood`} unit="%" {...field('likelihood')} />
          <Field label={say`Due`} type="date" {...field('due')} />
        </div>
        <Choice<ProposalState>
          label={say`State`}
          options={STATES}
          value={state}
          onChange={(next) => set('state', next)}
          problem={problemAt('state')}
        />
        {state === 'dropped' ? <Field label={say`Why it is dropped`} {...field('reason')} /> : null}
        <p className="soft small">{say`The ledger stays as it is. Each change of a proposal is kept with your initials.`}</p>
        <Refused error={keep.error} touched={touched} />
        <div className="acts">
          <Button kind="main" type="submit" isDisabled={keep.isPending}>
            {before === undefined ? say`Keep the proposal` : say`Keep the change`}
          </Button>
          <Button onPress={props.onClose}>{say`Cancel`}</Button>
        </div>
      </form>
    </Dialog>
  );
}

/** What is refused and stands at no field of this form. */
function Refused({ error, touched }: { readonly error: unknown; readonly touched: ReadonlySet<string> }) {
  if (error === null) return null;
  const problems = error instanceof ProblemError ? (error.report.problems ?? []) : [];
  const named = new Set(FIELDS.map((field) => `/${field}`));
  const elsewhere = problems.filter(({ pointer }) => !named.has(pointer));
  if (problems.length > 0 && elsewhere.length === 0 && problems.every(({ pointer }) => touched.has(pointer.slice(1))))
    return null;
  return (
    <p className="notice bad" role="alert">
      {problems.length === 0
        ? say`Not kept. ${wordsOf(error)}`
        : elsewhere.length === 0
          ? say`Not kept: what to change stands beside its field above.`
          : elsewhere.map(({ words, remedy }) => `${words} ${remedy}`).join(' ')}
    </p>
  );
}

function wordsBefore(before: ProposalReport | undefined, shown: Shown, owner: string): Record<string, string> {
  if (before === undefined) return { owner, likelihood: '', state: 'open' };
  const { title, likelihood, due, state, reason = '', isStated, savingKg } = before;
  return {
    ...{ title, owner: before.owner, due, state, reason },
    likelihood: plain(likelihood * 100),
    saving: isStated ? plain(savingKg / MASS_UNIT_KG[shown.units.mass]) : '',
  };
}

function filled(words: Readonly<Record<string, string>>): Record<string, string> {
  return Object.fromEntries(Object.entries(words).filter(([, text]) => text.trim() !== ''));
}
