/** What to do (rules F6-F9): changes tried on the forecast, side by side with the aircraft as it is, and what is kept as a proposal. */

import { useEffect, useMemo, useState } from 'react';
import { Link } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { ChangeField, SentChange, WhatIfAnswer } from '#shared/contract/proposal.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { numberKey } from '#shared/part/from-words.ts';
import { say } from '#shared/words/say.ts';
import { ProblemError } from '../door/ask.ts';
import { useParts } from '../door/queries.ts';
import { Button } from '../pieces/controls.tsx';
import { Empty, Failed, Waiting } from '../pieces/states.tsx';
import { type Shown, shownIn } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { BallastCard } from './ballast-card.tsx';
import { CgPicture } from './cg-picture.tsx';
import { ChangeRow } from './change-row.tsx';
import { KeepChanges } from './keep-changes.tsx';
import { ProposalsSection } from './proposals-section.tsx';
import { useSettled, useTried } from './questions.ts';
import { inSentWords, isComplete, type Row, type ScratchList, useScratch } from './scratch.ts';
import { SideBySide } from './side-by-side.tsx';
import './what-if.css';

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function WhatIfScreen({ aircraft }: { readonly aircraft: AircraftReport }) {
  const parts = useParts(aircraft.id);
  const shown = useMemo(() => shownIn(aircraft), [aircraft]);
  if (parts.isPending)
    return (
      <div className="page">
        <h1 className="hidden-words">{say`What if`}</h1>
        <Waiting what={say`the parts`} />
      </div>
    );
  if (parts.isLoadingError)
    return (
      <div className="page stack">
        <h1>{say`What if`}</h1>
        <Failed error={parts.error} again={() => void parts.refetch()} />
      </div>
    );
  if (parts.data.parts.length === 0)
    return (
      <div className="page stack">
        <h1>{say`What if`}</h1>
        <Empty title={say`There are no parts to change yet`}>
          <p>{rich`Add them on ${<Link href={`/aircraft/${aircraft.id}/parts`}>{say`Parts`}</Link>}, with their estimates; then changes can be tried here.`}</p>
        </Empty>
      </div>
    );
  return <Trying aircraft={aircraft} parts={parts.data.parts} shown={shown} />;
}

type Shows = { readonly aircraft: AircraftReport; readonly parts: readonly PartReport[]; readonly shown: Shown };

function Trying({ aircraft, parts, shown }: Shows) {
  const scratch = useScratch(aircraft.id);
  const [told, setTold] = useState<string>();
  const numbers = useMemo(() => new Set(parts.map(({ number }) => numberKey(number))), [parts]);
  const counted = scratch.rows.filter((row) => isComplete(row, numbers));
  const asked = useSettled(counted.map((row) => ({ key: row.key, words: inSentWords(row, shown.units) })));
  const changes = asked.map(({ words }) => words);
  const tried = useTried(aircraft.id, changes);
  const asItIs = useTried(aircraft.id, NO_CHANGES);
  const take: Parameters<typeof ProposalsSection>[0]['onTake'] = (proposal) => {
    scratch.take(proposal, shown.units);
    setTold(say`The changes of “${proposal.title}” are in the list; keep them anew to change the proposal.`);
    window.scrollTo({ top: 0 });
  };
  return (
    <div className="page stack what-if">
      <div className="stack-tight">
        <h1>{say`What if`}</h1>
        <p className="soft">{say`Try changes and see what they would do. Nothing here is recorded in the ledger; the list stays on this device.`}</p>
      </div>
      <p role="status" className={told === undefined ? 'told-words' : 'told-words notice good'}>
        {told}
      </p>
      <Changes {...{ scratch, parts, shown, tried, asked }}>
        <KeepChanges
          aircraft={aircraft}
          scratch={scratch}
          changes={changes}
          isReady={changes.length > 0 && changes.length === scratch.rows.length && !tried.isError}
          onKept={(title) => {
            scratch.clear();
            setTold(say`Kept as a proposal: ${title}. The list is empty again.`);
          }}
        />
      </Changes>
      <Compared {...{ tried, asItIs, shown }} hasChanges={changes.length > 0} />
      <BallastCard
        aircraft={aircraft}
        changes={tried.isError ? NO_CHANGES : changes}
        station={scratch.station}
        onStation={scratch.setStation}
      />
      <ProposalsSection aircraft={aircraft} isPageThere={!tried.isPending} onTake={take} onTold={setTold} />
    </div>
  );
}

