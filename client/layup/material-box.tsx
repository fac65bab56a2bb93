/**
 * A material of the list by its name: typing narrows it. A name that the list has not can be described there and then, and is an entry of its own.
 */

import { memo, useMemo, useState } from 'react';
import { ComboBox, Input, Label, ListBox, ListBoxItem, Popover } from 'react-aria-components';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { type Material, type MaterialKind, materialKey } from '#shared/layup/material.ts';
import { say, term } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { MaterialDialog } from '../setup/material-dialog.tsx';
import { figuresInWords } from '../setup/material-words.ts';
import { rich } from '../words/rich.ts';
import { idOf } from './cell.tsx';
import type { Schedule } from './use-schedule.ts';

type Props = {
  readonly of: Schedule;
  readonly at: string;
  readonly field: 'material' | 'resin';
  readonly label: string;
  readonly value: string;
  /** What fits here, the likeliest kind first. */
  readonly kinds: readonly MaterialKind[];
  readonly materials: readonly Material[];
  readonly aircraft: AircraftReport;
};

/** A list for each line is what costs most on the screen: it is made anew only where something changes in it, and not with every key. */
export const MaterialBox = memo(Box, (one, other) => {
  const { of: before, ...rest } = one;
  const { of: after, ...others } = other;
  const isAlike = (Object.keys(rest) as (keyof typeof rest)[]).every((name) => rest[name] === others[name]);
  // Setting a word or touching a field goes by the key, in whatever schedule there is by then.
  return isAlike && !before.problemAt(one.at, one.field) === !after.problemAt(other.at, other.field);
});

function Box(props: Props) {
  const { of, at, field, value, kinds, materials } = props;
  const [isDescribing, setDescribing] = useState(false);
  const fitting = useMemo(() => materials.filter(({ is }) => kinds.includes(is)), [materials, kinds]);
  const key = materialKey(value);
  const chosen = fitting.find(({ name }) => materialKey(name) === key);
  const words = key.split(/\s+/);
  const found =
    chosen === undefined
      ? fitting.filter(({ name }) => words.every((word) => materialKey(name).includes(word)))
      : fitting;
  const problem = of.problemAt(at, field);
  const set = (name: string) => of.set(at, field, name);
  return (
    <span className="material-box">
      <ComboBox
        className="field cell words"
        allowsCustomValue
        inputValue={value}
        onInputChange={set}
        onBlur={() => {
          of.touch(at, field);
          // What is typed so far may be enough to tell one material from all others.
          const [only] = found;
          if (chosen === undefined && key !== '' && only !== undefined && found.length === 1) set(only.name);
        }}
        items={found.map((material) => ({ id: material.name, material }))}
        menuTrigger={'input'}
        isInvalid={problem !== undefined}
        validationBehavior={'aria'}
      >
        <Label>{props.label}</Label>
        <Input
          placeholder={say`${kinds.map((kind) => term(kind)).join(say` or `)} …`}
          autoComplete="off"
          data-place={`${at} ${field}`}
          {...(problem === undefined ? {} : { 'aria-describedby': `${idOf(at, field)}-problem` })}
        />
        <Popover className="choices material-choices">
          <ListBox>
            {({ id, material }: { readonly id: string; readonly material: Material }) => (
              <ListBoxItem id={id} textValue={id} className="choices-item">
                {material.name} <span className="soft small block">{figuresInWords(material)}</span>
              </ListBoxItem>
            )}
          </ListBox>
        </Popover>
      </ComboBox>
      {value.trim() === '' || chosen !== undefined || found.length > 0 ? null : (
        <Button slim onPress={() => setDescribing(true)}>{rich`Describe “${value.trim()}” …`}</Button>
      )}
      {isDescribing ? (
        <MaterialDialog
          aircraft={props.aircraft}
          beginning={{ name: value.trim(), is: kinds[0] ?? 'fabric' }}
          kinds={kinds}
          onRecorded={({ name }) => {
            set(name);
            setDescribing(false);
            // The button that opened it is gone, and the dialog looks for it first.
            requestAnimationFrame(() => requestAnimationFrame(() => of.focus(`${at} ${field}`)));
          }}
          onClose={() => setDescribing(false)}
        />
      ) : null}
    </span>
  );
}
