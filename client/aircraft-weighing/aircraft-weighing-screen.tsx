/** The whole aircraft on its scales (rules A1-A6): typed by the tablet at the scales and the office together, judged as it is typed, signed by a lead. */

import { useMemo, useState } from 'react';
import { Link } from 'wouter';
import { begunWith, SUPPORT_SETS, type SupportSet } from '#shared/aircraft-weighing/draft.ts';
import { draftInWords } from '#shared/aircraft-weighing/in-words.ts';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { AircraftWeighingsReport } from '#shared/contract/aircraft-weighing.ts';
import type { ScaleReport } from '#shared/contract/drift.ts';
import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import type { HeadlineReport, PartReport } from '#shared/contract/reports.ts';
import { say } from '#shared/words/say.ts';
import { useLedger, useParts, useScales } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { NotYetIn, partsBelow } from '../pieces/not-yet-in.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { plusMinus, shownIn } from '../pieces/units.ts';
import { RecordedNotice } from '../record/recorded-notice.tsx';
import { SAFETY_WORDS, SET_WORDS } from '../words/aircraft-weighing.ts';
import { rich } from '../words/rich.ts';
import { ChecklistCard } from './checklist-card.tsx';
import { CorrectionsCard } from './corrections-card.tsx';
import { Diagram } from './diagram.tsx';
import { DropButton } from './drop-button.tsx';
import { Earlier } from './earlier.tsx';
import { fieldWords } from './field-words.ts';
import { notAboardYet } from './not-aboard-yet.ts';
import { useWeighings } from './questions.ts';
import { ReadingsCard } from './readings-card.tsx';
import { Reconcile } from './reconcile-card.tsx';
import { ResultPanel } from './result-panel.tsx';
import { SignCard } from './sign-card.tsx';
import { SupportsCard } from './supports-card.tsx';
import { type Draft, useDraft } from './use-draft.ts';
import { useWeighing } from './use-weighing.ts';
import './aircraft-weighing.css';

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function AircraftWeighingScreen({ aircraft }: { readonly aircraft: AircraftReport }) {
  const weighings = useWeighings(aircraft.id);
  const parts = useParts(aircraft.id);
  const scales = useScales(aircraft.id);
  const ledger = useLedger(aircraft.id);
  const failed = [weighings, parts, scales, ledger].find(({ isLoadingError }) => isLoadingError);
  if (failed !== undefined)
    return (
      <div className="page stack">
        <h1>{say`Aircraft weighing`}</h1>
        <Failed error={failed.error} again={() => void failed.refetch()} />
      </div>
    );
  if (
    weighings.data === undefined ||
    parts.data === undefined ||
    scales.data === undefined ||
    ledger.data === undefined
  )
    return (
      <div className="page">
        <h1 className="hidden-words">{say`Aircraft weighing`}</h1>
        <Waiting what={say`the weighings`} />
      </div>
    );
  const around = { parts: parts.data.parts, scales: scales.data, headline: ledger.data.headline };
  return <Screen aircraft={aircraft} weighings={weighings.data} {...around} />;
}

type Shows = {
  readonly aircraft: AircraftReport;
  readonly weighings: AircraftWeighingsReport;
  readonly parts: readonly PartReport[];
  readonly scales: readonly ScaleReport[];
  readonly headline: HeadlineReport;
};

function Screen(props: Shows) {
  const { aircraft, weighings } = props;
  const shown = shownIn(aircraft);
  const ids = weighings.signed.map(({ id }) => id);
  const { draft, begin, ended } = useDraft(aircraft.id, weighings.draft, ids);
  const mayType = useMay('crew');
  const maySign = useMay(ROLE_OF_KIND['aircraft weighing']);
  const [recorded, setRecorded] = useState<RecordedReport>();
  const latest = weighings.signed[0];
  return (
    <div className="page stack aircraft-weighing">
      <div className="stack-tight">
        <h1>{say`Aircraft weighing`}</h1>
        <p className="notice warn">⚠ {SAFETY_WORDS}</p>
        <div role="status" className="stack-tight">
          {recorded === undefined ? null : <RecordedNotice aircraft={aircraft} recorded={recorded} />}
          {ended === undefined ? null : (
            <p className="notice">{rich`The weighing that was being made is here no more. ${ended}`}</p>
          )}
        </div>
        {recorded === undefined || draft !== undefined || latest?.reconcile === undefined ? null : (
          <section className="card stack-tight" aria-label={say`What the scales found`}>
            <h2>{say`What the scales found beyond the parts`}</h2>
            <Reconcile of={latest.reconcile} shown={shown} />
          </section>
        )}
      </div>
      {draft === undefined ? (
        <Begin {...props} mayType={mayType} begin={(words) => begin(words)} />
      ) : mayType ? (
        <Editor {...props} draft={draft} onSigned={setRecorded} />
      ) : (
        <p className="notice">{rich`A weighing is being made by ${draft.by}. ${<Link href={`/aircraft/${aircraft.id}/aircraft-weighing/report/draft`}>{say`See it as it stands`}</Link>}.`}</p>
      )}
      <Earlier
        signed={weighings.signed}
        aircraft={aircraft}
        shown={shown}
        onCorrect={
          draft === undefined && maySign
            ? (one) => begin({ ...draftInWords(one), corrects: String(one.latestSeq) })
            : undefined
        }
      />
    </div>
  );
}

