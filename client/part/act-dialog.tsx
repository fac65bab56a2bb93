/** One act on a part: its fields, the day it happened, and every refusal at the field it is about. Nothing typed is lost by one. */
import { useMutation } from '@tanstack/react-query';
import { type FormEvent, useRef, useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { newId, ProblemError, wordsOf } from '../door/ask.ts';
import { ledgerMoved } from '../door/queries.ts';
import { send, withUnit } from '../parts/record.ts';
import { Button, Choice, Field, Picker } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import type { Shown } from '../pieces/units.ts';
import { type Act, type ActField, ARM_WAYS, type ArmWay, armFields } from './acts.ts';

export function ActDialog(props: {
  readonly aircraft: AircraftReport;
  readonly number: string;
  readonly act: Act;
  readonly shown: Shown;
  readonly onClose: () => void;
}) {
  const { aircraft, number, act, shown } = props;
  const [form, setForm] = useState<Readonly<Record<string, string>>>(act.begin);
  const [way, setWay] = useState<ArmWay>('station');
  const id = useRef(newId());
  const fields = act.kind === 'arm measured' ? armFields(way, shown) : act.fields;
  const record = useMutation({
    mutationFn: () => {
      const stated = fields.flatMap(({ name, unit }) => {
        const text = form[name]?.trim() ?? '';
        return text === '' ? [] : [[name, withUnit(text, unit)]];
      });
      const day = form['happenedOn']?.trim() ?? '';
      const stamp = day === '' ? {} : { happenedOn: day };
      return send(aircraft, { kind: act.kind, id: id.current, part: number, ...Object.fromEntries(stated), ...stamp });
    },
    onSuccess: () => {
      ledgerMoved(aircraft.id);
      props.onClose();
    },
  });
  const set = (name: string) => (value: string) => {
    // One id while it says one thing (rule L3).
    id.current = newId();
    setForm((before) => ({ ...before, [name]: value }));
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    record.mutate();
  };
  const names = [...fields.map(({ name }) => name), 'happenedOn'];
  return (
    <Dialog title={act.title} isOpen onClose={props.onClose}>
      <form className="stack" onSubmit={submit}>
        {act.kind === 'arm measured' ? (
          <Choice label="How it was found" options={ARM_WAYS} value={way} onChange={setWay} />
        ) : null}
        <div className="two-fields">
          {fields.map((field) => (
            <OneField
              key={field.name}
              field={field}
              value={form[field.name] ?? ''}
              problem={problemOf(record.error, field.name)}
              onChange={set(field.name)}
            />
          ))}
          <Field
            label="Day"
            value={form['happenedOn'] ?? ''}
            onChange={set('happenedOn')}
            hint="As 2026-05-31. Left empty: today."
            problem={problemOf(record.error, 'happenedOn')}
          />
        </div>
        {record.isError && !isAllAtFields(record.error, names) ? (
          <p className="notice bad" role="alert">
            {wordsOf(record.error)}
          </p>
        ) : null}
        <div className="acts">
          <Button kind="main" type="submit" isDisabled={record.isPending}>
            {act.record}
          </Button>
          <Button onPress={props.onClose}>Cancel</Button>
        </div>
      </form>
    </Dialog>
  );
}

function OneField(props: {
  readonly field: ActField;
  readonly value: string;
  readonly problem: string | undefined;
  readonly onChange: (value: string) => void;
}) {
  const { field, ...rest } = props;
  if (field.choices === undefined) return <Field label={field.label} hint={field.hint} {...rest} />;
  const options = field.choices.map((value) => ({ value, words: value }));
  return <Picker label={field.label} options={options} value={rest.value} onChange={rest.onChange} />;
}

function problemOf(error: unknown, name: string): string | undefined {
  return error instanceof ProblemError ? error.of(`/${name.replaceAll('~', '~0').replaceAll('/', '~1')}`) : undefined;
}

function isAllAtFields(error: unknown, names: readonly string[]): boolean {
  const problems = error instanceof ProblemError ? (error.report.problems ?? []) : [];
  return problems.length > 0 && problems.every(({ pointer }) => names.includes(pointer.slice(1)));
}
