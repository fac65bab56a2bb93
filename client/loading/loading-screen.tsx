/**
 * Loading (rules C1-C5): whether every permitted loading keeps inside the envelope, on what the aircraft will weigh empty. What is outside stands
 * first and stays.
 */

import { useMemo, useState } from 'react';
import { useSearchParams } from 'wouter';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import type { EmptyName, LoadingReport, StatedLimits } from '#shared/contract/loading.ts';
import { dayBefore, verdictOf } from '#shared/loading/say.ts';
import { say } from '#shared/words/say.ts';
import { useLoading } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button, Picker } from '../pieces/controls.tsx';
import { Empty, Failed, Waiting } from '../pieces/states.tsx';
import { type Shown, shownIn } from '../pieces/units.ts';
import { RecordedNotice } from '../record/recorded-notice.tsx';
import { today } from '../words/days.ts';
import { CasesTable, PayloadCard, WorstCard } from './answer-cards.tsx';
import { BallastCard } from './ballast-card.tsx';
import { CorrectLimits } from './correct-limits.tsx';
import { EnvelopePicture } from './envelope-picture.tsx';
import { keptFor } from './kept.ts';
import { LimitsEditor } from './limits-editor.tsx';
import { LimitsRead } from './limits-read.tsx';
import { RangeCard } from './range-card.tsx';
import { EarlierCard, EMPTY_WORDS, type Since, Verdict } from './verdict-card.tsx';
import '../ledger/ledger.css';
import '../record/record.css';
import '../setup/setup.css';
import './loading.css';

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function LoadingScreen({ aircraft }: { readonly aircraft: AircraftReport }) {
  const [since, setSince] = useState<Since>('7');
  const [day, setDay] = useState(() => dayBefore(today(), 7));
  const asked = since === 'day' ? (day === '' ? undefined : day) : dayBefore(today(), Number(since));
  const loading = useLoading(aircraft.id, asked);
  const shown = useMemo(() => shownIn(aircraft), [aircraft]);
  const isLead = useMay(ROLE_OF_KIND.loading);
  const [isEditing, setEditing] = useState(false);
  const [recorded, setRecorded] = useState<RecordedReport>();
  const [asks, setAsks] = useSearchParams();
  const corrects = isLead ? Number(asks.get('correct')) || undefined : undefined;
  if (loading.isPending)
    return (
      <div className="page">
        <h1 className="hidden-words">{say`Loading`}</h1>
        <Waiting what={say`the loading limits`} />
      </div>
    );
  if (loading.isLoadingError)
    return (
      <div className="page stack">
        <h1>{say`Loading`}</h1>
        <Failed error={loading.error} again={() => void loading.refetch()} />
      </div>
    );
  const report = loading.data;
  const edit = () => {
    setRecorded(undefined);
    setEditing(true);
    window.scrollTo({ top: 0 });
  };
  const close = (told?: RecordedReport) => {
    setRecorded(told);
    setEditing(false);
    setAsks({}, { replace: true });
    window.scrollTo({ top: 0 });
  };
  if (corrects !== undefined)
    return (
      <div className="page stack loading">
        <CorrectLimits
          key={corrects}
          {...{ aircraft, report }}
          seq={corrects}
          onRecorded={close}
          onClose={() => close()}
        />
      </div>
    );
  if (isEditing)
    return (
      <div className="page stack loading">
        <LimitsEditor aircraft={aircraft} report={report} onRecorded={close} onClose={() => setEditing(false)} />
      </div>
    );
  const { stated } = report;
  const kept = isLead && keptFor(aircraft.id) !== undefined;
  return (
    <div className="page stack loading">
      <div className="stack-tight">
        <h1>{say`Loading`}</h1>
        <p className="soft">{say`How the aircraft may be loaded, and whether every permitted loading keeps inside its envelope.`}</p>
      </div>
      <div role="status">
        {recorded === undefined ? null : <RecordedNotice aircraft={aircraft} recorded={recorded} />}
      </div>
      {stated === undefined ? (
        <NoLimits isLead={isLead} isKept={kept} onEdit={edit} />
      ) : (
        <>
          {report.answers.length === 0 ? (
            <p className="notice warn">{say`The aircraft has no CG yet: nothing in it has a mass and a station. Estimate parts, and every loading is held against these limits.`}</p>
          ) : (
            <Answers
              {...{ aircraft, report, stated, shown, since, day }}
              onSince={setSince}
              onDay={setDay}
              onRecorded={setRecorded}
            />
          )}
          <LimitsRead {...{ aircraft, report, stated, shown }} onCorrected={isLead ? setRecorded : undefined}>
            {isLead ? (
              <Button onPress={edit}>
                {kept ? say`Go on with the limits that are typed` : say`Revise the limits`}
              </Button>
            ) : null}
          </LimitsRead>
        </>
      )}
    </div>
  );
}

function NoLimits(props: { readonly isLead: boolean; readonly isKept: boolean; readonly onEdit: () => void }) {
  return (
    <Empty title={say`No loading limits yet`}>
      <div className="stack">
        <p>{say`State where people, baggage and fuel go, the maximum weight and the corners of the envelope. Every permitted loading is then held against them, for the predicted and for the forecast empty weight, while there is still time to move something.`}</p>
        {props.isLead ? (
          <div>
            <Button kind="main" onPress={props.onEdit}>
              {props.isKept ? say`Go on with the limits that are typed` : say`State the limits`}
            </Button>
          </div>
        ) : (
          <p className="soft">{say`A lead states them.`}</p>
        )}
      </div>
    </Empty>
  );
}

function Answers(props: {
  readonly aircraft: AircraftReport;
  readonly report: LoadingReport;
  readonly stated: StatedLimits;
  readonly shown: Shown;
  readonly since: Since;
  readonly day: string;
  readonly onSince: (since: Since) => void;
  readonly onDay: (day: string) => void;
  readonly onRecorded: (recorded: RecordedReport) => void;
}) {
  const { aircraft, report, stated, shown } = props;
  const [looked, setLooked] = useState<EmptyName>('forecast');
  const answer = report.answers.find(({ empty }) => empty.name === looked) ?? report.answers[0];
  if (answer === undefined) return null;
  const { headline, worst, cases } = verdictOf(answer, shown.units);
  const of = EMPTY_WORDS[answer.empty.name];
  return (
    <>
      <Verdict report={report} shown={shown} />
      <div className="looked-at no-print">
        <Picker
          label={say`Empty weight in picture and tables`}
          options={report.answers.map(({ empty }) => ({ value: empty.name, words: EMPTY_WORDS[empty.name] }))}
          value={answer.empty.name}
          onChange={setLooked}
        />
      </div>
      <EnvelopePicture
        {...{ report, answer, shown, of }}
        limits={stated.limits}
        summary={[headline, worst, cases].filter(Boolean).join(' ')}
      />
      <WorstCard answer={answer} shown={shown} />
      <CasesTable answer={answer} shown={shown} />
      <div className="loading-pair">
        <PayloadCard answer={answer} shown={shown} />
        <EarlierCard {...props} />
      </div>
      <BallastCard {...{ aircraft, report, shown }} />
      <RangeCard {...{ aircraft, report, shown }} onRecorded={props.onRecorded} />
    </>
  );
}
