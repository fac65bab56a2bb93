/**
 * The processes that changed, at the head of what drifts: one change of a process moves everything that it has still to release. Those that only
 * leave allowance over stand apart, since nothing drifts there.
 */

import { Fragment, useState } from 'react';
import { Link } from 'wouter';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { ProcessDriftReport } from '#shared/contract/forecast.ts';
import { say } from '#shared/words/say.ts';
import { useForecast } from '../door/queries.ts';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { ProcessCauseDialog } from './process-cause-dialog.tsx';
import { ProcessRow } from './process-row.tsx';
import { asksForCause } from './process-words.tsx';

export function ChangedProcesses(props: {
  readonly aircraft: AircraftReport;
  readonly asKnownAt: number | undefined;
  readonly called: readonly ProcessDriftReport[];
  readonly shown: Shown;
  readonly mayAct: boolean;
  readonly onRecorded: (recorded: RecordedReport) => void;
}) {
  const { aircraft, called } = props;
  const forecast = useForecast(aircraft.id, props.asKnownAt);
  const [asked, setAsked] = useState<ProcessDriftReport>();
  const lists = [
    { title: say`Processes that changed`, reports: called.filter(asksForCause) },
    { title: say`Processes with allowance to spare`, reports: called.filter((report) => !asksForCause(report)) },
  ];
  return (
    <section aria-label={say`Processes that changed, or spare allowance`} className="stack-tight">
      {lists.map(({ title, reports }) =>
        reports.length === 0 ? null : (
          <Fragment key={title}>
            <h3>{rich`${title} ${<span className="soft count">{reports.length}</span>}`}</h3>
            <ul className="finding-list">
              {reports.map((report) => (
                <ProcessRow
                  key={report.process}
                  aircraftId={aircraft.id}
                  report={report}
                  forecast={forecast.data?.processes.find(({ process }) => process === report.process)}
                  shown={props.shown}
                  onCause={props.mayAct ? () => setAsked(report) : undefined}
                />
              ))}
            </ul>
          </Fragment>
        ),
      )}
      <p className="small">
        <Link href={`/aircraft/${aircraft.id}/processes`}>{say`All processes with their charts`}</Link>
      </p>
      {asked === undefined ? null : (
        <ProcessCauseDialog
          aircraft={aircraft}
          report={asked}
          onClose={() => setAsked(undefined)}
          onRecorded={(recorded) => {
            setAsked(undefined);
            props.onRecorded(recorded);
          }}
        />
      )}
    </section>
  );
}
