/** The groups of the weight statement in use, with what is in them. */
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { BreakdownReport } from '#shared/contract/reports.ts';
import { Failed, Waiting } from '../pieces/states.tsx';
import { percent, type Shown, shownIn } from '../pieces/units.ts';
import { massWithStd } from './group-table.tsx';
import { useGroups } from './questions.ts';

export function GroupsSection({ aircraft }: { readonly aircraft: AircraftReport }) {
  const groups = useGroups(aircraft.id);
  if (groups.isPending) return <Waiting what="the groups" />;
  if (groups.isLoadingError) return <Failed error={groups.error} again={() => void groups.refetch()} />;
  return (
    <section className="stack" aria-label="Groups">
      {groups.data.length === 0 ? (
        <div className="card stack-tight">
          <h2>No group in use yet</h2>
          <p>Every part names its group, and each group can have a target of its own.</p>
        </div>
      ) : (
        <GroupsInUse rows={groups.data} shown={shownIn(aircraft)} />
      )}
    </section>
  );
}

function GroupsInUse({ rows, shown }: { readonly rows: readonly BreakdownReport[]; readonly shown: Shown }) {
  const { mass, units } = shown;
  return (
    <div className="card stack-tight">
      <h2>Groups in use</h2>
      <table className="revisions">
        <thead>
          <tr>
            <th scope="col">Group</th>
            {['Parts', `Predicted, ${units.mass}`, 'Weighed', `Target, ${units.mass}`, `Left, ${units.mass}`].map(
              (name) => (
                <th key={name} scope="col" className="number">
                  {name}
                </th>
              ),
            )}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.name}>
              <th scope="row">{row.name}</th>
              <td className="number" data-name="Parts">
                {row.partCount}
              </td>
              <td className="number" data-name={`Predicted, ${units.mass}`}>
                {massWithStd(row.predictedKg, row.predictedStdKg, shown)}
              </td>
              <td className="number" data-name="Weighed">
                {row.weighedShare === undefined ? '–' : percent(row.weighedShare)}
              </td>
              <td className="number" data-name={`Target, ${units.mass}`}>
                {mass(row.targetKg)}
              </td>
              <td className="number" data-name={`Left, ${units.mass}`}>
                {mass(row.marginKg, { sign: true })}
                {row.marginKg !== undefined && row.marginKg < 0 ? (
                  <span className="flag heavy small block">▲ over</span>
                ) : null}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
