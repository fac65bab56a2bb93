/** What the drift costs in ballast, at a station of one's choice (rule F7): as the aircraft is, and with the changes. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { BallastReport, SentChange } from '#shared/contract/proposal.ts';
import { say } from '#shared/words/say.ts';
import { wordsOf } from '../door/ask.ts';
import { Field } from '../pieces/controls.tsx';
import { typedWith } from '../pieces/typed-units.ts';
import { type Shown, shownIn } from '../pieces/units.ts';
import { useBallast, useSettled } from './questions.ts';

export function BallastCard(props: {
  readonly aircraft: AircraftReport;
  readonly changes: readonly SentChange[];
  readonly station: string;
  readonly onStation: (station: string) => void;
}) {
  const { aircraft, changes } = props;
  const shown = shownIn(aircraft);
  const text = props.station.trim();
  const station = useSettled(text === '' ? '' : typedWith(text, shown.units.length));
  const asItIs = useBallast(aircraft.id, { station, changes: [] });
  const changed = useBallast(aircraft.id, { station: changes.length === 0 ? '' : station, changes });
  return (
    <section className="card stack" aria-label={say`Ballast`}>
      <div className="stack-tight">
        <h2>{say`Ballast`}</h2>
        <p className="soft">{say`How much it would take to bring the forecast CG inside its range, and the payload that costs.`}</p>
      </div>
      <div className="ballast">
        <Field
          label={say`Ballast station x`}
          value={props.station}
          onChange={props.onStation}
          unit={shown.units.length}
          autoComplete="off"
        />
        {station === '' ? (
          <p className="soft">{say`Type the station where ballast could go.`}</p>
        ) : (
          <dl className="ballast-answers">
            <Answer name={say`As it is`} query={asItIs} shown={shown} />
            {changes.length === 0 ? null : <Answer name={say`With the changes`} query={changed} shown={shown} />}
          </dl>
        )}
      </div>
    </section>
  );
}

function Answer(props: {
  readonly name: string;
  readonly query: { readonly data: BallastReport | undefined; readonly isError: boolean; readonly error: unknown };
  readonly shown: Shown;
}) {
  const { data, isError, error } = props.query;
  return (
    <div>
      <dt>{props.name}</dt>
      <dd>
        {isError ? (
          <span className="ballast-refused">{wordsOf(error)}</span>
        ) : data === undefined ? (
          '…'
        ) : (
          inWords(data, props.shown)
        )}
      </dd>
    </div>
  );
}

function inWords({ massKg, toM, cgM, payloadKg }: BallastReport, shown: Shown): string {
  const lost =
    payloadKg > 0 ? say`, and ${shown.massWithUnit(payloadKg)} of payload is lost` : say`, and no payload is lost`;
  if (toM === undefined)
    return say`None: the forecast CG, ${shown.lengthWithUnit(cgM)}, is in its range${payloadKg > 0 ? `. ${shown.massWithUnit(payloadKg)} of payload is lost to mass over the target` : ''}.`;
  return say`${shown.massWithUnit(massKg)} bring it from ${shown.lengthWithUnit(cgM)} to ${shown.lengthWithUnit(toM)}${lost}.`;
}
