/** Gross, tare and the unit on the scale. Keyboard, number pad and a scale's typed line all end here. */
import type { RefObject } from 'react';
import type { MassUnit } from '#shared/quantity/units.ts';
import { Choice } from '../pieces/controls.tsx';
import type { Reading, ReadingField } from './reading.ts';

const UNITS: readonly { readonly value: MassUnit; readonly words: string }[] = [
  { value: 'kg', words: 'kg' },
  { value: 'g', words: 'g' },
  { value: 'lb', words: 'lb' },
  { value: 'oz', words: 'oz' },
];

export function ReadingFields(props: {
  readonly reading: Reading;
  readonly active: ReadingField;
  readonly inputs: Readonly<Record<ReadingField, RefObject<HTMLInputElement | null>>>;
  readonly onActive: (field: ReadingField) => void;
  readonly onChange: (changed: Partial<Reading>) => void;
  readonly onEnter: (field: ReadingField) => void;
}) {
  const { reading, active } = props;
  return (
    <div className="readings">
      {(['gross', 'tare'] as const).map((field) => (
        <label key={field} className={`reading ${active === field ? 'active' : ''}`}>
          <span className="label">{field === 'gross' ? 'Gross' : 'Tare (fixture)'}</span>
          <input
            ref={props.inputs[field]}
            value={reading[field]}
            onChange={(event) => props.onChange({ [field]: event.target.value })}
            onFocus={() => props.onActive(field)}
            onKeyDown={(event) => {
              if (event.key !== 'Enter') return;
              event.preventDefault();
              props.onEnter(field);
            }}
            inputMode={isTouch() ? 'none' : 'decimal'}
            autoComplete="off"
            autoFocus={field === 'gross'}
            enterKeyHint="next"
          />
        </label>
      ))}
      <Choice
        label="Unit on the scale"
        options={UNITS}
        value={reading.unit}
        onChange={(unit) => props.onChange({ unit })}
      />
    </div>
  );
}

function isTouch(): boolean {
  return matchMedia('(pointer: coarse)').matches;
}