function Begin(
  props: Shows & { readonly mayType: boolean; readonly begin: (words: Readonly<Record<string, string>>) => void },
) {
  const { parts, weighings } = props;
  if (!props.mayType)
    return <p className="notice">{say`No weighing is being made. Crew, engineers and leads begin one.`}</p>;
  const start = (set: SupportSet) => {
    const missing = notAboardYet(parts);
    props.begin({ ...begunWith(set), ...(missing === '' ? {} : { 'not aboard': missing }) });
  };
  return (
    <section className="card stack" aria-label={say`Begin a weighing`}>
      <h2>
        {weighings.signed.length === 0 ? say`The aircraft has not been weighed as a whole yet` : say`Weigh it again`}
      </h2>
      <p>{say`How does it stand? Supports can be renamed, added and removed afterwards.`}</p>
      <div className="row">
        {(Object.keys(SUPPORT_SETS) as SupportSet[]).map((set) => (
          <Button key={set} onPress={() => start(set)}>
            {SET_WORDS[set]}
          </Button>
        ))}
      </div>
      <p className="soft">{rich`What is typed is kept on the server: the tablet at the scales and the office see the same. Scales are described in ${<Link href={`/aircraft/${props.aircraft.id}/set-up/scales`}>{say`Set-up`}</Link>}.`}</p>
    </section>
  );
}

function Editor(props: Shows & { readonly draft: Draft; readonly onSigned: (recorded: RecordedReport) => void }) {
  const { aircraft, draft, parts, scales, headline, weighings } = props;
  const shown = shownIn(aircraft);
  const [today] = useState(() => localDay());
  const of = useWeighing(draft, { aircraft, scales, headline, today });
  const { result, weighed } = of.read;
  const notAboard = draft.words['not aboard'] ?? '';
  const below = useMemo(
    () =>
      partsBelow(
        parts.map(({ assembly, ...part }) => ({ ...part, assembly: assembly ?? TOP })),
        TOP,
      ),
    [parts],
  );
  return (
    <div className="stack">
      <DraftState draft={draft} aircraft={aircraft} />
      <div className="weighing-grid">
        <div className="stack">
          <SupportsCard of={of} scales={scales.map(({ scale }) => scale)} />
          <ReadingsCard of={of} />
          <CorrectionsCard of={of} oilIsEmptyWeight={weighings.oilIsEmptyWeight} />
          <section className="card stack" aria-label={say`Not aboard`}>
            <h2>{say`Not aboard`}</h2>
            <p className="soft">{say`Parts of the ledger that were not on the aircraft. The ledger goes on counting them by themselves.`}</p>
            <NotYetIn
              label={say`Parts that were not aboard`}
              below={below}
              value={notAboard}
              onChange={(words) => draft.set('not aboard', words)}
            />
            {below.length === 0 ? <p className="soft">{say`The ledger has no parts.`}</p> : null}
          </section>
          <ChecklistCard of={of} levelling={weighings.levelling} />
        </div>
        <div className="stack weighing-side">
          <ResultPanel of={of} shown={shown} />
          {weighed === undefined || result === undefined ? null : (
            <section className="card stack-tight" aria-label={say`Picture`}>
              <Diagram
                {...{ weighed, result, shown }}
                cgForwardM={headline.targets?.cgForwardM}
                cgAftM={headline.targets?.cgAftM}
              />
            </section>
          )}
          {of.reconcile === undefined ? null : (
            <section className="card stack-tight" aria-label={say`Against the ledger`}>
              <h2>{say`Against the ledger`}</h2>
              <Reconcile of={of.reconcile} shown={shown} />
            </section>
          )}
        </div>
      </div>
      {result === undefined ? null : (
        <p className="weighing-strip no-print" aria-hidden="true">
          <strong>{plusMinus(shown.massWithStd(result.empty.massKg, result.empty.massStdKg), shown.units.mass)}</strong>
          <span>{rich`CG ${plusMinus(shown.lengthWithStd(result.empty.xM, result.empty.xStdM), shown.units.length)}`}</span>
          {of.doubts.length === 0 ? null : <span>⚠ {of.doubts.length}</span>}
        </p>
      )}
      <SignCard of={of} aircraft={aircraft} shown={shown} onSigned={props.onSigned} />
    </div>
  );
}

/** Stands for the aircraft itself, above all assemblies. */
const TOP = '\u0000';

function DraftState({ draft, aircraft }: { readonly draft: Draft; readonly aircraft: AircraftReport }) {
  return (
    <div className="stack-tight">
      <div className="row draft-state">
        <p role="status">
          {draft.isKept
            ? say`● Kept on the server${draft.by === undefined ? '' : say`, last by ${draft.by}`}`
            : draft.failure === undefined
              ? say`○ Keeping …`
              : say`⚠ Not on the server yet. It stays on this device. ${draft.failure}`}
        </p>
        <Link
          className="button slim"
          href={`/aircraft/${aircraft.id}/aircraft-weighing/report/draft`}
        >{say`Draft to print`}</Link>
        <DropButton draft={draft} />
      </div>
      {draft.lost.length === 0 ? null : (
        <div className="notice warn stack-tight" role="alert">
          <strong>{rich`Two typed in one field. What ${draft.by} typed stands:`}</strong>
          <ul className="plain-list">
            {draft.lost.map(({ field, mine, theirs }) => (
              <li key={`${field} ${mine}`}>
                {rich`${fieldWords(draft.words, field)}: ${theirs === '' ? say`nothing` : theirs}; typed here: ${mine}`}
              </li>
            ))}
          </ul>
          <div className="row">
            <Button slim onPress={draft.dismissLost}>{say`Seen`}</Button>
          </div>
        </div>
      )}
    </div>
  );
}

export function localDay(): string {
  const now = new Date();
  const two = (value: number) => String(value).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
