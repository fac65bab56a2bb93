/** A new part, and its estimate where there is one: two entries, the second only after the first was taken. */

import { type FormEvent, useRef, useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { Process } from '#shared/ledger/entry.ts';
import { say, term } from '#shared/words/say.ts';
import { newId, ProblemError, wordsOf } from '../door/ask.ts';
import { ledgerMoved, useGroups } from '../door/queries.ts';
import { Button, Field, Picker } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { typedWith } from '../pieces/typed-units.ts';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { send } from './record.ts';

const EMPTY = { number: '', name: '', group: '', assembly: '', quantity: '1', estimate: '', x: '', allowance: '' };
const PART = ['number', 'name', 'group', 'assembly', 'quantity'] as const;
const PROCESSES = Process.options.map((value) => ({ value, words: term(value) }));

export function AddPart(props: {
  readonly aircraft: AircraftReport;
  readonly shown: Shown;
  /** The assembly and group of the part that is active, as a beginning. */
  readonly begin: { readonly group: string; readonly assembly: string };
  readonly onClose: (added?: string) => void;
}) {
  const { aircraft, shown } = props;
  const groups = useGroups(aircraft.id);
  const [form, setForm] = useState({ ...EMPTY, ...props.begin });
  const [process, setProcess] = useState<Process>('wet lay-up');
  const [addedSeq, setAddedSeq] = useState<number>();
  const [failure, setFailure] = useState<unknown>();
  const [isSending, setSending] = useState(false);
  const ids = useRef({ part: newId(), estimate: newId() });
  const set = (field: keyof typeof form) => (value: string) => {
    // One id while it says one thing (rule L3).
    ids.current = { ...ids.current, [isOfPart(field) ? 'part' : 'estimate']: newId() };
    setForm({ ...form, [field]: value });
  };
  const problemOf = (field: string) => (failure instanceof ProblemError ? failure.of(`/${field}`) : undefined);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    setSending(true);
    setFailure(undefined);
    try {
      const part = Object.fromEntries(PART.flatMap((field) => (form[field] === '' ? [] : [[field, form[field]]])));
      if (addedSeq === undefined)
        setAddedSeq(await send(aircraft, { kind: 'part added', id: ids.current.part, ...part, process }));
      const estimate = estimateOf(form, shown);
      if (Object.keys(estimate).length > 0)
        await send(aircraft, { kind: 'estimate', id: ids.current.estimate, part: form.number, ...estimate });
      ledgerMoved(aircraft.id);
      props.onClose(form.number);
    } catch (error) {
      setFailure(error);
      setSending(false);
      ledgerMoved(aircraft.id);
    }
  };
  const isAdded = addedSeq !== undefined;
  const field = (name: keyof typeof form, label: string, hint?: string) => (
    <Field
      label={label}
      value={form[name]}
      onChange={set(name)}
      problem={problemOf(name)}
      hint={hint}
      suggestions={name === 'group' ? groups : undefined}
      isDisabled={isAdded && isOfPart(name)}
    />
  );
  return (
    <Dialog title={say`Add a part`} isOpen onClose={() => props.onClose()}>
      <form className="stack" onSubmit={(event) => void submit(event)}>
        {isAdded ? (
          <p className="notice good" role="status">
            {rich`${form.number} is entry ${addedSeq}. Its estimate is not recorded yet.`}
          </p>
        ) : null}
        <div className="two-fields">
          {field('number', say`Part number`)}
          {field('name', say`Name`)}
          {field('group', say`Group`)}
          {field('assembly', say`Is in`, say`The number of its assembly, if it has one.`)}
          {field('quantity', say`Pieces`)}
          <Picker label={say`Process`} options={PROCESSES} value={process} onChange={setProcess} />
          {field('estimate', say`Estimate each (${shown.units.mass})`, say`Or later.`)}
          {field('x', say`Arm x (${shown.units.length})`)}
          {field('allowance', say`Allowance (%)`, say`Left empty: the shop’s default.`)}
        </div>
        {failure === undefined || isShownAtFields(failure) ? null : (
          <p className="notice bad" role="alert">
            {wordsOf(failure)}
          </p>
        )}
        <div className="acts">
          <Button kind="main" type="submit" isDisabled={isSending || form.number.trim() === ''}>
            {isAdded ? say`Record the estimate` : say`Add the part`}
          </Button>
          <Button onPress={() => props.onClose()}>{isAdded ? say`Leave it without` : say`Cancel`}</Button>
        </div>
      </form>
    </Dialog>
  );
}

function isOfPart(field: string): boolean {
  return PART.some((name) => name === field);
}

function estimateOf(form: typeof EMPTY, { units }: Shown): Readonly<Record<string, string>> {
  const all = { estimate: [form.estimate, units.mass], x: [form.x, units.length], allowance: [form.allowance, '%'] };
  return Object.fromEntries(
    Object.entries(all).flatMap(([name, [text = '', unit = '']]) =>
      text.trim() === '' ? [] : [[name, typedWith(text, unit)]],
    ),
  );
}

function isShownAtFields(failure: unknown): boolean {
  const problems = failure instanceof ProblemError ? (failure.report.problems ?? []) : [];
  return problems.length > 0 && problems.every(({ pointer }) => Object.hasOwn(EMPTY, pointer.slice(1)));
}
