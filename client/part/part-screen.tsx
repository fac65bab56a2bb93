/** Everything about one part: what it counts for and how sure, how it came to that, what it does to the aircraft, and what to do about it. */

import { useQuery } from '@tanstack/react-query';
import { useMemo, useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import type { PartPageReport } from '#shared/contract/part.ts';
import { mayAs } from '#shared/contract/people.ts';
import { say, term } from '#shared/words/say.ts';
import { partQuestion } from '../door/queries.ts';
import { usePerson } from '../frame/signed-in.ts';
import { MouldSection } from '../laminate/mould-section.tsx';
import { RemoveAsk } from '../parts/asks.tsx';
import { PhotosSection } from '../photo/photos-section.tsx';
import { Button } from '../pieces/controls.tsx';
import { FlagWord } from '../pieces/flag-word.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { type Shown, shownIn } from '../pieces/units.ts';
import { RecordedNotice } from '../record/recorded-notice.tsx';
import { rich } from '../words/rich.ts';
import { ACTS, ActDialog, type ActKind } from './act-dialog.tsx';
import { LayUpSection } from './lay-up-section.tsx';
import { PartEntries } from './part-entries.tsx';
import { PartFigures } from './part-figures.tsx';
import { PartGeometry } from './part-geometry.tsx';
import { Arms, Estimates, Pieces, Within } from './part-history.tsx';
import { Weighings } from './weighings.tsx';
import '../ledger/ledger.css';
import '../parts/parts.css';
import './part.css';

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function PartScreen(props: { readonly aircraft: AircraftReport; readonly partId: string }) {
  const { aircraft } = props;
  const part = useQuery(partQuestion(aircraft.id, props.partId));
  const shown = useMemo(() => shownIn(aircraft), [aircraft]);
  const back = <Link href={`/aircraft/${aircraft.id}/parts`} className="way-back">{say`All parts`}</Link>;
  if (part.isPending)
    return (
      <div className="page">
        <h1 className="hidden-words">{say`A part`}</h1>
        <Waiting what={say`the part`} />
      </div>
    );
  if (part.isLoadingError)
    return (
      <div className="page stack">
        {back}
        <h1>{say`This part cannot be shown`}</h1>
        <Failed error={part.error} again={() => void part.refetch()} />
      </div>
    );
  return (
    <div className="page stack part-page">
      {back}
      <PartPage aircraft={aircraft} page={part.data} shown={shown} />
    </div>
  );
}

type Shows = { readonly aircraft: AircraftReport; readonly page: PartPageReport; readonly shown: Shown };

function PartPage({ aircraft, page, shown }: Shows) {
  const { part } = page;
  const hrefOf = (partId: string) => `/aircraft/${aircraft.id}/parts/${partId}`;
  return (
    <>
      <div className="stack-tight">
        <div className="row part-title">
          <h1>
            {part.number} {part.name}
          </h1>
          {part.flag === undefined ? null : <FlagWord flag={part.flag} />}
        </div>
        <p className="soft">
          {part.group} · {term(part.process)}
          {part.side === undefined ? '' : ` · ${term(part.side)}`} · {part.quantity}{' '}
          {part.quantity === 1 ? say`piece` : say`pieces`}
          {page.assembly === undefined ? null : (
            <>
              {say` · in `}
              <Link href={hrefOf(page.assembly.partId)}>
                {page.assembly.number} {page.assembly.name}
              </Link>
            </>
          )}
        </p>
        {part.open.length === 0 ? null : <p className="notice warn">{rich`Open: ${part.open.join(', ')}.`}</p>}
      </div>
      <Doing aircraft={aircraft} page={page} />
      <PartFigures page={page} shown={shown} />
      <Within {...{ page, shown, hrefOf }} />
      <div className="part-columns">
        <Weighings page={page} shown={shown} />
        <MouldSection aircraftId={aircraft.id} page={page} shown={shown} />
        <Estimates page={page} shown={shown} />
        <LayUpSection
          page={page}
          shown={shown}
          href={`${hrefOf(part.partId)}/lay-up`}
          accuracyHref={`/aircraft/${aircraft.id}/lay-up-accuracy`}
        />
        <PartGeometry aircraft={aircraft} page={page} shown={shown} />
        <Arms page={page} shown={shown} />
        <Pieces page={page} />
        <PhotosSection aircraftId={aircraft.id} partId={part.partId} number={part.number} />
      </div>
      <PartEntries aircraft={aircraft} number={part.number} shown={shown} />
    </>
  );
}

function Doing({ aircraft, page }: Omit<Shows, 'shown'>) {
  const { role } = usePerson();
  const [, navigate] = useLocation();
  const [act, setAct] = useState<ActKind>();
  const [recorded, setRecorded] = useState<RecordedReport>();
  const [isRemoving, setRemoving] = useState(false);
  const { part } = page;
  const acts = ACTS.filter(({ kind }) => mayAs(role, ROLE_OF_KIND[kind]));
  if (acts.length === 0) return null;
  return (
    <div className="stack-tight no-print">
      <div className="row">
        <Button
          slim
          kind="main"
          onPress={() => navigate(`/aircraft/${aircraft.id}/weigh?part=${encodeURIComponent(part.number)}`)}
        >{say`Weigh it`}</Button>
        <Link
          href={`/aircraft/${aircraft.id}/labels?part=${encodeURIComponent(part.number)}`}
          className="button slim"
        >{say`Print its label`}</Link>
        {acts.map(({ kind, words }) => (
          <Button key={kind} slim onPress={() => setAct(kind)}>
            {words}
          </Button>
        ))}
        {mayAs(role, ROLE_OF_KIND['part removed']) ? (
          <Button slim onPress={() => setRemoving(true)}>{say`Remove the part`}</Button>
        ) : null}
      </div>
      <div role="status">
        {recorded === undefined ? null : <RecordedNotice aircraft={aircraft} recorded={recorded} />}
      </div>
      {act === undefined ? null : (
        <ActDialog
          key={act}
          {...{ aircraft, page, kind: act }}
          onRecorded={(report) => {
            setRecorded(report);
            setAct(undefined);
          }}
          onClose={() => setAct(undefined)}
        />
      )}
      {isRemoving ? (
        <RemoveAsk
          aircraft={aircraft}
          part={part}
          onRemoved={() => navigate(`/aircraft/${aircraft.id}/parts`)}
          onClose={() => setRemoving(false)}
        />
      ) : null}
    </div>
  );
}
