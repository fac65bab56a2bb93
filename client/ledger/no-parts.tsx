/** An aircraft without parts: what it is meant to weigh, and how its parts list comes in. */
import { Link } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { HeadlineReport } from '#shared/contract/reports.ts';
import { useMay } from '../frame/signed-in.ts';
import { Empty } from '../pieces/states.tsx';
import type { Shown } from '../pieces/units.ts';

export function NoParts(props: {
  readonly aircraft: AircraftReport;
  readonly headline: HeadlineReport;
  readonly shown: Shown;
}) {
  const { targets } = props.headline;
  const isEngineer = useMay('engineer');
  return (
    <Empty title="No parts yet">
      <div className="stack">
        <p>
          {targets === undefined ? (
            <>
              No target is set.{' '}
              <Link href={`/aircraft/${props.aircraft.id}/set-up/targets`}>Targets are set in Set-up</Link>.
            </>
          ) : (
            `The target is an empty weight of ${props.shown.massWithUnit(targets.emptyMassKg)}.`
          )}{' '}
          Once there are parts, this page shows where the aircraft stands against it.
        </p>
        {isEngineer ? (
          <>
            <p>
              A table with a line for each part is all it takes: number, group and, as far as they are known, name,
              process, quantity, estimate and station. A CSV file, an XLSX workbook, or copied cells. Single parts are
              added under “Record an entry”.
            </p>
            <div>
              <Link className="button main" href={`/aircraft/${props.aircraft.id}/bring`}>
                Bring the parts list
              </Link>
            </div>
          </>
        ) : (
          <p>The engineer brings the parts list.</p>
        )}
      </div>
    </Empty>
  );
}
