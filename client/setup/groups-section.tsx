/** The groups of the weight statement: those in use or listed, with what is in them, and two sets to start from. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { GroupForecastReport } from '#shared/contract/forecast.ts';
import type { BreakdownReport } from '#shared/contract/reports.ts';
import { type GroupSet, STARTER_GROUPS } from '#shared/target/groups.ts';
import { LOCALE, say } from '#shared/words/say.ts';
import { useGroupForecasts, useLedger } from '../door/queries.ts';
import { Failed, Waiting } from '../pieces/states.tsx';
import { percent, type Shown, shownIn } from '../pieces/units.ts';
import { Done } from './form-parts.tsx';
import { massWithStd } from './group-table.tsx';
import { useGroupRows, useSetUp } from './questions.ts';
import { ReviseForm } from './revise-form.tsx';
import { StarterSets } from './starter-sets.tsx';
import { useOpenForm } from './use-open-form.ts';

export function GroupsSection({ aircraft }: { readonly aircraft: AircraftReport }) {
  const groups = useGroupRows(aircraft.id);
  const setUp = useSetUp(aircraft.id);
  const ledger = useLedger(aircraft.id);
  const forecast = useGroupForecasts(aircraft.id);
  const form = useOpenForm<GroupSet>();
  const failed = [groups, setUp, ledger].find((one) => one.isLoadingError);
  if (failed !== undefined) return <Failed error={failed.error} again={() => void failed.refetch()} />;
  if (groups.data === undefined || setUp.data === undefined || ledger.data === undefined)
    return <Waiting what={say`the groups`} />;
  const before = setUp.data.revisions.at(-1);
  if (form.open !== undefined)
    return (
      <ReviseForm
        aircraft={aircraft}
        before={before}
        groups={groups.data}
        headline={ledger.data.headline}
        add={STARTER_GROUPS[form.open]}
        onClose={form.close}
      />
    );
  const listed = before?.groups.map(({ group }) => group) ?? [];
  const names = [...new Set([...groups.data.map(({ name }) => name), ...listed])];
  return (
    <section className="stack" aria-label={say`Groups`}>
      <Done words={form.done} />
      {names.length === 0 ? (
        <div className="card stack-tight">
          <h2>{say`No group yet`}</h2>
          <p>{say`Every part names its group, and each group can have a target of its own.`}</p>
        </div>
      ) : (
        <GroupList names={names} rows={groups.data} forecasts={forecast.data ?? []} shown={shownIn(aircraft)} />
      )}
      <StarterSets hasGroups={names.length > 0} opens={form.opens} />
    </section>
  );
}

function GroupList(props: {
  readonly names: readonly string[];
  readonly rows: readonly BreakdownReport[];
  readonly forecasts: readonly GroupForecastReport[];
  readonly shown: Shown;
}) {
  const { names, rows, forecasts, shown } = props;
  const columns = [
    say`Parts`,
    say`Predicted, ${shown.units.mass}`,
    say`Forecast, ${shown.units.mass}`,
    say`Weighed`,
    say`Target, ${shown.units.mass}`,
    say`Left, ${shown.units.mass}`,
  ];
  return (
    <div className="card stack-tight">
      <h2>{say`Groups in use`}</h2>
      <table className="revisions">
        <thead>
          <tr>
            <th scope="col">{say`Group`}</th>
            {columns.map((name) => (
              <th key={name} scope="col" className="number">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {names.map((name) => (
            <Group
              key={name}
              name={name}
              row={rows.find((row) => row.name === name)}
              forecast={forecasts.find(({ group }) => group === name)}
              columns={columns}
              shown={shown}
            />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Group(props: {
  readonly name: string;
  readonly row: BreakdownReport | undefined;
  readonly forecast: GroupForecastReport | undefined;
  readonly columns: readonly string[];
  readonly shown: Shown;
}) {
  const { name, row, forecast, columns, shown } = props;
  const { mass } = shown;
  const isOver = forecast?.marginKg !== undefined && forecast.marginKg < 0;
  const figures = [
    (row?.partCount ?? 0).toLocaleString(LOCALE),
    row === undefined ? '–' : massWithStd(row.predictedKg, row.predictedStdKg, shown),
    forecast === undefined ? '–' : massWithStd(forecast.forecastKg, forecast.forecastStdKg, shown),
    row?.weighedShare === undefined ? '–' : percent(row.weighedShare),
    mass(row?.targetKg),
    mass(forecast?.marginKg, { sign: true }),
  ];
  return (
    <tr>
      <th scope="row">{name}</th>
      {figures.map((figure, at) => (
        <td key={columns[at]} className="number" data-name={columns[at]}>
          {figure}
          {isOver && at === figures.length - 1 ? <span className="flag heavy small block">{say`▲ over`}</span> : null}
        </td>
      ))}
    </tr>
  );
}
