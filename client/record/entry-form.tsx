/** The form of one kind of entry: its fields, the day, a remark, and what the ledger refuses of it, each at its place. */

import { type FormEvent, type ReactNode, useEffect, useMemo, useRef, useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { estimateToSend, leavesLayUp, type StandingEstimate } from '#shared/estimate/in-words.ts';
import { say } from '#shared/words/say.ts';
import { useParts, useScales } from '../door/queries.ts';
import { Button, Choice, Field } from '../pieces/controls.tsx';
import { today } from '../words/days.ts';
import { LEAVES_LAY_UP } from '../words/lay-up.ts';
import type { Draft } from './draft.ts';
import { EntryFields } from './entry-fields.tsx';
import type { FieldSpec, Form } from './field-spec.ts';
import { wordsOfForm } from './form-words.ts';
import { KIND_SPECS, type Kind } from './kinds.ts';
import { SlipNotice, useSlip } from './slip-notice.tsx';
import { BAR_FIELDS, BarAnswer, SUPPORT_FIELDS, SupportsAnswer, SupportsPicture } from './supports.tsx';
import { useRecord } from './use-record.ts';

const ARM_WAYS = [
  { value: 'station', words: say`A station, measured` },
  { value: 'on two supports', words: say`Loads on two supports` },
  { value: 'balanced on a bar', words: say`Balanced on a bar` },
  { value: 'by hand', words: say`By hand` },
] as const;
const HOW: FieldSpec = { name: 'how', label: say`How it was measured`, is: 'picker' };

export function EntryForm(props: {
  readonly aircraft: AircraftReport;
  readonly kind: Kind;
  readonly draft: Draft;
  /** Below the replaced entry the fields of a correction have their refusals. */
  readonly under?: '/replacement';
  /** What is sent, of the words of the fields and the day. */
  readonly body: (words: Readonly<Record<string, unknown>>) => Readonly<Record<string, unknown>>;
  readonly before?: ReactNode;
  /** The estimate that is stated anew: what has no field of its own goes on with it. */
  readonly standing?: StandingEstimate | undefined;
  /** Fields of the correction itself, which have their refusals at the top. */
  readonly after?: (problemAt: (pointer: string) => string | undefined) => ReactNode;
  readonly isStruck?: boolean;
  /** Names of fields that are not asked for here, or are laid out in `after`; `happenedOn` is the day. */
  readonly without?: readonly string[];
  /** Of targets that are corrected: what they are held against. */
  readonly predictedKg?: number | undefined;
  /** What is asked before it is sent; `look` leads there. */
  readonly doubt?: { readonly isWaiting: boolean; readonly isOpen: boolean; readonly look: () => void };
  readonly main: string;
  readonly onRecorded: (recorded: RecordedReport) => void;
  readonly onClose: () => void;
}) {
  const { aircraft, kind, draft, under = '', without = NONE } = props;
  const parts = useParts(aircraft.id).data?.parts ?? NONE;
  const scales = useScales(aircraft.id).data;
  const scaleNames = useMemo(() => scales?.map(({ scale }) => scale) ?? [], [scales]);
  const spec = KIND_SPECS[kind];
  const asked = props.isStruck === true ? [] : fieldsAsked(kind, spec.fields, draft.form);
  const fields = asked.filter(({ name }) => !without.includes(name));
  const record = useRecord(aircraft, (recorded) => {
    draft.forget();
    props.onRecorded(recorded);
  });
  const shown = [...asked.map(({ name }) => `${under}/${name}`), `${under}/happenedOn`, '/remark', '/reason'];
  const refusal = record.refusal(shown);
  const form = useRef<HTMLFormElement>(null);
  useEffect(() => {
    if (refusal !== undefined) form.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
  }, [refusal]);
  const words = wordsOfForm(draft.form, kind === 'arm measured' ? [HOW, ...fields] : fields, aircraft);
  const isLeft = kind === 'estimate' && props.isStruck !== true && leavesLayUp(words, props.standing);
  const slip = useSlip({
    aircraft,
    kind,
    form: draft.form,
    standingKg: under === '' ? props.standing?.massKg : undefined,
    predictedKg: props.predictedKg,
  });
  const isSlip = slip.isOpen && props.isStruck !== true;
  const [isAsked, setAsked] = useState(false);
  const { doubt } = props;
  // Sent before the judgement was there: it goes on when it is.
  const goesOn = isAsked && doubt?.isWaiting !== true;
  useEffect(() => {
    if (!goesOn) return;
    setAsked(false);
    form.current?.requestSubmit();
  }, [goesOn]);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (doubt?.isWaiting === true) return setAsked(true);
    if (doubt?.isOpen === true) return doubt.look();
    if (isSlip) return slip.notice.current?.querySelector('button')?.focus();
    if (!record.isSending) record.send(props.body(kind === 'estimate' ? estimateToSend(words, props.standing) : words));
  };
  const set = (changed: Form) => {
    record.touch(Object.keys(changed));
    draft.set(changed);
  };
  const problemOf = (name: string) => record.problemAt(`${under}/${name}`);
  return (
    <form className="stack" onSubmit={submit} ref={form} noValidate>
      {props.before}
      {props.isStruck === true ? (
        <p className="notice">{say`It then counts as never made, and so does everything that corrected it before. To go back to what an earlier correction said, say it anew instead.`}</p>
      ) : (
        <>
          {kind === 'arm measured' ? <ArmWay draft={draft} /> : null}
          <EntryFields
            aircraft={aircraft}
            parts={parts}
            scales={scaleNames}
            form={draft.form}
            set={set}
            problemOf={problemOf}
            fields={fields}
            more={spec.more}
          />
          {kind === 'arm measured' ? <ArmAnswer form={draft.form} aircraft={aircraft} /> : null}
          {without.includes('happenedOn') ? null : (
            <div className="field-grid">
              <Field
                label={say`Day`}
                type="date"
                value={draft.form['happenedOn'] ?? today()}
                onChange={(happenedOn) => set({ happenedOn })}
                problem={problemOf('happenedOn')}
              />
            </div>
          )}
        </>
      )}
      <div role="status">{isLeft ? <p className="notice warn">{LEAVES_LAY_UP}</p> : null}</div>
      {props.isStruck === true ? null : <SlipNotice slip={slip} onMeant={set} />}
      {props.after?.(record.problemAt)}
      {refusal === undefined ? null : (
        <p className="notice bad" role="alert">
          {refusal}
        </p>
      )}
      <div className="acts">
        <Button kind="main" type="submit" isDisabled={record.isSending}>
          {record.isSending ? say`Recording …` : props.main}
        </Button>
        <Button onPress={props.onClose}>{say`Cancel`}</Button>
      </div>
    </form>
  );
}

