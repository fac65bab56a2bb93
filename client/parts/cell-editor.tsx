/** A cell that is typed into. Enter records, Escape leaves it as it was, going elsewhere keeps what was typed. */

import { type KeyboardEvent, useEffect, useId, useRef } from 'react';
import { term } from '#shared/words/say.ts';
import type { CellEdit } from './use-edits.ts';

export type Leave = 'record' | 'drop' | 'keep' | 'record and go on' | 'record and go back';

export function CellEditor(props: {
  readonly label: string;
  readonly edit: CellEdit | undefined;
  readonly start: string;
  readonly choices: readonly string[] | undefined;
  /** Words that were used before, offered and not asked for. */
  readonly offers: readonly string[] | undefined;
  readonly isNumber: boolean;
  /** Where the words of a refusal have room. */
  readonly wordsAbove: boolean;
  readonly onType: (text: string) => void;
  readonly onLeave: (how: Leave) => void;
}) {
  const { edit, start } = props;
  const field = useRef<HTMLInputElement & HTMLSelectElement>(null);
  const hasLeft = useRef(false);
  const listId = useId();
  const wordsId = useId();
  useEffect(() => {
    hasLeft.current = false;
    field.current?.focus();
    // Whoever began by typing goes on typing; whoever opened the cell may write over what is there.
    if (field.current?.value === start) field.current?.select?.();
  }, [start]);
  const leave = (how: Leave) => {
    hasLeft.current = how === 'drop' || how === 'keep';
    props.onLeave(how);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    // The keys of the table are not those of the field.
    event.stopPropagation();
    if (event.nativeEvent.isComposing) return;
    if (event.key === 'Enter') leave('record');
    else if (event.key === 'Escape') leave('drop');
    else if (event.key === 'Tab') leave(event.shiftKey ? 'record and go back' : 'record and go on');
    else return;
    event.preventDefault();
  };
  const shared = {
    ref: field,
    'aria-label': props.label,
    'aria-invalid': edit?.state === 'refused',
    'aria-describedby': edit?.words === undefined ? undefined : wordsId,
    className: `cell-field ${props.isNumber ? 'number' : ''}`,
    value: edit?.text ?? start,
    onKeyDown,
    onBlur: () => (hasLeft.current ? undefined : leave('keep')),
  };
  return (
    <>
      {props.choices === undefined ? (
        <input
          {...shared}
          autoComplete="off"
          spellCheck={false}
          list={props.offers === undefined ? undefined : listId}
          readOnly={edit?.state === 'sending'}
          onChange={(event) => props.onType(event.target.value)}
        />
      ) : (
        <select {...shared} onChange={(event) => props.onType(event.target.value)}>
          {props.choices.map((choice) => (
            <option key={choice} value={choice}>
              {choice === '' ? '–' : term(choice)}
            </option>
          ))}
        </select>
      )}
      {props.offers === undefined ? null : (
        <datalist id={listId}>
          {props.offers.map((offer) => (
            <option key={offer} value={offer} />
          ))}
        </datalist>
      )}
      {edit?.words === undefined ? null : (
        <span id={wordsId} role="alert" className={`cell-words ${props.wordsAbove ? 'above' : ''}`}>
          {edit.words}
        </span>
      )}
    </>
  );
}
