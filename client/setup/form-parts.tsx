/** What every form of the set-up ends with, and the fields that the others have not. */
import type { FormEvent, ReactNode } from 'react';
import { Button } from '../pieces/controls.tsx';
import type { EntryForm } from './use-entry-form.ts';

/** A form in a card of its own, in place of what it changes. */
export function FormCard(props: {
  readonly title: string;
  readonly form: EntryForm;
  /** Pointers of the fields that show their own refusals. */
  readonly placed: readonly string[];
  readonly main: string;
  readonly isReady?: boolean;
  readonly onSubmit: () => void;
  readonly onCancel: () => void;
  readonly children: ReactNode;
}) {
  const { form } = props;
  const refusal = form.refusal(props.placed);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (!form.isSending) props.onSubmit();
  };
  const cancel = () => {
    form.forget();
    props.onCancel();
  };
  return (
    <form className="card stack set-up-form" onSubmit={submit} noValidate aria-label={props.title}>
      <h2>{props.title}</h2>
      {props.children}
      {refusal === undefined ? null : (
        <p className="notice bad" role="alert">
          {refusal}
        </p>
      )}
      <div className="acts">
        <Button kind="main" type="submit" isDisabled={form.isSending || props.isReady === false}>
          {form.isSending ? 'Recording …' : props.main}
        </Button>
        <Button onPress={cancel}>Cancel</Button>
      </div>
    </form>
  );
}

export function DayField(props: {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly hint?: string;
  readonly problem?: string | undefined;
}) {
  const id = `day-${props.label.replace(/\W+/g, '-').toLowerCase()}`;
  return (
    <div className="field">
      <label htmlFor={id}>{props.label}</label>
      <input
        id={id}
        type="date"
        value={props.value}
        aria-invalid={props.problem !== undefined}
        aria-describedby={`${id}-words`}
        onChange={(event) => props.onChange(event.target.value)}
      />
      <span id={`${id}-words`} className={props.problem === undefined ? 'soft small' : 'problem'}>
        {props.problem ?? props.hint}
      </span>
    </div>
  );
}

export type Fact = { readonly name: string; readonly value: ReactNode };

export function Facts({ facts }: { readonly facts: readonly Fact[] }) {
  return (
    <dl className="set-up-facts">
      {facts.map(({ name, value }) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
