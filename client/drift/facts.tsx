/** The figures of a finding, each under its name. */
import type { ReactNode } from 'react';

export type Fact = { readonly name: string; readonly value: ReactNode };

export function Facts({ facts }: { readonly facts: readonly Fact[] }) {
  return (
    <dl className="finding-facts">
      {facts.map(({ name, value }) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
