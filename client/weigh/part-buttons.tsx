/** Parts to touch, each with what is known of it or why it is offered. */
import type { ReactNode } from 'react';
import type { PartReport } from '#shared/contract/reports.ts';
import { Button } from '../pieces/controls.tsx';
import { FlagWord } from '../pieces/flag-word.tsx';

export type Offered = { readonly part: PartReport; readonly piece?: number | undefined; readonly words: ReactNode };

export type ChoosePart = (part: PartReport, options?: { readonly piece?: number | undefined }) => void;

export function PartButtons(props: {
  /** The heading above them; none where they answer a search. */
  readonly title?: string;
  readonly offered: readonly Offered[];
  readonly onChoose: ChoosePart;
}) {
  const { title, offered } = props;
  if (offered.length === 0) return null;
  const buttons = (
    <div className="part-buttons">
      {offered.map(({ part, piece, words }) => (
        <Button key={part.partId} onPress={() => props.onChoose(part, { piece })}>
          <span className="part-button">
            <span className="part-button-head">
              <strong>{part.number}</strong>
              {part.flag === undefined || part.flag === 'in line' ? null : <FlagWord flag={part.flag} />}
            </span>
            <span>{part.name}</span>
            <span className="soft small">{words}</span>
          </span>
        </Button>
      ))}
    </div>
  );
  if (title === undefined) return buttons;
  return (
    <section className="stack-tight" aria-label={title}>
      <h2>{title}</h2>
      {buttons}
    </section>
  );
}
