/** One scratch change: what is done to which part, and beside it what that does. */

import type { WhatIfReport } from '#shared/contract/forecast.ts';
import { ACTS, CHANGE_FIELDS, type ChangeField } from '#shared/contract/proposal.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { say } from '#shared/words/say.ts';
import { Button, Field, Picker } from '../pieces/controls.tsx';
import { partNamed } from '../pieces/find-parts.ts';
import type { Shown } from '../pieces/units.ts';
import { PartField } from '../record/part-field.tsx';
import { ACT_WORDS } from '../words/proposals.ts';
import { type Row, UNIT_OF } from './scratch.ts';

const ACT_CHOICES = ACTS.map((value) => ({ value, words: ACT_WORDS[value] }));

export function ChangeRow(props: {
  readonly row: Row;
  /** Counted from 1. */
  readonly number: number;
  readonly parts: readonly PartReport[];
  readonly shown: Shown;
  readonly step: WhatIfReport['steps'][number] | undefined;
  readonly problemOf: (field: ChangeField) => string | undefined;
  readonly onChange: (changed: Partial<Row>) => void;
  readonly onRemove: () => void;
}) {
  const { row, number, parts, shown, step, problemOf } = props;
  const { needs, may } = CHANGE_FIELDS[row.act];
  const fields = [...needs, ...may].filter((field) => field !== 'part');
  const isUnknown = row.part.trim() !== '' && partNamed(parts, row.part) === undefined;
  return (
    <li className="change" data-row={row.key} aria-label={say`Change ${number}`}>
      <Picker
        label={say`Change ${number}`}
        options={ACT_CHOICES}
        value={row.act}
        onChange={(act) => props.onChange({ act })}
      />
      {needs.includes('part') ? (
        <PartField
          label={say`Part`}
          value={row.part}
          onChange={(part) => props.onChange({ part })}
          parts={parts}
          hint={isUnknown ? say`Go on typing, or choose from the list.` : undefined}
          problem={problemOf('part')}
        />
      ) : null}
      {inOrder(fields).map((field) => (
        <Field
          key={field}
          label={labelOf(row, field)}
          value={row[field]}
          onChange={(text) => props.onChange({ [field]: text })}
          unit={unitOf(field, shown)}
          problem={problemOf(field)}
          autoComplete="off"
        />
      ))}
      <div className="change-end">
        <p className="change-effect">
          {step === undefined ? (
            <span className="soft small">{say`not counted yet`}</span>
          ) : (
            <>
              {shown.massWithUnit(step.massKg, { sign: true })}
              <span className="soft small">
                {step.cgXM === undefined ? say`no CG` : say`CG ${shown.cgEffect(step.cgXM)}`}
              </span>
            </>
          )}
        </p>
        <Button
          kind="quiet"
          slim
          onPress={props.onRemove}
          aria-label={say`Take out change ${number}`}
        >{say`Take out`}</Button>
      </div>
    </li>
  );
}

const ORDER: readonly ChangeField[] = ['name', 'mass', 'uncertainty', 'x', 'y', 'z'];

function inOrder(fields: readonly ChangeField[]): readonly ChangeField[] {
  return ORDER.filter((field) => fields.includes(field));
}

function unitOf(field: ChangeField, shown: Shown): string | undefined {
  const unit = UNIT_OF[field];
  return unit === undefined ? undefined : shown.units[unit];
}

function labelOf(row: Row, field: ChangeField): string {
  if (field === 'name') return say`What`;
  if (field === 'uncertainty') return say`Give or take`;
  if (field === 'mass')
    return row.act === 'add mass' ? say`Mass, − takes off` : row.act === 'set mass' ? say`New mass` : say`Mass`;
  return row.act === 'move' ? say`Along ${field} by` : say`Station ${field}`;
}
