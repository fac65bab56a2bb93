/** The ledger: where the aircraft stands, how it got there, and every entry with its causes and effects. */

import { useMemo, useState } from 'react';
import { Link } from 'wouter';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { ForecastDayReport } from '#shared/contract/forecast.ts';
import { say } from '#shared/words/say.ts';
import { useForecast, useForecastDays, useGroupForecasts, useHistory, useLedger } from '../door/queries.ts';
import { DriftSection } from '../drift/drift-section.tsx';
import { ForecastFigure } from '../forecast/forecast-figure.tsx';
import { useMay } from '../frame/signed-in.ts';
import { useOpenCounts, useOverdueTitles } from '../open/questions.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { shownIn } from '../pieces/units.ts';
import { RecordDialog } from '../record/record-dialog.tsx';
import { RecordedNotice } from '../record/recorded-notice.tsx';
import { rich } from '../words/rich.ts';
import { Bridge } from './bridge.tsx';
import { CgChart } from './cg-chart.tsx';
import { EntryList } from './entry-list.tsx';
import { GrowthChart } from './growth-chart.tsx';
import { Headline } from './headline.tsx';
import { NoParts } from './no-parts.tsx';
import './ledger.css';

/** The pictures stand before the forecast by the day has come, and where it does not come. */
const NO_DAYS: readonly ForecastDayReport[] = [];
const NONE_CALLED: readonly string[] = [];

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function LedgerScreen({ aircraft }: { readonly aircraft: AircraftReport }) {
  const [asKnownAt, setAsKnownAt] = useState<number>();
  const [isRecording, setRecording] = useState(false);
  const [recorded, setRecorded] = useState<RecordedReport>();
  const mayRecord = useMay('crew');
  const ledger = useLedger(aircraft.id, asKnownAt);
  const history = useHistory(aircraft.id, asKnownAt);
  const forecast = useForecast(aircraft.id, asKnownAt);
  const groups = useGroupForecasts(aircraft.id, asKnownAt);
  // What is overdue is so today: the ledger as it was known at an entry says nothing of it.
  const overdue = useOverdueTitles(aircraft.id, { isAsked: asKnownAt === undefined });
  const openCounts = useOpenCounts(aircraft.id, { isAsked: asKnownAt === undefined });
  const forecastDays = useForecastDays(aircraft.id, asKnownAt);
  const shown = useMemo(() => shownIn(aircraft), [aircraft]);
  if (ledger.isPending)
    return (
      <div className="page">
        <h1 className="hidden-words">{aircraft.name}</h1>
        <Waiting what={say`the ledger`} />
      </div>
    );
  if (ledger.isLoadingError)
    return (
      <div className="page stack">
        <h1>{aircraft.name}</h1>
        <Failed error={ledger.error} again={() => void ledger.refetch()} />
      </div>
    );
  const { headline } = ledger.data;
  const told = (one: RecordedReport) => {
    setRecording(false);
    setRecorded(one);
    window.scrollTo({ top: 0 });
  };
  const groupsOver = (groups.data ?? []).flatMap(({ group, marginKg = 0 }) => (marginKg < 0 ? [group] : []));
  return (
    <div className="page stack">
      <div className="ledger-title">
        <h1>{aircraft.name}</h1>
        <p className="soft small ledger-datum">{rich`Datum: ${aircraft.datum}`}</p>
        {mayRecord && asKnownAt === undefined ? (
          <Button kind="main" onPress={() => setRecording(true)}>{say`Record an entry`}</Button>
        ) : null}
      </div>
      <div role="status" className="told">
        {recorded === undefined ? null : <RecordedNotice aircraft={aircraft} recorded={recorded} />}
      </div>
      <AsKnown asKnownAt={asKnownAt} lastSeq={aircraft.headSeq} onChange={setAsKnownAt} />
      {headline.partCount === 0 ? (
        <NoParts aircraft={aircraft} headline={headline} shown={shown} />
      ) : (
        <Headline
          headline={headline}
          shown={shown}
          aircraftId={aircraft.id}
          processesCalled={forecast.data?.processesCalled ?? NONE_CALLED}
          groupsOver={groupsOver}
          overdue={overdue}
          openCounts={openCounts}
          forecast={<ForecastFigure aircraft={aircraft} asKnownAt={asKnownAt} shown={shown} />}
        />
      )}
      {history.isPending ? <Waiting what={say`how it got there`} /> : null}
      {history.isLoadingError ? <Failed error={history.error} again={() => void history.refetch()} /> : null}
      {history.data === undefined || history.data.days.length < 2 ? null : (
        <div className="chart-pair">
          <GrowthChart
            targets={headline.targets}
            days={history.data.days}
            forecast={forecastDays.data?.days ?? NO_DAYS}
            shown={shown}
          />
          <CgChart days={history.data.days} shown={shown} />
        </div>
      )}
      {headline.partCount === 0 || asKnownAt !== undefined ? null : (
        <p className="no-print">
          <Link
            href={`/aircraft/${aircraft.id}/where`}
          >{say`Where the mass is: along the fuselage and from the side`}</Link>
        </p>
      )}
      {headline.partCount === 0 ? null : (
        <DriftSection
          aircraft={aircraft}
          asKnownAt={asKnownAt}
          shown={shown}
          isWeighed={headline.weighedKg > 0}
          onRecorded={told}
        />
      )}
      {history.data === undefined || asKnownAt !== undefined || history.data.days.length === 0 ? null : (
        <Bridge
          aircraft={aircraft}
          shown={shown}
          lastDay={history.data.days.at(-1)?.day ?? ''}
          lastSeq={history.data.seq}
        />
      )}
      <EntryList aircraft={aircraft} asKnownAt={asKnownAt} shown={shown} onAsKnownAt={setAsKnownAt} onRecorded={told} />
      {isRecording ? <RecordDialog aircraft={aircraft} onRecorded={told} onClose={() => setRecording(false)} /> : null}
    </div>
  );
}

function AsKnown(props: {
  readonly asKnownAt: number | undefined;
  readonly lastSeq: number;
  readonly onChange: (seq: number | undefined) => void;
}) {
  if (props.asKnownAt === undefined) return null;
  return (
    <div className="notice warn row" role="status">
      <span>{rich`This is the ledger as it stood at entry ${<strong>{props.asKnownAt}</strong>}; later entries are left out.`}</span>
      <Button slim onPress={() => props.onChange(undefined)}>{say`Back to now`}</Button>
    </div>
  );
}
