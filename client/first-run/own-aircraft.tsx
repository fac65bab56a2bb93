/** A new aircraft in five questions: name, datum, units, targets, groups. Or in the first three, where a list comes next. */

import { useMutation } from '@tanstack/react-query';
import { type FormEvent, type ReactNode, useRef, useState } from 'react';
import { Link, useLocation } from 'wouter';
import { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { LENGTH_UNITS, type LengthUnit, MASS_UNITS, type MassUnit } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { ask, newId, ProblemError, wordsOf } from '../door/ask.ts';
import { queries } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button, Choice, Field } from '../pieces/controls.tsx';
import { Empty, Working } from '../pieces/states.tsx';
import { rich } from '../words/rich.ts';
import { GroupQuestion, type GroupRow, rowsOf, type SetChoice } from './group-question.tsx';
import './first-run.css';

const MASSES = MASS_UNITS.filter((unit) => unit === 'kg' || unit === 'lb').map((value) => ({ value, words: value }));
const LENGTHS = LENGTH_UNITS.filter((unit) => unit !== 'cm' && unit !== 'ft').map((value) => ({ value, words: value }));

/** Where a problem is told beside the answer it is about. */
const PLACES = ['/name', '/datum', '/empty mass', '/reserve', '/cg forward', '/cg aft'];

type Form = {
  readonly name: string;
  readonly datum: string;
  readonly target: string;
  readonly reserve: string;
  readonly cgForward: string;
  readonly cgAft: string;
};
const EMPTY: Form = { name: '', datum: '', target: '', reserve: '', cgForward: '', cgAft: '' };

type Answers = Form & {
  readonly massUnit: MassUnit;
  readonly lengthUnit: LengthUnit;
  readonly groups: readonly GroupRow[];
};

/** `then`: a list is brought next, which may have the targets too. */
export function OwnAircraft({ then }: { readonly then: 'ledger' | 'list' }) {
  const isLead = useMay('lead');
  const [form, setForm] = useState(EMPTY);
  const [massUnit, setMassUnit] = useState<MassUnit>('kg');
  const [lengthUnit, setLengthUnit] = useState<LengthUnit>('m');
  const [choice, setChoice] = useState<SetChoice>('functional');
  const [groups, setGroups] = useState(() => rowsOf('functional'));
  const begin = useBegin({ ...form, massUnit, lengthUnit, groups }, then);
  if (!isLead)
    return (
      <div className="narrow-page">
        <Empty isPage title={say`Only the lead begins an aircraft`}>
          <p>{say`Ask the lead of the shop.`}</p>
        </Empty>
      </div>
    );
  const set = (field: keyof Form) => (value: string) => setForm({ ...form, [field]: value });
  const problem = (pointer: string) => (begin.error instanceof ProblemError ? begin.error.of(pointer) : undefined);
  const ofGroups = problemOfGroups(begin.error);
  const isPlaced = ofGroups !== undefined || PLACES.some((pointer) => problem(pointer) !== undefined);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    begin.mutate();
  };
  const needed = then === 'list' ? [form.name, form.datum] : [form.name, form.datum, form.target];
  return (
    <div className="narrow-page stack">
      <h1>{then === 'list' ? say`Your own aircraft, before its list` : say`Your own aircraft`}</h1>
      {then === 'list' ? null : (
        <p>{rich`There is a parts list? ${<Link href="/new/list">{say`Bring it`}</Link>}: three of these questions are enough.`}</p>
      )}
      <form className="card stack" onSubmit={submit}>
        <Question number={1}>
          <Field label={say`Name`} value={form.name} onChange={set('name')} problem={problem('/name')} autoFocus />
        </Question>
        <Question number={2}>
          <Field
            label={say`Datum`}
            value={form.datum}
            onChange={set('datum')}
            hint={say`In words: where stations are measured from, positive aft. For example: 500 mm ahead of the bow.`}
            problem={problem('/datum')}
          />
        </Question>
        <Question number={3} title={say`Units`}>
          <Choice label={say`Masses are shown in`} options={MASSES} value={massUnit} onChange={setMassUnit} />
          <Choice label={say`Stations are shown in`} options={LENGTHS} value={lengthUnit} onChange={setLengthUnit} />
        </Question>
        {then === 'list' ? null : (
          <>
            <Question number={4} title={say`Targets`}>
              <p className="soft">{say`They can be revised later; every revision stays in the ledger.`}</p>
              <TargetFields form={form} set={set} massUnit={massUnit} lengthUnit={lengthUnit} problem={problem} />
            </Question>
            <Question number={5} title={say`Groups`}>
              <GroupQuestion
                choice={choice}
                rows={groups}
                massUnit={massUnit}
                problem={ofGroups}
                onChoice={(next) => {
                  setChoice(next);
                  setGroups(rowsOf(next));
                }}
                onRows={setGroups}
              />
            </Question>
          </>
        )}
        {begin.isError ? (
          <p className="notice bad" role="alert">
            {isPlaced
              ? say`Something above cannot be taken yet; what to change stands beside it.`
              : wordsOf(begin.error)}
          </p>
        ) : null}
        {begin.isPending ? <Working words={say`Beginning the aircraft`} /> : null}
        <Button kind="main" type="submit" isDisabled={begin.isPending || needed.some((answer) => answer.trim() === '')}>
          {then === 'list' ? say`Begin, then bring the list` : say`Begin`}
        </Button>
      </form>
    </div>
  );
}

