/** Processes: which of them changed, what to weigh next, and what weighings have in common or have taught. */

import { useEffect, useMemo, useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { ForecastReport, ProcessDriftReport } from '#shared/contract/forecast.ts';
import { say } from '#shared/words/say.ts';
import { useForecast, useReleases } from '../door/queries.ts';
import { WeighNext } from '../forecast/weigh-next.tsx';
import { useMay } from '../frame/signed-in.ts';
import { Failed, Waiting } from '../pieces/states.tsx';
import { percent, shownIn } from '../pieces/units.ts';
import { RecordedNotice } from '../record/recorded-notice.tsx';
import { Lessons } from './lessons.tsx';
import { ProcessCard } from './process-card.tsx';
import { ProcessCauseDialog } from './process-cause-dialog.tsx';
import { slug } from './process-row.tsx';
import { SplitTable } from './split-table.tsx';
import '../ledger/ledger.css';
import './drift.css';

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function ProcessesScreen({ aircraft }: { readonly aircraft: AircraftReport }) {
  const shown = useMemo(() => shownIn(aircraft), [aircraft]);
  const releases = useReleases(aircraft.id);
  const forecast = useForecast(aircraft.id);
  const [asked, setAsked] = useState<ProcessDriftReport>();
  const [recorded, setRecorded] = useState<RecordedReport>();
  const mayAct = useMay('engineer');
  const isThere = releases.data !== undefined;
  // The address may name one process, which has its place once the answer is here.
  useEffect(() => {
    if (isThere) document.getElementById(location.hash.slice(1))?.scrollIntoView();
  }, [isThere]);
  return (
    <div className="page stack">
      <h1>{say`Processes`}</h1>
      <p className="soft">{say`Each process is watched in the order of its releases: the first weighing of every piece, against its estimate and allowance. Its shift is what it comes out beyond both. A change shows here before any one part is far off.`}</p>
      <div role="status" className="told">
        {recorded === undefined ? null : <RecordedNotice aircraft={aircraft} recorded={recorded} />}
      </div>
      {releases.isPending ? <Waiting what={say`the processes`} /> : null}
      {releases.isLoadingError ? <Failed error={releases.error} again={() => void releases.refetch()} /> : null}
      {releases.data?.length === 0 ? (
        <p className="notice">{say`No part with an estimate has been weighed yet. The first weighing begins the charts.`}</p>
      ) : null}
      <div className="process-list">
        {releases.data?.map((report) => (
          <ProcessCard
            key={report.process}
            aircraftId={aircraft.id}
            report={report}
            forecast={forecast.data?.processes.find(({ process }) => process === report.process)}
            shown={shown}
            onCause={mayAct ? () => setAsked(report) : undefined}
          />
        ))}
      </div>
      <p className="soft small">{unreleasedWords(forecast.data, releases.data ?? [])}</p>
      <WeighNext aircraft={aircraft} forecast={forecast.data} shown={shown} />
      <div className="process-tables">
        <SplitTable aircraft={aircraft} shown={shown} />
        <div className="stack">
          <Lessons aircraft={aircraft} shown={shown} />
        </div>
      </div>
      {asked === undefined ? null : (
        <ProcessCauseDialog
          aircraft={aircraft}
          report={asked}
          onClose={() => setAsked(undefined)}
          onRecorded={(one) => {
            setAsked(undefined);
            setRecorded(one);
            document.getElementById(slug(asked.process))?.scrollIntoView();
          }}
        />
      )}
    </div>
  );
}

/** Processes that have released nothing count in the forecast as well. */
function unreleasedWords(forecast: ForecastReport | undefined, releases: readonly ProcessDriftReport[]): string {
  const none = forecast?.processes.filter(({ process }) => !releases.some((one) => one.process === process)) ?? [];
  const [first] = none;
  if (first === undefined) return '';
  const names = none.map(({ process }) => process).join(', ');
  return say`Nothing weighed yet of: ${names}. Until something is, each is taken to miss what is moulded by 0\u00a0±\u00a0${percent(first.shiftStdFraction)}.`;
}
