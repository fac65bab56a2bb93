/** The processes that were called, at the head of what drifts: one change of a process moves everything that it has still to release. */

import { useState } from 'react';
import { Link } from 'wouter';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { ProcessDriftReport } from '#shared/contract/forecast.ts';
import { say } from '#shared/words/say.ts';
import { useForecast } from '../door/queries.ts';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { ProcessCauseDialog } from './process-cause-dialog.tsx';
import { ProcessRow } from './process-row.tsx';

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
  return (
    <section aria-label={say`Processes that changed`} className="stack-tight">
      <h3>{rich`Processes that changed ${<span className="soft count">{called.length}</span>}`}</h3>
      <ul className="finding-list">
        {called.map((report) => (
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
