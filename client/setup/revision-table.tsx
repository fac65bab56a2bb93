/** All revisions of the targets, newest first, each with what today's predicted mass leaves of it. */

import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { RevisionReport } from '#shared/contract/set-up.ts';
import { showPercent } from '#shared/quantity/show.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { StatedIn } from './stated-in.tsx';

export function RevisionTable(props: {
  readonly aircraft: AircraftReport;
  readonly onCorrected: ((recorded: RecordedReport) => void) | undefined;
  readonly revisions: readonly RevisionReport[];
  readonly shown: Shown;
}) {
  const { revisions, shown } = props;
  const { units } = shown;
  const last = revisions.length;
  return (
    <div className="card stack-tight">
      <h2>{say`Targets by revision`}</h2>
      <table className="revisions">
        <thead>
          <tr>
            <th scope="col">{say`Revision`}</th>
            <th scope="col" className="number">
              {rich`Empty weight, ${units.mass}`}
            </th>
            <th scope="col" className="number">
              {rich`Reserve, ${units.mass}`}
            </th>
            <th scope="col" className="number">
              {rich`Margin today, ${units.mass}`}
            </th>
            <th scope="col" className="number">
              {rich`CG range, ${units.length}`}
            </th>
            <th scope="col">{say`A part drifts beyond`}</th>
            <th scope="col">{say`Groups`}</th>
            <th scope="col">{say`Why`}</th>
          </tr>
        </thead>
        <tbody>
          {[...revisions].reverse().map((revision) => (
            <Revision
              key={revision.seq}
              aircraft={props.aircraft}
              onCorrected={props.onCorrected}
              revision={revision}
              isInForce={revision.revision === last}
              before={revisions[revision.revision - 2]}
              shown={shown}
            />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Revision(props: {
  readonly aircraft: AircraftReport;
  readonly onCorrected: ((recorded: RecordedReport) => void) | undefined;
  readonly revision: RevisionReport;
  readonly isInForce: boolean;
  readonly before: RevisionReport | undefined;
  readonly shown: Shown;
}) {
  const { revision, isInForce, shown } = props;
  const { mass, length, massWithUnit, units } = shown;
  const { cgForwardM, cgAftM, partLimit } = revision;
  return (
    <tr className={isInForce ? 'in-force' : ''}>
      <th scope="row">
        {revision.revision}
        {isInForce ? say` · in force` : ''}
        <span className="soft small block unparted">
          {dayWords(revision.happenedOn)} · {revision.by}
        </span>
      </th>
      <td className="number" data-name={say`Empty weight, ${units.mass}`}>
        {mass(revision.emptyMassKg)}
      </td>
      <td className="number" data-name={say`Reserve, ${units.mass}`}>
        {mass(revision.reserveKg)}
      </td>
      <td className="number" data-name={say`Margin today, ${units.mass}`}>
        {mass(revision.marginKg, { sign: true })}
        {revision.marginKg < 0 ? <span className="flag heavy small block">{say`▲ over`}</span> : null}
      </td>
      <td className="number" data-name={say`CG range, ${units.length}`}>
        {cgForwardM === undefined && cgAftM === undefined
          ? say`not set`
          : say`${length(cgForwardM)} to ${length(cgAftM)}`}
      </td>
      <td data-name={say`A part drifts beyond`}>
        <span>
          {rich`${<span className="unparted">{massWithUnit(partLimit.absoluteKg)}</span>} or ${<span className="unparted">{showPercent(partLimit.fraction)} %</span>}, the larger`}
        </span>
      </td>
      <td data-name={say`Groups`}>
        <GroupTargets revision={revision} before={props.before} shown={shown} />
      </td>
      <td className="wide" data-name={say`Why`}>
        {revision.reason ?? <span className="soft">{say`the first targets`}</span>}
        <span className="soft small block">
          <StatedIn aircraft={props.aircraft} onCorrected={props.onCorrected} of={revision} />
        </span>
      </td>
    </tr>
  );
}

function GroupTargets(props: {
  readonly revision: RevisionReport;
  readonly before: RevisionReport | undefined;
  readonly shown: Shown;
}) {
  const { groups } = props.revision;
  const { massWithUnit } = props.shown;
  if (groups.length === 0) return <span className="soft">{say`none`}</span>;
  const sumKg = groups.reduce((sum, { massKg = 0 }) => sum + massKg, 0);
  const before = new Map(props.before?.groups.map(({ group, massKg }) => [group, massKg]));
  return (
    <details>
      <summary>
        {groups.length === 1 ? say`one group` : say`${groups.length} groups`}, {massWithUnit(sumKg)}
      </summary>
      <ul className="set-up-list small">
        {groups.map(({ group, massKg }) => {
          const beforeKg = before.get(group);
          const changeKg = massKg === undefined || beforeKg === undefined ? 0 : massKg - beforeKg;
          return (
            <li key={group}>
              {group}: <span className="unparted">{massKg === undefined ? say`no target` : massWithUnit(massKg)}</span>
              {Math.abs(changeKg) < 1e-9 ? null : (
                <span className="soft"> ({massWithUnit(changeKg, { sign: true })})</span>
              )}
            </li>
          );
        })}
      </ul>
    </details>
  );
}
