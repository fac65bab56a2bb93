/** A table in a card of its own: title, headings, and a line of words where there is no row. It is pushed sideways within its frame. */

import { type ReactNode, useRef } from 'react';
import { say } from '#shared/words/say.ts';
import { useMoreAside } from './more-aside.ts';

/** The heading of a column; of figures it brings their unit. */
export type Heading = string | { readonly figures: string };

export function TableCard(props: {
  readonly title: string;
  readonly headings: readonly Heading[];
  readonly isWide?: boolean;
  /** In place of the table. */
  readonly none?: string | undefined;
  /** The rows. */
  readonly children: ReactNode;
}) {
  const { title } = props;
  const frame = useRef<HTMLDivElement>(null);
  useMoreAside(frame);
  return (
    <section className={`card stack-tight ${props.isWide === true ? 'wide' : ''}`} aria-label={title}>
      <h2>{title}</h2>
      {props.none === undefined ? (
        <div ref={frame} className="scroll-across" tabIndex={0} role="region" aria-label={say`${title} as a table`}>
          <table>
            <thead>
              <tr>
                {props.headings.map((heading) =>
                  typeof heading === 'string' ? (
                    <th key={heading} scope="col">
                      {heading}
                    </th>
                  ) : (
                    <th key={heading.figures} scope="col" className="number">
                      {heading.figures}
                    </th>
                  ),
                )}
              </tr>
            </thead>
            <tbody>{props.children}</tbody>
          </table>
        </div>
      ) : (
        <p className="soft">{props.none}</p>
      )}
    </section>
  );
}
