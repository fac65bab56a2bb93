/** The targets of the groups as they are typed, their sum against the empty weight, and what each group is predicted at. */
import { useState } from 'react';
import type { BreakdownReport, HeadlineReport } from '#shared/contract/reports.ts';
import { explain } from '#shared/problem/registry.ts';
import { showMassWithStd } from '#shared/quantity/show.ts';
import { readMass } from '#shared/quantity/typed.ts';
import { STARTER_GROUPS } from '#shared/target/groups.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { minus, type Shown } from '../pieces/units.ts';
import { massIn } from './typed-as.ts';
import type { EntryForm } from './use-entry-form.ts';

/** Before the name of a group, its target's field in the form. */
export const GROUP = 'groups/';

export function GroupTable(props: {
  readonly form: EntryForm;
  readonly groups: readonly BreakdownReport[];
  readonly headline: HeadlineReport;
  readonly shown: Shown;
}) {
  const { form, groups, headline, shown } = props;
  const { mass, units } = shown;
  const inForm = Object.keys(form.words).flatMap((field) =>
    field.startsWith(GROUP) ? [field.slice(GROUP.length)] : [],
  );
  const used = groups.filter(({ partCount }) => partCount > 0).map(({ name }) => name);
  const names = [...new Set([...used, ...inForm])];
  const texts = names.map((name) => form.word(`${GROUP}${name}`)).filter((text) => text.trim() !== '');
  const masses = texts.map(massIn);
  const sumKg = masses.every((massKg) => massKg !== undefined)
    ? masses.reduce<number>((sum, massKg) => sum + massKg, 0)
    : undefined;
  return (
    <div className="stack-tight">
      <h3>Targets of groups</h3>
      {names.length === 0 ? (
        <p className="soft">No group is in use yet. Parts bring theirs along; one may be named here before.</p>
      ) : (
        <table className="group-targets">
          <thead>
            <tr>
              <th scope="col">Group</th>
              <th scope="col">Target, with its unit</th>
              <th scope="col" className="number">
                Predicted, {units.mass}
              </th>
              <th scope="col" className="number">
                Left, {units.mass}
              </th>
            </tr>
          </thead>
          <tbody>
            {names.map((name) => (
              <GroupRow
                key={name}
                name={name}
                form={form}
                row={groups.find((group) => group.name === name)}
                shown={shown}
              />
            ))}
          </tbody>
          <tfoot>
            <tr>
              <th scope="row">Sum</th>
              <td data-name="Targets">{sumKg === undefined ? '–' : `${mass(sumKg)} ${units.mass}`}</td>
              <td className="number" data-name={`Predicted, ${units.mass}`}>
                {massWithStd(headline.predictedKg, headline.predictedStdKg, shown)}
              </td>
              <td className="number" data-name={`Left, ${units.mass}`}>
                {sumKg === undefined ? '–' : mass(sumKg - headline.predictedKg, { sign: true })}
              </td>
            </tr>
          </tfoot>
        </table>
      )}
      {form.problemAt('/groups') === undefined || masses.includes(undefined) ? null : (
        <p className="notice bad">{form.problemAt('/groups')}</p>
      )}
      <SumWords sumKg={sumKg} count={texts.length} targetKg={massIn(form.word('empty mass'))} shown={shown} />
      <AnotherGroup names={names} onAdd={(name) => form.set(`${GROUP}${name}`)('')} />
    </div>
  );
}

function GroupRow(props: {
  readonly name: string;
  readonly form: EntryForm;
  readonly row: BreakdownReport | undefined;
  readonly shown: Shown;
}) {
  const { name, form, row, shown } = props;
  const { mass, units } = shown;
  const field = `${GROUP}${name}`;
  const text = form.word(field);
  const read = text.trim() === '' ? undefined : readMass(text);
  // A text is told to be wrong once the figures have been sent: half of one is typed all the time.
  const told = form.problemAt('/groups') !== undefined && read?.ok === false ? explain(read.refusal) : undefined;
  const leftKg = read?.ok === true && row !== undefined ? read.value.si - row.predictedKg : undefined;
  return (
    <tr>
      <th scope="row">
        {name}
        {row === undefined || row.partCount === 0 ? (
          <Button kind="quiet" slim aria-label={`Take ${name} off the list`} onPress={() => form.drop(field)}>
            ✕
          </Button>
        ) : null}
      </th>
      <td data-name="Target" className="field">
        <input
          value={text}
          onChange={(event) => form.set(field)(event.target.value)}
          aria-label={`Target of ${name}`}
          aria-invalid={told !== undefined}
          autoComplete="off"
        />
        {told === undefined ? null : (
          <span className="problem">
            {told.words} {told.remedy}
          </span>
        )}
      </td>
      <td className={`number ${row === undefined ? 'none' : ''}`} data-name={`Predicted, ${units.mass}`}>
        {row === undefined ? '–' : massWithStd(row.predictedKg, row.predictedStdKg, shown)}
      </td>
      <td className={`number ${leftKg === undefined ? 'none' : ''}`} data-name={`Left, ${units.mass}`}>
        {leftKg === undefined ? '–' : mass(leftKg, { sign: true })}
        {leftKg !== undefined && leftKg < 0 ? <span className="flag heavy small block">▲ over</span> : null}
      </td>
    </tr>
  );
}

function SumWords(props: {
  readonly sumKg: number | undefined;
  readonly count: number;
  readonly targetKg: number | undefined;
  readonly shown: Shown;
}) {
  const { sumKg, targetKg } = props;
  const { massWithUnit } = props.shown;
  if (props.count === 0 || sumKg === undefined || targetKg === undefined) return null;
  const leftKg = targetKg - sumKg;
  if (Math.abs(leftKg) < 1e-9) return <p className="set-up-said">The groups add up to the empty-weight target.</p>;
  return leftKg > 0 ? (
    <p className="set-up-said">
      The groups add up to {massWithUnit(sumKg)}; {massWithUnit(leftKg)} of the empty-weight target are in no group.
    </p>
  ) : (
    <p className="notice warn">
      The groups add up to {massWithUnit(sumKg)}, {massWithUnit(-leftKg)} above the empty-weight target: all of them can
      be met and the aircraft still be too heavy.
    </p>
  );
}

const SUGGESTED = Object.values(STARTER_GROUPS).flat();

function AnotherGroup({ names, onAdd }: { readonly names: readonly string[]; readonly onAdd: (name: string) => void }) {
  const [name, setName] = useState('');
  const isThere = names.some((one) => one.toLowerCase() === name.trim().toLowerCase());
  return (
    <div className="row another-group">
      <Field
        label="Another group"
        value={name}
        onChange={setName}
        suggestions={SUGGESTED.filter((one) => !names.includes(one))}
        problem={isThere ? 'This group is in the table.' : undefined}
        autoComplete="off"
      />
      <Button
        isDisabled={name.trim() === '' || isThere}
        onPress={() => {
          onAdd(name.trim());
          setName('');
        }}
      >
        Add to the table
      </Button>
    </div>
  );
}

/** A mass and its standard uncertainty, for a column whose heading has the unit. */
export function massWithStd(massKg: number, stdKg: number, { units }: Shown): string {
  const { value, std } = showMassWithStd(massKg, stdKg, units.mass);
  return std === undefined ? minus(value) : `${minus(value)} ± ${std}`;
}