function Question(props: { readonly number: number; readonly title?: string; readonly children: ReactNode }) {
  return (
    <section className="question">
      <span className="question-number" aria-hidden="true">
        {props.number}
      </span>
      <div className="stack">
        {props.title === undefined ? null : <h2>{props.title}</h2>}
        {props.children}
      </div>
    </section>
  );
}

function TargetFields(props: {
  readonly form: Form;
  readonly set: (field: keyof Form) => (value: string) => void;
  readonly massUnit: MassUnit;
  readonly lengthUnit: LengthUnit;
  readonly problem: (pointer: string) => string | undefined;
}) {
  const { form, set, massUnit, lengthUnit, problem } = props;
  return (
    <div className="two-fields">
      <Field
        label={say`Empty-weight target`}
        unit={massUnit}
        value={form.target}
        onChange={set('target')}
        problem={problem('/empty mass')}
      />
      <Field
        label={say`Reserve`}
        unit={massUnit}
        value={form.reserve}
        onChange={set('reserve')}
        hint={say`Of the target. None if left empty.`}
        problem={problem('/reserve')}
      />
      <Field
        label={say`CG range, forward end`}
        unit={lengthUnit}
        value={form.cgForward}
        onChange={set('cgForward')}
        hint={say`Of the empty aircraft. May be left empty for now, as may the aft end.`}
        problem={problem('/cg forward')}
      />
      <Field
        label={say`CG range, aft end`}
        unit={lengthUnit}
        value={form.cgAft}
        onChange={set('cgAft')}
        problem={problem('/cg aft')}
      />
    </div>
  );
}

function useBegin(answers: Answers, then: 'ledger' | 'list') {
  const [, go] = useLocation();
  const made = useRef<AircraftReport>(undefined);
  const targetsId = useRef(newId());
  return useMutation({
    mutationFn: async () => {
      const { name, datum, massUnit, lengthUnit } = answers;
      // Made once: if the targets are refused, only they are sent again.
      made.current ??= await ask('/api/aircraft', {
        method: 'POST',
        body: { name, datum, massUnit, lengthUnit },
        reply: AircraftReport,
      });
      const { id } = made.current;
      if (then === 'ledger') {
        const body = { id: targetsId.current, kind: 'targets', ...targetsOf(answers) };
        await ask(`/api/aircraft/${id}/entries`, { method: 'POST', body, reply: RecordedReport });
      }
      return id;
    },
    onSuccess: async (id) => {
      await queries.invalidateQueries({ queryKey: ['aircraft'] });
      go(`/aircraft/${id}/${then === 'list' ? 'bring' : 'ledger'}`);
    },
  });
}

function targetsOf({ target, reserve, cgForward, cgAft, massUnit, lengthUnit, groups }: Answers) {
  const inCase = (field: string, text: string, unit: string) =>
    text.trim() === '' ? {} : { [field]: withUnit(text, unit) };
  const listed = groups.filter(({ group }) => group.trim() !== '');
  return {
    'empty mass': withUnit(target, massUnit),
    ...inCase('reserve', reserve, massUnit),
    ...inCase('cg forward', cgForward, lengthUnit),
    ...inCase('cg aft', cgAft, lengthUnit),
    ...(listed.length === 0
      ? {}
      : {
          groups: Object.fromEntries(
            listed.map((row) => [row.group.trim(), row.target.trim() === '' ? '' : withUnit(row.target, massUnit)]),
          ),
        }),
  };
}

function withUnit(text: string, unit: string): string {
  return /^[\s\d.,+-]*$/.test(text) ? `${text} ${unit}` : text;
}

function problemOfGroups(error: unknown): string | undefined {
  if (!(error instanceof ProblemError)) return undefined;
  const told = error.report.problems?.filter(({ pointer }) => pointer.startsWith('/groups')) ?? [];
  return told.length === 0 ? undefined : told.map(({ words, remedy }) => `${words} ${remedy}`).join(' ');
}
