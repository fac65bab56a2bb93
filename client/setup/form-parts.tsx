/** What every form of the set-up has around its fields, and facts as names with their values. */
import { type FormEvent, type ReactNode, useEffect, useRef } from 'react';
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
  const heading = useRef<HTMLHeadingElement>(null);
  const element = useRef<HTMLFormElement>(null);
  // The form stands where the button was that opened it: the keyboard goes on from its title.
  useEffect(() => heading.current?.focus(), []);
  useEffect(() => {
    if (refusal !== undefined) element.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
  }, [refusal]);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (!form.isSending) props.onSubmit();
  };
  const cancel = () => {
    form.forget();
    props.onCancel();
  };
  return (
    <form ref={element} className="card stack set-up-form" onSubmit={submit} noValidate aria-label={props.title}>
      <h2 ref={heading} tabIndex={-1}>
        {props.title}
      </h2>
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

export function Done({ words }: { readonly words: string | undefined }) {
  return words === undefined ? null : (
    <p className="notice good" role="status">
      {words}
    </p>
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
