/** The fields of one kind of entry, each with its refusal beneath it. */

import { lazy, type ReactNode, Suspense, useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { say } from '#shared/words/say.ts';
import { GROUP_PREFIX } from '#shared/words/statement-in-words.ts';
import { useGroups } from '../door/queries.ts';
import { Choice, Field, type FieldProps, Picker } from '../pieces/controls.tsx';
import { partNamed } from '../pieces/find-parts.ts';
import { NotYetIn, partsBelow } from '../pieces/not-yet-in.tsx';
import type { FieldSpec, Form } from './field-spec.ts';
import { unitOf } from './form-words.ts';

// Weigh shows some of these fields and never this one: the tablet does not wait for it.
const PartField = lazy(async () => ({ default: (await import('./part-field.tsx')).PartField }));

export type FieldsProps = {
  readonly aircraft: AircraftReport;
  readonly parts: readonly PartReport[];
  readonly scales: readonly string[];
  readonly form: Form;
  readonly set: (changed: Form) => void;
  /** The refusal of a field, by its name. */
  readonly problemOf: (name: string) => string | undefined;
};

export function EntryFields(
  props: FieldsProps & { readonly fields: readonly FieldSpec[]; readonly more?: string | undefined },
) {
  const { fields, form, problemOf } = props;
  const folded = fields.filter(({ isMore }) => isMore === true);
  return (
    <>
      <div className="field-grid">
        {fields
          .filter(({ isMore }) => isMore !== true)
          .map((field) => (
            <EntryField key={field.name} {...props} field={field} />
          ))}
      </div>
      {folded.length === 0 ? null : (
        <Folded
          words={props.more ?? say`More`}
          isFilled={folded.some(({ name, is }) => (form[name] ?? '') !== '' || is === 'groups')}
          isRefused={folded.some(({ name }) => problemOf(name) !== undefined)}
        >
          {folded.map((field) => (
            <EntryField key={field.name} {...props} field={field} />
          ))}
        </Folded>
      )}
    </>
  );
}

/** Open from the start where something stands in it, and wherever something in it was refused. */
export function Folded(props: {
  readonly words: ReactNode;
  readonly isFilled: boolean;
  readonly isRefused: boolean;
  readonly children: ReactNode;
}) {
  const [isOpen, setOpen] = useState(props.isFilled);
  return (
    <details className="more" open={isOpen || props.isRefused} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{props.words}</summary>
      <div className="field-grid">{props.children}</div>
    </details>
  );
}

export function EntryField(props: FieldsProps & { readonly field: FieldSpec }) {
  const { field, form } = props;
  if (field.is === 'pieces' && (partNamed(props.parts, form['part'] ?? '')?.quantity ?? 1) === 1) return null;
  return (
    <div className={field.isWide === true ? 'wide' : ''}>
      <Asked {...props} />
    </div>
  );
}

function Asked(props: FieldsProps & { readonly field: FieldSpec }) {
  const { field, form, set, parts } = props;
  const common = {
    label: field.label,
    value: form[field.name] ?? '',
    onChange: (value: string) => set({ [field.name]: value }),
    hint: field.hint,
    problem: props.problemOf(field.name),
  };
  switch (field.is) {
    case 'part':
      return (
        <Suspense>
          <PartField {...common} parts={parts} />
        </Suspense>
      );
    case 'assembly':
      return (
        <Suspense>
          <PartField {...common} parts={field.name === 'part' ? parts.filter((part) => part.childCount > 0) : parts} />
        </Suspense>
      );
    case 'choice':
      return <Choice {...common} options={field.options ?? []} />;
    case 'picker':
      return <Picker {...common} options={field.options ?? []} />;
    case 'not yet in':
      return <NotYetIn {...common} below={partsBelow(parts, partNamed(parts, form['part'] ?? '')?.number ?? '')} />;
    case 'groups':
      return <GroupTargets {...props} />;
    case 'pieces': {
      const quantity = partNamed(parts, form['part'] ?? '')?.quantity ?? 1;
      return <Field {...common} hint={say`1 to ${quantity}: write 3, or 1-4, or 1, 3.`} />;
    }
    case 'day':
      return <Field {...common} type="date" />;
    case 'long':
      return <Field {...common} isLong />;
    default:
      if (field.suggest === 'groups') return <GroupField {...common} aircraftId={props.aircraft.id} />;
      return (
        <Field
          {...common}
          unit={unitOf(field.is, props.aircraft)}
          suggestions={field.suggest === 'scales' ? props.scales : undefined}
        />
      );
  }
}

/** The groups of the aircraft are offered; another may be typed (rule R4). */
function GroupField({ aircraftId, ...rest }: FieldProps & { readonly aircraftId: string }) {
  return <Field {...rest} suggestions={useGroups(aircraftId)} />;
}

/** The groups of the aircraft, and those that the entry names already. */
function groupsOf(known: readonly string[], form: Form): readonly string[] {
  const stated = Object.keys(form).flatMap((name) =>
    name.startsWith(GROUP_PREFIX) ? [name.slice(GROUP_PREFIX.length)] : [],
  );
  return [...new Set([...known, ...stated])];
}

function GroupTargets({ form, set, aircraft, problemOf }: FieldsProps) {
  const problem = problemOf('groups');
  const groups = groupsOf(useGroups(aircraft.id), form);
  if (groups.length === 0)
    return <p className="soft">{say`There are no groups yet: targets in Set-up and parts bring them.`}</p>;
  return (
    <div className="stack-tight">
      <div className="field-grid">
        {groups.map((group) => (
          <Field
            key={group}
            label={group}
            value={form[`${GROUP_PREFIX}${group}`] ?? ''}
            onChange={(value) => set({ [`${GROUP_PREFIX}${group}`]: value })}
            unit={aircraft.massUnit}
          />
        ))}
      </div>
      {problem === undefined ? null : <p className="notice bad">{problem}</p>}
    </div>
  );
}
