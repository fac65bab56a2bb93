/** What is read off the scale, and its unit. Keyboard, number pad and a scale's typed line all end here. */
import { type RefObject, useId } from 'react';
import type { MassUnit } from '#shared/quantity/units.ts';
import { Choice } from '../pieces/controls.tsx';

const UNITS: readonly { readonly value: MassUnit; readonly words: string }[] = [
  { value: 'kg', words: 'kg' },
  { value: 'g', words: 'g' },
  { value: 'lb', words: 'lb' },
  { value: 'oz', words: 'oz' },
];

export type PadField<Name extends string> = {
  readonly name: Name;
  readonly label: string;
  readonly input: RefObject<HTMLInputElement | null>;
  readonly problem?: string | undefined;
};

export function ReadingFields<Name extends string>(props: {
  readonly fields: readonly PadField<Name>[];
  readonly values: Readonly<Record<Name, string>>;
  readonly unit: MassUnit;
  readonly active: Name;
  readonly first: Name;
  readonly onActive: (field: Name) => void;
  readonly onChange: (field: Name, value: string) => void;
  readonly onUnit: (unit: MassUnit) => void;
  readonly onEnter: (field: Name) => void;
}) {
  const id = useId();
  return (
    <div className="readings">
      {props.fields.map(({ name, label, input, problem }) => (
        <label key={name} className={`reading ${props.active === name ? 'active' : ''}`}>
          <span className="label">{label}</span>
          <input
            ref={input}
            value={props.values[name]}
            onChange={(event) => props.onChange(name, event.target.value)}
            onFocus={() => props.onActive(name)}
            onKeyDown={(event) => {
              if (event.key !== 'Enter') return;
              event.preventDefault();
              props.onEnter(name);
            }}
            aria-invalid={problem !== undefined}
            aria-describedby={problem === undefined ? undefined : `${id}-${name}`}
            inputMode={isTouch() ? 'none' : 'decimal'}
            autoComplete="off"
            autoFocus={name === props.first}
            enterKeyHint="next"
          />
          {problem === undefined ? null : (
            <span className="problem" id={`${id}-${name}`}>
              {problem}
            </span>
          )}
        </label>
      ))}
      <Choice label="Unit on the scale" options={UNITS} value={props.unit} onChange={props.onUnit} />
    </div>
  );
}

function isTouch(): boolean {
  return matchMedia('(pointer: coarse)').matches;
}
