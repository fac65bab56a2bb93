/** Buttons, fields and choices, on React Aria: keyboard, touch and screen readers are its work; the look is in client/look. */

import { type ClipboardEvent, type ReactNode, useId } from 'react';
import {
  Button as AriaButton,
  type ButtonProps,
  Input,
  Label,
  Radio,
  RadioGroup,
  TextArea,
  TextField,
} from 'react-aria-components';
import { isBareNumber } from './typed-units.ts';
import { tied } from './units.ts';
import './choice.css';

type Kind = 'plain' | 'main' | 'quiet';

export function Button({
  kind = 'plain',
  slim = false,
  ...rest
}: Omit<ButtonProps, 'className'> & { readonly kind?: Kind; readonly slim?: boolean }) {
  return <AriaButton {...rest} className={`button ${kind} ${slim ? 'slim' : ''}`} />;
}

export type FieldProps = {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly type?: 'text' | 'password' | 'date';
  /** Several lines. */
  readonly isLong?: boolean;
  /** The unit of a bare number, shown in the field while it has none of its own. */
  readonly unit?: string | undefined;
  /** What was typed here before, to choose from. */
  readonly suggestions?: readonly string[] | undefined;
  readonly hint?: string | undefined;
  readonly problem?: string | undefined;
  readonly autoComplete?: string;
  readonly inputMode?: 'numeric';
  readonly autoFocus?: boolean;
  readonly isRequired?: boolean;
  readonly isDisabled?: boolean;
  readonly onBlur?: () => void;
  /** What is pasted may be more than a field takes as it is. */
  readonly onPaste?: (event: ClipboardEvent<HTMLInputElement>) => void;
};

export function Field(props: FieldProps) {
  const { label, value, onChange, type = 'text', hint, problem, isLong, unit, suggestions, ...rest } = props;
  // Not made of the label: a list of rows has the same labels over and over.
  const id = useId();
  const described = [hint === undefined ? '' : `${id}-hint`, problem === undefined ? '' : `${id}-problem`]
    .join(' ')
    .trim();
  return (
    <TextField
      className="field"
      value={value}
      onChange={onChange}
      type={type}
      isInvalid={problem !== undefined}
      {...(described === '' ? {} : { 'aria-describedby': described })}
      validationBehavior={'aria'}
      {...rest}
    >
      <Label>{label}</Label>
      {isLong === true ? <TextArea rows={3} /> : null}
      {isLong === true ? null : (
        <span className={`field-box ${unit === undefined ? '' : 'with-unit'}`}>
          <Input {...(suggestions === undefined ? {} : { list: `${id}-list` })} />
          {unit !== undefined && isBareNumber(value) ? (
            <span className="field-unit" aria-hidden="true">
              {unit}
            </span>
          ) : null}
        </span>
      )}
      {suggestions === undefined ? null : (
        <datalist id={`${id}-list`}>
          {suggestions.map((one) => (
            <option key={one} value={one} />
          ))}
        </datalist>
      )}
      {hint === undefined ? null : (
        <span id={`${id}-hint`} className="soft small">
          {tied(hint)}
        </span>
      )}
      {problem === undefined ? null : (
        <span id={`${id}-problem`} className="problem">
          {problem}
        </span>
      )}
    </TextField>
  );
}

export type ChoiceOption<Value extends string> = { readonly value: Value; readonly words: ReactNode };

/** One of a few, all of them in sight and large enough for a glove. */
export function Choice<Value extends string>(props: {
  readonly label: string;
  readonly options: readonly ChoiceOption<Value>[];
  readonly value: Value | undefined;
  readonly onChange: (value: Value) => void;
  readonly problem?: string | undefined;
}) {
  return (
    <RadioGroup
      className="choice"
      value={props.value ?? null}
      onChange={(value) => props.onChange(value as Value)}
      isInvalid={props.problem !== undefined}
    >
      <Label className="label">{props.label}</Label>
      <div className={`choice-options ${isFour(props.options) ? 'four' : ''}`}>
        {props.options.map((option) => (
          <Radio key={option.value} value={option.value} className={`button choice-option ${lengthOf(option.words)}`}>
            {option.words}
          </Radio>
        ))}
      </div>
      {props.problem === undefined ? null : <span className="problem">{props.problem}</span>}
    </RadioGroup>
  );
}

function isFour(options: readonly { readonly words: ReactNode }[]): boolean {
  return options.length === 4 && options.every(({ words }) => lengthOf(words) !== 'word long');
}

/** Units are short and stand four in a row anywhere; words need room; long ones a row of their own on a phone. */
function lengthOf(words: ReactNode): '' | 'word' | 'word long' {
  if (typeof words !== 'string' || words.length <= 4) return '';
  return words.length > 20 ? 'word long' : 'word';
}

/** A native list of words, for choices too many to lay out. */
export function Picker<Value extends string>(props: {
  readonly label: string;
  readonly options: readonly { readonly value: Value; readonly words: string }[];
  readonly value: Value;
  readonly onChange: (value: Value) => void;
  readonly hideLabel?: boolean;
  readonly problem?: string | undefined;
}) {
  return (
    <label className="field">
      <span className={props.hideLabel === true ? 'hidden-words' : 'label'}>{props.label}</span>
      <select
        value={props.value}
        aria-invalid={props.problem !== undefined}
        onChange={(event) => props.onChange(event.target.value as Value)}
      >
        {props.options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.words}
          </option>
        ))}
      </select>
      {props.problem === undefined ? null : <span className="problem">{props.problem}</span>}
    </label>
  );
}
