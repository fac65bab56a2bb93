/** One field of the limits: its name, the unit of a bare number, and what is wrong with it. */
import { Field } from '../pieces/controls.tsx';
import { type Limits, placeName } from './use-limits.ts';

export function LimitField(props: {
  readonly of: Limits;
  /** The row, or `WHOLE`. */
  readonly at: string;
  readonly field: string;
  readonly label: string;
  readonly value: string;
  readonly unit?: string | undefined;
  readonly hint?: string | undefined;
  readonly suggestions?: readonly string[];
  readonly className?: string;
  /** Where it does not go into the row's own words. */
  readonly onChange?: (text: string) => void;
}) {
  const { of, at, field, label, value, unit, hint, suggestions } = props;
  return (
    <div data-place={placeName(at, field)} className={props.className}>
      <Field
        {...{ label, value, unit, hint, suggestions }}
        onChange={props.onChange ?? ((text) => of.set(at, field, text))}
        onBlur={() => of.touch(at, field)}
        problem={of.problemAt(at, field)}
        autoComplete="off"
      />
    </div>
  );
}
