/** One short field of a line or a region: its name above it, the unit of a bare number in it. What is wrong is told by who shows it. */
import type { ReactNode } from 'react';

import { isBareNumber } from '../pieces/typed-units.ts';
import type { LineField } from './line-fields.ts';
import type { Schedule } from './use-schedule.ts';

export function Cell(props: {
  readonly of: Schedule;
  readonly at: string;
  readonly field: LineField;
  readonly value: string;
  /** Shown while the field is empty, where it is not what the field itself says. */
  readonly placeholder?: string;
  readonly unit?: string | undefined;
}) {
  const { of, at, field, value, unit } = props;
  const id = idOf(at, field.name);
  const isWrong = of.problemAt(at, field.name) !== undefined;
  const hasUnit = unit !== undefined && value.trim() !== '' && isBareNumber(value);
  const common = {
    id,
    value,
    'aria-invalid': isWrong,
    'data-place': `${at} ${field.name}`,
    ...(isWrong ? { 'aria-describedby': `${id}-problem` } : {}),
    onBlur: () => of.touch(at, field.name),
  };
  const set = (text: string) => of.set(at, field.name, text);
  return (
    <span className={`field cell ${field.isText === true ? 'words' : ''}`}>
      <label htmlFor={id}>{field.label}</label>
      {field.options === undefined ? (
        <span className="cell-box">
          <input
            {...common}
            autoComplete="off"
            placeholder={props.placeholder ?? field.placeholder}
            style={hasUnit ? { paddingRight: `${0.95 + unit.length * 0.55}rem` } : undefined}
            onChange={(event) => set(event.target.value)}
          />
          {hasUnit ? (
            <span className="cell-unit" aria-hidden="true">
              {unit}
            </span>
          ) : null}
        </span>
      ) : (
        <select {...common} onChange={(event) => set(event.target.value)}>
          {field.options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.words}
            </option>
          ))}
        </select>
      )}
    </span>
  );
}

export function idOf(at: string, field: string): string {
  return `lay-up-${at}-${field}`.replace(/\s+/g, '-');
}

/** What is wrong with the fields of one line or region, each by its name. */
export function Problems(props: {
  readonly of: Schedule;
  readonly at: string;
  readonly labelOf: (field: string) => string;
  readonly besides?: ReactNode;
}) {
  const problems = props.of.problemsOf(props.at);
  if (problems.length === 0) return null;
  return (
    <ul className="line-problems">
      {problems.map(({ field, words, remedy }) => (
        <li key={field} id={`${idOf(props.at, field)}-problem`} className="problem">
          <strong>{props.labelOf(field)}:</strong> {words} {remedy}
        </li>
      ))}
    </ul>
  );
}