const NONE: never[] = [];

/** An arm is asked for one way at a time; what was typed another way stays, and is not sent. */
function fieldsAsked(kind: Kind, fields: readonly FieldSpec[], form: Draft['form']): readonly FieldSpec[] {
  if (kind !== 'arm measured') return fields;
  const named = (names: readonly string[]) =>
    names.flatMap((name) => fields.find((field) => field.name === name) ?? []);
  switch (form['how']) {
    case 'on two supports':
      return named(['part', ...SUPPORT_FIELDS, 'y', 'z']);
    case 'balanced on a bar':
      return named(['part', ...BAR_FIELDS, 'y', 'z']);
    default:
      return named(['part', 'x', 'y', 'z', 'arm uncertainty']);
  }
}

function ArmWay({ draft }: { readonly draft: Draft }) {
  const how = draft.form['how'] ?? '';
  return (
    <>
      <Choice
        label={say`How it was measured`}
        options={ARM_WAYS}
        value={ARM_WAYS.find(({ value }) => value === how)?.value ?? 'station'}
        onChange={(next) => draft.set({ how: next === 'station' ? '' : next })}
      />
      {how === 'on two supports' ? <SupportsPicture /> : null}
    </>
  );
}

function ArmAnswer(props: { readonly form: Draft['form']; readonly aircraft: AircraftReport }) {
  switch (props.form['how']) {
    case 'on two supports':
      return <SupportsAnswer {...props} />;
    case 'balanced on a bar':
      return <BarAnswer {...props} />;
    default:
      return null;
  }
}
