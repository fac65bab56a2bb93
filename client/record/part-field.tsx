/** A part by its number or name: typing narrows the list, and what was chosen is told beneath it. */

import { ComboBox, Input, Label, ListBox, ListBoxItem, Popover } from 'react-aria-components';
import type { PartReport } from '#shared/contract/reports.ts';
import { say, term } from '#shared/words/say.ts';
import { findParts, partNamed } from '../pieces/find-parts.ts';

/** A list longer than this is narrowed by typing. */
const MOST_SHOWN = 30;

export function PartField(props: {
  readonly label: string;
  readonly value: string;
  readonly onChange: (number: string) => void;
  readonly parts: readonly PartReport[];
  readonly hint?: string | undefined;
  readonly problem?: string | undefined;
}) {
  const { value, parts, problem } = props;
  const chosen = partNamed(parts, value);
  const found = findParts(parts, value).slice(0, MOST_SHOWN);
  const hint = chosen === undefined ? props.hint : aboutPart(chosen);
  return (
    <ComboBox
      className="field part-field"
      allowsCustomValue
      inputValue={value}
      onInputChange={props.onChange}
      items={found.map((part) => ({ id: part.number, part }))}
      menuTrigger={'input'}
      isInvalid={problem !== undefined}
      validationBehavior={'aria'}
    >
      <Label>{props.label}</Label>
      <Input placeholder={say`Number or name`} autoComplete="off" aria-description={problem ?? hint ?? ''} />
      {hint === undefined ? null : <span className="soft small">{hint}</span>}
      {problem === undefined ? null : <span className="problem">{problem}</span>}
      <Popover className="choices">
        <ListBox>
          {({ id, part }: { readonly id: string; readonly part: PartReport }) => (
            <ListBoxItem id={id} textValue={id} className="choices-item">
              <strong>{part.number}</strong> {part.name}
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </ComboBox>
  );
}

function aboutPart(part: PartReport): string {
  const pieces = part.quantity === 1 ? '' : say`, ${part.quantity} pieces`;
  const below = part.childCount === 0 ? '' : say`, an assembly of ${part.childCount}`;
  return `${part.name}: ${part.group}, ${term(part.process)}${pieces}${below}`;
}
