/** A material described for the first time, or stated anew. What is wrong is told at its field while it is typed; past estimates keep their figures. */

import { type FormEvent, useEffect, useRef, useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { MaterialKind } from '#shared/layup/material.ts';
import { materialFields, materialFromWords } from '#shared/layup/material-words.ts';
import { explain } from '#shared/problem/registry.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import { say } from '#shared/words/say.ts';
import { newId } from '../door/ask.ts';
import { Button, Choice, Field, Picker } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { typedWith } from '../pieces/typed-units.ts';
import { useRecord } from '../record/use-record.ts';
import { BASES, FIGURES_OF } from './material-words.ts';

type Words = Readonly<Record<string, string>>;

export function MaterialDialog(props: {
  readonly aircraft: AircraftReport;
  readonly beginning: Words & { readonly is: MaterialKind };
  readonly kinds: readonly MaterialKind[];
  /** It is on the list: its name and kind stay. */
  readonly isRestated?: boolean;
  readonly onRecorded: (material: { readonly name: string; readonly seq: number }) => void;
  readonly onClose: () => void;
}) {
  const { aircraft, kinds, isRestated = false } = props;
  const [draft, setDraft] = useState<{ readonly id: string; readonly words: Words }>(() => ({
    id: newId(),
    words: { basis: 'stated', ...props.beginning },
  }));
  const [touched, setTouched] = useState<ReadonlySet<string>>(new Set());
  const [isAllTold, setAllTold] = useState(false);
  const form = useRef<HTMLFormElement>(null);
  const is = kinds.find((kind) => kind === draft.words['is']) ?? props.beginning.is;
  const sent = sentOf(draft.words, is);
  const reader = new FieldReader(sent);
  materialFromWords(reader);
  const record = useRecord(aircraft, ({ entry }) => props.onRecorded({ name: sent['name'] ?? '', seq: entry.seq }));
  const wrongIn = (field: string) => {
    const found = reader.problems.find((one) => one.field === field);
    if (found === undefined) return record.problemAt(`/${field}`);
    if (!isAllTold && !touched.has(field)) return undefined;
    const { words, remedy } = explain(found.refusal);
    return `${words} ${remedy}`;
  };
  const set = (field: string) => (text: string) => {
    setTouched((before) => new Set([...before, field]));
    setDraft(({ words }) => ({ id: newId(), words: { ...words, [field]: text } }));
  };
  useEffect(() => {
    if (isAllTold) form.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
  }, [isAllTold]);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    event.stopPropagation();
    setAllTold(true);
    if (reader.problems.length > 0) form.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
    else if (!record.isSending) record.send({ id: draft.id, kind: 'material', ...sent });
  };
  const figures = FIGURES_OF[is];
  const refusal = record.refusal(['/name', '/is', ...figures.map(({ name }) => `/${name}`)]);
  const value = (field: string) => draft.words[field] ?? '';
  return (
    <Dialog
      title={isRestated ? say`State ${value('name')} anew` : say`Describe a material`}
      isOpen
      isForm
      isWide
      onClose={props.onClose}
    >
      <form className="stack" onSubmit={submit} noValidate ref={form}>
        {isRestated ? (
          <p className="soft">{say`Estimates that were computed keep the figures they were computed from. The lay-up of such a part says that the list has moved on, and offers to compute it anew.`}</p>
        ) : null}
        <div className="field-grid">
          {isRestated ? null : (
            <div className="wide">
              <Field
                label={say`Name`}
                autoFocus
                value={value('name')}
                onChange={set('name')}
                problem={wrongIn('name')}
              />
            </div>
          )}
          {isRestated || kinds.length === 1 ? null : (
            <Picker
              label={say`It is a`}
              options={kinds.map((kind) => ({ value: kind, words: kind }))}
              value={is}
              onChange={set('is')}
            />
          )}
          {figures.map(({ name, label, unit, hint }, at) => (
            <Field
              key={name}
              label={label}
              unit={unit}
              hint={hint}
              autoFocus={isRestated && at === 0}
              value={value(name)}
              onChange={set(name)}
              problem={wrongIn(name)}
              autoComplete="off"
            />
          ))}
          <div className="wide">
            <Choice
              label={say`The figures are from`}
              options={BASES}
              value={value('basis') === 'common practice' ? 'common practice' : 'stated'}
              onChange={set('basis')}
            />
          </div>
        </div>
        {refusal === undefined ? null : (
          <p className="notice bad" role="alert">
            {refusal}
          </p>
        )}
        <div className="acts">
          <Button kind="main" type="submit" isDisabled={record.isSending}>
            {record.isSending ? say`Recording …` : isRestated ? say`Record the new figures` : say`Record the material`}
          </Button>
          <Button onPress={props.onClose}>{say`Cancel`}</Button>
        </div>
      </form>
    </Dialog>
  );
}

/** Only what the kind has, each bare number with the unit of its field. */
function sentOf(words: Words, is: MaterialKind): Words {
  const units = new Map(FIGURES_OF[is].map(({ name, unit }) => [name, unit]));
  return Object.fromEntries(
    materialFields(is).flatMap((field) => {
      const text = field === 'is' ? is : (words[field] ?? '').trim();
      const unit = units.get(field);
      if (text === '') return [];
      return [[field, unit === undefined ? text : typedWith(text, unit)]];
    }),
  );
}
