/** An aircraft without parts: what it is meant to weigh, and how its parts list comes in. */
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { HeadlineReport } from '#shared/contract/reports.ts';
import { useMay, usePerson } from '../frame/signed-in.ts';
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
          {targets === undefined
            ? 'No target is set.'
            : `The target is an empty weight of ${props.shown.massWithUnit(targets.emptyMassKg)}.`}{' '}
          Once there are parts, this page shows where the aircraft stands against it.
        </p>
        {isEngineer ? (
          <>
            <p>
              Add them one by one, under “Record an entry”: a part, then its estimate. Or bring a parts list, all at
              once:
            </p>
            <Steps name={props.aircraft.name} />
          </>
        ) : (
          <p>The engineer brings the parts list.</p>
        )}
      </div>
    </Empty>
  );
}

function Steps({ name }: { readonly name: string }) {
  const { initials } = usePerson();
  return (
    <ol className="steps">
      <li>
        Make a table with a line for each part: number, name, group, process, quantity, estimate, station. Save it as
        CSV. <code>db/demo/example/parts.csv</code> is one to start from.
      </li>
      <li>
        <p>
          In the folder of Tarebook, bring it in. What cannot be read is told line by line, and nothing is recorded
          until all of it can.
        </p>
        <code className="command">
          npm run --silent tarebook -- import --aircraft {quoted(name)} --by {initials} --parts parts.csv
        </code>
      </li>
      <li>
        On the embedded database Tarebook must be stopped meanwhile, since one process has the folder at a time. On
        PostgreSQL it may run on.
      </li>
    </ol>
  );
}

/** As a shell takes it. */
function quoted(name: string): string {
  return `"${name.replace(/(["\\$`])/g, '\\$1')}"`;
}
