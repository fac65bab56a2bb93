/** What is read off the scale, and its unit. Keyboard, number pad and a scale's line, however it comes, all end here. */

import { lazy, type ReactNode, type RefObject, Suspense, useId, useState } from 'react';
import type { MassUnit } from '#shared/quantity/units.ts';
import type { ScaleReading } from '#shared/weighing/scale-line.ts';
import { say } from '#shared/words/say.ts';
import { Choice } from '../pieces/controls.tsx';
import { LineQuestion } from './line/line-question.tsx';
import { hasItsUnit, isPlain, useScaleLine } from './line/use-scale-line.ts';
import { Wedge } from './line/wedge.ts';
import { scalePorts } from './serial/port.ts';

const UNITS: readonly { readonly value: MassUnit; readonly words: string }[] = [
  { value: 'kg', words: 'kg' },
  { value: 'g', words: 'g' },
  { value: 'lb', words: 'lb' },
  { value: 'oz', words: 'oz' },
];

// Few tablets have a scale on a cable.
const ScalePort = lazy(async () => ({ default: (await import('./serial/scale-port.tsx')).ScalePortPanel }));

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
  /** What is to be said of what stands in the fields. */
  readonly children?: ReactNode;
  /** What about a scale's reading does not fit a field. */
  readonly doubtOf?: (field: Name, reading: ScaleReading) => string | undefined;
}) {
  const id = useId();
  const [wedge] = useState(() => new Wedge());
  const line = useScaleLine<Name>({
    typedIn: (name) => props.values[name],
    put: props.onChange,
    doubtOf: (name, reading) => props.doubtOf?.(name, reading),
  });
  const enter = (name: Name, isWedge: boolean) => {
    const text = props.values[name];
    // A line is not saved by the key that ends it: it is read first, and judged.
    const isLine = !isPlain(text) || (isWedge && !hasItsUnit(text));
    if (!isLine) props.onEnter(name);
    else if (line.offer(name, text) && name !== props.fields.at(-1)?.name) props.onEnter(name);
  };
  return (
    <div className="readings">
      {props.fields.map(({ name, label, input, problem }) => (
        <label key={name} className={`reading ${props.active === name ? 'active' : ''}`}>
          <span className="label">{label}</span>
          <input
            ref={input}
            value={props.values[name]}
            onChange={(event) => {
              line.forget();
              props.onChange(name, event.target.value);
            }}
            onFocus={() => props.onActive(name)}
            onBlur={() => line.settle(name)}
            onPaste={(event) => {
              const text = event.clipboardData.getData('text');
              if (hasItsUnit(text) || (text.includes('/') && isPlain(text))) return;
              event.preventDefault();
              line.offer(name, text);
            }}
            onKeyDown={(event) => {
              const isWedge = wedge.endsLine(event.key, event.timeStamp);
              if (event.key !== 'Enter') return;
              event.preventDefault();
              enter(name, isWedge);
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
      {props.children}
      <LineQuestion of={line} />
      {scalePorts() === undefined ? null : (
        <Suspense fallback={null}>
          <ScalePort
            field={props.fields.find(({ name }) => name === props.active)?.label ?? ''}
            isEmpty={props.values[props.active].trim() === ''}
            onTake={(text, decimalComma) => line.offer(props.active, text, decimalComma)}
          />
        </Suspense>
      )}
      <Choice label={say`Unit on the scale`} options={UNITS} value={props.unit} onChange={props.onUnit} />
    </div>
  );
}

function isTouch(): boolean {
  return matchMedia('(pointer: coarse)').matches;
}
