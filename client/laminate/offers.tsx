/** Parts not weighed yet, each with the estimate that its like would give it. The chosen ones are recorded; nothing changes by itself. */

import { useState } from 'react';
import { Link } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import type { AccuracyReport, LearnedOffer } from '#shared/contract/layup.ts';
import { showPercent } from '#shared/quantity/show.ts';
import { say } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { EntryLink } from '../pieces/entry-link.tsx';
import type { Shown } from '../pieces/units.ts';
import { shareFigure } from '../words/laminate.ts';
import { rich } from '../words/rich.ts';
import { type Outcome, useOffers } from './use-offers.ts';

type Props = { readonly aircraft: AircraftReport; readonly report: AccuracyReport; readonly shown: Shown };

export function Offers({ aircraft, report, shown }: Props) {
  const mayRecord = useMay(ROLE_OF_KIND.estimate);
  const [leftOut, setLeftOut] = useState<ReadonlySet<string>>(new Set());
  const { progress, outcome, record } = useOffers(aircraft);
  const { offers } = report;
  const chosen = offers.filter(({ partId }) => !leftOut.has(partId));
  const turn = (partId: string, isChosen: boolean) =>
    setLeftOut((before) => new Set(isChosen ? [...before].filter((one) => one !== partId) : [...before, partId]));
  return (
    <section className="card stack" aria-label={say`Offers`}>
      <div className="stack-tight">
        <h2>{say`For parts not weighed yet`}</h2>
        <p className="soft">
          {offers.length === 0
            ? say`Nothing is offered. From three weighings of one process and fabric on, a part of that kind that is not weighed yet is offered its schedule with the fibre fraction that its like have in fact.`
            : say`Their schedules with the fibre fraction that three or more weighings of the same process and fabric have shown. Everything else of the estimate stays as it is.`}
        </p>
        <div role="status" className="stack-tight">
          {progress === undefined ? null : <p>{rich`${progress.done} of ${progress.of} recorded …`}</p>}
          {outcome === undefined ? null : <Told aircraftId={aircraft.id} outcome={outcome} />}
        </div>
      </div>
      {offers.length === 0 ? null : (
        <>
          <OfferTable {...{ aircraft, offers, shown, leftOut }} onTurn={mayRecord ? turn : undefined} />
          <Effect {...{ report, chosen, shown }} />
        </>
      )}
      {offers.length === 0 || !mayRecord ? null : (
        <div className="row">
          <Button
            kind="main"
            isDisabled={chosen.length === 0 || progress !== undefined}
            onPress={() => void record(chosen)}
          >
            {progress !== undefined
              ? say`Recording …`
              : chosen.length === 1
                ? say`Record the chosen estimate`
                : say`Record the ${chosen.length} chosen estimates`}
          </Button>
        </div>
      )}
    </section>
  );
}

function OfferTable(props: {
  readonly aircraft: AircraftReport;
  readonly offers: readonly LearnedOffer[];
  readonly shown: Shown;
  readonly leftOut: ReadonlySet<string>;
  readonly onTurn: ((partId: string, isChosen: boolean) => void) | undefined;
}) {
  const { aircraft, offers, shown, leftOut, onTurn } = props;
  const { mass } = shown.units;
  const figures = [
    ...[say`Wf now (%)`, say`Wf offered (%)`, say`Each now (${mass})`, say`Each offered (${mass})`],
    say`Changes the aircraft by (${mass})`,
  ];
  return (
    <div className="scroll-across" tabIndex={0} role="region" aria-label={say`Offers as a table`}>
      <table className="offers">
        <thead>
          <tr>
            <th scope="col">{say`Part`}</th>
            {figures.map((heading) => (
              <th key={heading} scope="col" className="number">
                {heading}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {offers.map(({ partId, number, name, wf, plannedWf, massKg, wasKg, changeKg }) => (
            <tr key={partId}>
              <th scope="row">
                <span className="offer-part">
                  {onTurn === undefined ? null : (
                    <label className="tick">
                      <input
                        type="checkbox"
                        checked={!leftOut.has(partId)}
                        onChange={(event) => onTurn(partId, event.target.checked)}
                      />
                      <span className="hidden-words">{rich`Record the offer for ${number}`}</span>
                    </label>
                  )}
                  <span>
                    <Link href={`/aircraft/${aircraft.id}/parts/${partId}`}>{number}</Link> {name}
                  </span>
                </span>
              </th>
              <td className="number">{showPercent(plannedWf)}</td>
              <td className="number">{shareFigure(wf)}</td>
              <td className="number">{shown.mass(wasKg)}</td>
              <td className="number">{shown.mass(massKg)}</td>
              <td className="number">{shown.mass(changeKg, { sign: true })}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Effect(props: {
  readonly report: AccuracyReport;
  readonly chosen: readonly LearnedOffer[];
  readonly shown: Shown;
}) {
  const { report, chosen, shown } = props;
  const changeKg = chosen.reduce((sumKg, offer) => sumKg + offer.changeKg, 0);
  if (chosen.length === 0) return <p>{say`None is chosen: the predicted empty weight stays.`}</p>;
  return (
    <p>{rich`With ${chosen.length === 1 ? say`the chosen one` : say`the ${chosen.length} chosen`} the predicted empty weight goes from ${<strong>{shown.massWithUnit(report.predictedKg)}</strong>} to ${<strong>{shown.massWithUnit(report.predictedKg + changeKg)}</strong>}, by ${shown.massWithUnit(changeKg, { sign: true })}.`}</p>
  );
}

function Told({ aircraftId, outcome }: { readonly aircraftId: string; readonly outcome: Outcome }) {
  const { recorded, refused, notSent } = outcome;
  return (
    <>
      {recorded.length === 0 ? null : (
        <p className="notice good">{rich`Recorded: ${recorded.map(({ number, seq }, at) => (
          <span key={seq}>
            {at === 0 ? '' : '; '}
            {number}, <EntryLink aircraftId={aircraftId} seq={seq} />
          </span>
        ))}.`}</p>
      )}
      {refused === undefined ? null : (
        <p className="notice bad">
          {rich`${refused.number} was not recorded. ${refused.words}${
            notSent.length === 0
              ? ''
              : say` Not sent after it: ${notSent.join(', ')}. What was recorded before it stays recorded.`
          }`}
        </p>
      )}
    </>
  );
}
