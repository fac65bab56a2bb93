/** What every form of the set-up stands in, and facts as names with their values. */
import { type ComponentProps, type ReactNode, useEffect, useRef } from 'react';
import { EntryForm } from '../record/entry-form.tsx';

type Words = Readonly<Record<string, unknown>>;

/** The form of a kind of entry in a card of its own, in place of what it changes. `also`: what is sent beside or instead of its fields. */
export function FormCard({
  title,
  also,
  onClose,
  ...form
}: Omit<ComponentProps<typeof EntryForm>, 'body' | 'onClose'> & {
  readonly title: string;
  readonly also?: (words: Words) => Words;
  readonly onClose: () => void;
}) {
  const { kind, draft } = form;
  const heading = useRef<HTMLHeadingElement>(null);
  // The form stands where the button was that opened it: the keyboard goes on from its title.
  useEffect(() => heading.current?.focus(), []);
  const day = draft.form['happenedOn'] ?? '';
  return (
    <section className="card stack set-up-form" aria-label={title}>
      <h2 ref={heading} tabIndex={-1}>
        {title}
      </h2>
      <EntryForm
        {...form}
        body={(words) => ({
          id: draft.id,
          kind,
          ...words,
          ...(day === '' ? {} : { happenedOn: day }),
          ...also?.(words),
        })}
        onClose={() => {
          draft.forget();
          onClose();
        }}
      />
    </section>
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
