/** The targets of the groups as they are typed, their sum against the empty weight, and what each group is forecast at. */

import { useState } from 'react';
import type { GroupForecastReport } from '#shared/contract/forecast.ts';
import type { BreakdownReport } from '#shared/contract/reports.ts';
import { explain } from '#shared/problem/registry.ts';
import { showMassWithStd } from '#shared/quantity/show.ts';
import { readMass } from '#shared/quantity/typed.ts';
import { STARTER_GROUPS } from '#shared/target/groups.ts';
import { say } from '#shared/words/say.ts';
import { GROUP_PREFIX } from '#shared/words/statement-in-words.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { typedWith } from '../pieces/typed-units.ts';
import { minus, type Shown } from '../pieces/units.ts';
import type { Draft } from '../record/draft.ts';
import { rich } from '../words/rich.ts';
import { massIn } from './typed-as.ts';

export function GroupTable(props: {
  readonly draft: Draft;
  /** The refusal of the groups as a whole. */
  readonly problem: string | undefined;
  readonly groups: readonly BreakdownReport[];
  /** What each group is forecast at; none until that is known. */
  readonly forecasts: readonly GroupForecastReport[];
  readonly shown: Shown;
}) {
  const { draft, problem, groups, forecasts, shown } = props;
  const { form, set } = draft;
  const { mass, units } = shown;
  const inForm = Object.keys(form).flatMap((field) =>
    field.startsWith(GROUP_PREFIX) ? [field.slice(GROUP_PREFIX.length)] : [],
  );
  const used = groups.filter(({ partCount }) => partCount > 0).map(({ name }) => name);
  const names = [...new Set([...used, ...inForm])];
  const texts = names.map((name) => form[`${GROUP_PREFIX}${name}`] ?? '').filter((text) => text.trim() !== '');
  const masses = texts.map((text) => massIn(text, units.mass));
  const sumKg =
    texts.length > 0 && masses.every((massKg) => massKg !== undefined)
      ? masses.reduce<number>((sum, massKg) => sum + massKg, 0)
      : undefined;
  return (
    <div className="stack-tight">
      <h3>{say`Targets of groups`}</h3>
      {names.length === 0 ? (
        <p className="soft">{say`No group is in use yet. Parts bring theirs along; one may be named here before.`}</p>
      ) : (
        <table className="group-targets">
          <thead>
            <tr>
              <th scope="col">{say`Group`}</th>
              <th scope="col">{rich`Target, ${units.mass}`}</th>
              <th scope="col" className="number">
                {rich`Forecast, ${units.mass}`}
              </th>
              <th scope="col" className="number">
                {rich`Left, ${units.mass}`}
              </th>
            </tr>
          </thead>
          <tbody>
            {names.map((name) => (
              <GroupRow
                key={name}
                name={name}
                draft={draft}
                isRefused={problem !== undefined}
                row={groups.find((group) => group.name === name)}
                forecast={forecasts.find(({ group }) => group === name)}
                shown={shown}
              />
            ))}
          </tbody>
          {sumKg === undefined ? null : (
            <tfoot>
              <tr>
                <th scope="row">{say`Sum`}</th>
                <td data-name={say`Target, ${units.mass}`}>{mass(sumKg)}</td>
                <td className="none" colSpan={2} />
              </tr>
            </tfoot>
          )}
        </table>
      )}
      {problem === undefined || masses.includes(undefined) ? null : <p className="notice bad">{problem}</p>}
      <SumWords
        sumKg={sumKg}
        count={texts.length}
        targetKg={massIn(form['empty mass'] ?? '', units.mass)}
        shown={shown}
      />
      <AnotherGroup names={names} onAdd={(name) => set({ [`${GROUP_PREFIX}${name}`]: '' })} />
    </div>
  );
}

function GroupRow(props: {
  readonly name: string;
  readonly draft: Draft;
  readonly isRefused: boolean;
  readonly row: BreakdownReport | undefined;
  readonly forecast: GroupForecastReport | undefined;
  readonly shown: Shown;
}) {
  const { name, draft, row, forecast, shown } = props;
  const { mass, units } = shown;
  const field = `${GROUP_PREFIX}${name}`;
  const text = draft.form[field] ?? '';
  const read = text.trim() === '' ? undefined : readMass(typedWith(text, units.mass));
  // A text is told to be wrong once the figures have been sent: half of one is typed all the time.
  const told = props.isRefused && read?.ok === false ? explain(read.refusal) : undefined;
  const leftKg = read?.ok === true && forecast !== undefined ? read.value.si - forecast.forecastKg : undefined;
  return (
    <tr>
      <th scope="row">
        {name}
        {row === undefined || row.partCount === 0 ? (
          <Button kind="quiet" slim aria-label={say`Take ${name} off the list`} onPress={() => draft.drop(field)}>
            ✕
          </Button>
        ) : null}
      </th>
      <td data-name={say`Target, ${units.mass}`} className="field">
        <input
          value={text}
          onChange={(event) => draft.set({ [field]: event.target.value })}
          aria-label={say`Target of ${name}`}
          aria-invalid={told !== undefined}
          autoComplete="off"
        />
        {told === undefined ? null : (
          <span className="problem">
            {told.words} {told.remedy}
          </span>
        )}
      </td>
      <td className={`number ${forecast === undefined ? 'none' : ''}`} data-name={say`Forecast, ${units.mass}`}>
        {forecast === undefined ? '–' : massWithStd(forecast.forecastKg, forecast.forecastStdKg, shown)}
      </td>
      <td className={`number ${leftKg === undefined ? 'none' : ''}`} data-name={say`Left, ${units.mass}`}>
        {leftKg === undefined ? '–' : mass(leftKg, { sign: true })}
        {leftKg !== undefined && leftKg < 0 ? <span className="flag heavy small block">{say`▲ over`}</span> : null}
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
  if (Math.abs(leftKg) < 1e-9)
    return <p className="set-up-said">{say`The groups add up to the empty-weight target.`}</p>;
  return leftKg > 0 ? (
    <p className="set-up-said">{rich`The groups add up to ${massWithUnit(sumKg)}; ${massWithUnit(leftKg)} of the empty-weight target are in no group.`}</p>
  ) : (
    <p className="notice warn">{rich`The groups add up to ${massWithUnit(sumKg)}, ${massWithUnit(-leftKg)} above the empty-weight target: all of them can be met and the aircraft still be too heavy.`}</p>
  );
}

const SUGGESTED = Object.values(STARTER_GROUPS).flat();

function AnotherGroup({ names, onAdd }: { readonly names: readonly string[]; readonly onAdd: (name: string) => void }) {
  const [name, setName] = useState('');
  const isThere = names.some((one) => one.toLowerCase() === name.trim().toLowerCase());
  return (
    <div className="row another-group">
      <Field
        label={say`Another group`}
        value={name}
        onChange={setName}
        suggestions={SUGGESTED.filter((one) => !names.includes(one))}
        problem={isThere ? say`This group is in the table.` : undefined}
        autoComplete="off"
      />
      <Button
        isDisabled={name.trim() === '' || isThere}
        onPress={() => {
          onAdd(name.trim());
          setName('');
        }}
      >{say`Add to the table`}</Button>
    </div>
  );
}

/** A mass and its standard uncertainty, for a column whose heading has the unit. */
export function massWithStd(massKg: number, stdKg: number, { units }: Shown): string {
  const { value, std } = showMassWithStd(massKg, stdKg, units.mass);
  return std === undefined ? minus(value) : `${minus(value)} ± ${std}`;
}
