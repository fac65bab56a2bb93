/** Bring a list: a file or copied cells, looked at against the ledger, put right on the spot, recorded as a whole (rules I1 to I8). */

import { useState } from 'react';
import { Link } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { allowanceSentence } from '#shared/table/added-allowances.ts';
import { counted, say } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { FlagWord } from '../pieces/flag-word.tsx';
import { Empty } from '../pieces/states.tsx';
import { percent, shownIn } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { AllowanceNotice } from './allowance-notice.tsx';
import { Choose } from './choose.tsx';
import type { Brought } from './read-file.ts';
import type { Told } from './record.ts';
import { Review } from './review.tsx';
import './import.css';

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function ImportScreen({ aircraft }: { readonly aircraft: AircraftReport }) {
  const mayBring = useMay('crew');
  const [brought, setBrought] = useState<Brought>();
  const [done, setDone] = useState<Told>();
  if (!mayBring)
    return (
      <div className="narrow-page">
        <Empty isPage title={say`Your role reads only`}>
          <p>{say`Crew bring weighings, engineers parts lists, the lead targets.`}</p>
        </Empty>
      </div>
    );
  const again = () => {
    setBrought(undefined);
    setDone(undefined);
  };
  return (
    <div className="page stack bring">
      <header className="stack-tight">
        <h1>{say`Bring a list`}</h1>
        <p className="soft">{rich`Into the ledger of ${aircraft.name}. Everything is shown first; nothing is recorded until every line can be.`}</p>
      </header>
      {done !== undefined ? (
        <Recorded aircraft={aircraft} done={done} again={again} />
      ) : brought === undefined ? (
        <Choose onBrought={setBrought} />
      ) : (
        <Review aircraft={aircraft} brought={brought} onOther={again} onDone={setDone} />
      )}
    </div>
  );
}

/** What drifts of it, so that nobody has to look for it (rule D1). */
function NewDrifts({ aircraft, done }: { readonly aircraft: AircraftReport; readonly done: Told }) {
  const { drifts, driftCount } = done;
  const { massWithUnit } = shownIn(aircraft);
  if (drifts.length === 0) return null;
  const more = driftCount - drifts.length;
  return (
    <section className="stack-tight" aria-label={say`New drifts`}>
      <h3>{counted(driftCount, 'weighing drifts', 'weighings drift')}</h3>
      <ul className="new-drifts">
        {drifts.map(({ line, partId, name, differenceKg, differenceFraction, flag }) => (
          <li key={line} className="new-drift">
            <Link className="new-drift-name" href={`/aircraft/${aircraft.id}/parts/${partId}`}>
              {name}
            </Link>
            <span className="new-drift-difference">
              {massWithUnit(differenceKg, { sign: true })}
              {differenceFraction === undefined ? '' : `, ${percent(differenceFraction, { sign: true })}`}
            </span>
            <FlagWord flag={flag} />
          </li>
        ))}
      </ul>
      {more === 0 ? null : <p>{rich`${counted(more, 'other is', 'others are')} on the Drift screen.`}</p>}
    </section>
  );
}

function Recorded(props: { readonly aircraft: AircraftReport; readonly done: Told; readonly again: () => void }) {
  const { recorded, knownRows, allowances } = props.done;
  const added = recorded === 0 ? undefined : allowanceSentence(allowances, 'was');
  const at = `/aircraft/${props.aircraft.id}`;
  const maySet = useMay('lead');
  return (
    <section className="card stack bring-done" role="status">
      <h2>
        {recorded === 0
          ? say`Nothing new: the ledger has it all`
          : say`${counted(recorded, 'entry', 'entries')} recorded`}
      </h2>
      {recorded > 0 && knownRows > 0 ? (
        <p>{rich`${counted(knownRows, 'row was', 'rows were')} in the ledger already and added nothing.`}</p>
      ) : null}
      {added === undefined ? null : <AllowanceNotice words={added} aircraftId={props.aircraft.id} />}
      {recorded === 0 ? null : <NewDrifts aircraft={props.aircraft} done={props.done} />}
      <div className="row">
        <Link className="button main" href={`${at}/ledger`}>{say`To the ledger`}</Link>
        {maySet ? <Link className="button plain" href={`${at}/set-up/targets`}>{say`Set the targets`}</Link> : null}
        <Link className="button plain" href={`${at}/weigh`}>{say`Weigh a part`}</Link>
        <Button onPress={props.again}>{say`Bring another list`}</Button>
      </div>
    </section>
  );
}
