/** An aircraft without parts: what it is meant to weigh, and how its parts list comes in. */

import { Link } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { HeadlineReport } from '#shared/contract/reports.ts';
import { say } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { Empty } from '../pieces/states.tsx';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';

export function NoParts(props: {
  readonly aircraft: AircraftReport;
  readonly headline: HeadlineReport;
  readonly shown: Shown;
}) {
  const { targets } = props.headline;
  const isEngineer = useMay('engineer');
  return (
    <Empty title={say`No parts yet`}>
      <div className="stack">
        <p>
          {targets === undefined
            ? rich`No target is set. ${<Link href={`/aircraft/${props.aircraft.id}/set-up/targets`}>{say`Targets are set in Set-up`}</Link>}.`
            : say`The target is an empty weight of ${props.shown.massWithUnit(targets.emptyMassKg)}.`}{' '}
          {say`Once there are parts, this page shows where the aircraft stands against it.`}
        </p>
        {isEngineer ? (
          <>
            <p>{say`A table with a line for each part is all it takes: number, group and, as far as they are known, name, process, quantity, estimate and station. A CSV file, an XLSX workbook, or copied cells. Single parts are added under “Record an entry”.`}</p>
            <div>
              <Link
                className="button main"
                href={`/aircraft/${props.aircraft.id}/bring`}
              >{say`Bring the parts list`}</Link>
            </div>
          </>
        ) : (
          <p>{say`The engineer brings the parts list.`}</p>
        )}
      </div>
    </Empty>
  );
}