const NO_CHANGES: readonly SentChange[] = [];

type Tried = ReturnType<typeof useTried>;

function Changes(props: {
  readonly scratch: ScratchList;
  readonly parts: readonly PartReport[];
  readonly shown: Shown;
  readonly tried: Tried;
  /** As they were asked for: an answer is about these. */
  readonly asked: readonly { readonly key: string; readonly words: SentChange }[];
  readonly children: React.ReactNode;
}) {
  const { scratch, parts, shown, tried, asked } = props;
  const [added, setAdded] = useState<string>();
  useEffect(() => {
    if (added === undefined) return;
    document.querySelector<HTMLElement>(say`[data-row="${added}"] select`)?.focus();
  }, [added]);
  const placeOf = (row: Row) => asked.findIndex(({ key }) => key === row.key);
  const stepOf = (row: Row) => (tried.isPlaceholderData || tried.isError ? undefined : tried.data?.steps[placeOf(row)]);
  const problemOf = (row: Row, field: ChangeField) =>
    tried.error instanceof ProblemError && placeOf(row) >= 0
      ? tried.error.of(`/changes/${placeOf(row)}/${field}`)
      : undefined;
  return (
    <section className="card stack" aria-label={say`Changes to try`}>
      <h2>{say`Changes to try`}</h2>
      {scratch.rows.length === 0 ? <p className="soft">{say`No change yet: the aircraft is as it is.`}</p> : null}
      <ul className="changes">
        {scratch.rows.map((row, at) => (
          <ChangeRow
            key={row.key}
            {...{ row, number: at + 1, parts, shown, step: stepOf(row) }}
            problemOf={(field) => problemOf(row, field)}
            onChange={(changed) => scratch.change(row.key, changed)}
            onRemove={() => {
              scratch.remove(row.key);
              document.querySelector<HTMLElement>('.add-change button')?.focus();
            }}
          />
        ))}
      </ul>
      <div className="row add-change">
        <Button onPress={() => setAdded(scratch.add())}>{say`Add a change`}</Button>
        {props.children}
        {scratch.rows.length === 0 ? null : <Button kind="quiet" onPress={scratch.clear}>{say`Empty the list`}</Button>}
      </div>
    </section>
  );
}

/** Where the changes are refused, or their answer does not come, the aircraft as it is stays in sight. */
function Compared(props: {
  readonly tried: Tried;
  readonly asItIs: Tried;
  readonly hasChanges: boolean;
  readonly shown: Shown;
}) {
  const { tried, asItIs, shown } = props;
  const isRefused =
    tried.error instanceof ProblemError && tried.error.report.status < 500 && tried.error.report.status >= 400;
  const data = tried.isError ? asItIs.data : tried.data;
  const hasChanges = props.hasChanges && !tried.isError;
  if (data === undefined)
    return tried.isError ? (
      <Failed error={tried.error} again={() => void tried.refetch()} />
    ) : (
      <Waiting what={say`the forecast`} />
    );
  return (
    <section className="card stack" aria-label={say`As it is and with the changes`}>
      <h2>{hasChanges ? say`As it is, and with the changes` : say`As it is`}</h2>
      {isRefused ? (
        <p
          className="notice warn"
          role="alert"
        >{say`Not all changes can be made: what to put right stands at its field above.`}</p>
      ) : tried.isError ? (
        <Failed error={tried.error} again={() => void tried.refetch()} />
      ) : null}
      <div className="beside">
        <SideBySide label={say`As it is and with the changes`} sides={sidesOf(data, hasChanges)} shown={shown} />
        <CgPicture
          marks={[
            { name: say`as it is`, figures: data.before },
            ...(hasChanges ? [{ name: say`with the changes`, figures: data.after }] : []),
          ]}
          shown={shown}
        />
      </div>
      {data.before.targets === undefined ? (
        <p className="soft small">{say`Without targets there is no margin and no chance to tell. A lead sets them in Set-up.`}</p>
      ) : null}
    </section>
  );
}

function sidesOf(data: WhatIfAnswer, hasChanges: boolean): Parameters<typeof SideBySide>[0]['sides'] {
  const asItIs = { name: say`As it is`, figures: data.before, predictedKg: data.predictedBeforeKg };
  if (!hasChanges) return [asItIs];
  return [asItIs, { name: say`With the changes`, figures: data.after, predictedKg: data.predictedAfterKg }];
}
