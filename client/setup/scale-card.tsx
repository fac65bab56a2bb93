/** One scale, with what speaks against it. */

import { useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { ScaleReport } from '#shared/contract/drift.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { shownIn } from '../pieces/units.ts';
import { today } from '../words/days.ts';
import { entriesInWords } from '../words/entries.ts';
import { rich } from '../words/rich.ts';
import { CheckForm } from './check-form.tsx';
import { type Check, CheckResult } from './check-result.tsx';
import { Done, Facts } from './form-parts.tsx';
import { ScaleForm } from './scale-form.tsx';
import { useOpenForm } from './use-open-form.ts';

export function ScaleCard({ aircraft, scale }: { readonly aircraft: AircraftReport; readonly scale: ScaleReport }) {
  const isLead = useMay('lead');
  const isCrew = useMay('crew');
  const form = useOpenForm<'calibration' | 'check'>();
  const [check, setCheck] = useState<Check>();
  const { massWithUnit } = shownIn(aircraft);
  const isDescribed = scale.capacityKg !== undefined || scale.resolutionKg !== undefined;
  const unknown = <span className="soft">{say`not stated`}</span>;
  if (form.open === 'calibration')
    return (
      <ScaleForm
        aircraft={aircraft}
        scale={scale}
        onClose={(words) => {
          form.close(words);
          setCheck(undefined);
        }}
      />
    );
  if (form.open === 'check')
    return (
      <CheckForm
        aircraft={aircraft}
        scale={scale}
        onClose={(recorded) => {
          form.close();
          if (recorded !== undefined) setCheck(recorded);
        }}
      />
    );
  return (
    <section className="card stack-tight" aria-label={say`Scale ${scale.scale}`}>
      <h2>{scale.scale}</h2>
      <Done words={form.done} />
      {check === undefined ? null : <CheckResult check={check} scale={scale} shown={shownIn(aircraft)} />}
      {isDescribed ? null : (
        <p className="notice">{say`Weighings name this scale, and nobody has described it: its calibration is not known.`}</p>
      )}
      <Facts
        facts={[
          { name: say`Capacity`, value: scale.capacityKg === undefined ? unknown : massWithUnit(scale.capacityKg) },
          {
            name: say`Resolution`,
            value: scale.resolutionKg === undefined ? unknown : massWithUnit(scale.resolutionKg),
          },
          { name: say`Calibration`, value: <Calibration scale={scale} /> },
          { name: say`Last check weight`, value: <LastCheck scale={scale} /> },
          { name: say`Weighings on it`, value: String(scale.weighingCount) },
        ]}
      />
      <InDoubt scale={scale} />
      <div className="row">
        {isCrew ? <Button {...form.opens('check')}>{say`Record a check weight`}</Button> : null}
        {isLead ? (
          <Button {...form.opens('calibration')}>{isDescribed ? say`New calibration` : say`Describe it`}</Button>
        ) : null}
      </div>
    </section>
  );
}

function Calibration({ scale }: { readonly scale: ScaleReport }) {
  const { gainStd, calibratedOn, dueOn } = scale;
  if (gainStd === 0 && calibratedOn === undefined && dueOn === undefined)
    return <span className="soft">{say`not stated: its error is taken as none`}</span>;
  const isOver = dueOn !== undefined && dueOn < today();
  return (
    <>
      {gainStd === 0
        ? say`no uncertainty stated`
        : say`± ${figures(gainStd * 100)}\u00a0% of what it shows (k\u00a0=\u00a01)`}
      {calibratedOn === undefined ? '' : say`, of ${dayWords(calibratedOn)}`}
      {dueOn === undefined ? '' : isOver ? '' : say`, until ${dayWords(dueOn)}`}
      {isOver ? <span className="flag heavy block">{rich`▲ out of date since ${dayWords(dueOn)}`}</span> : null}
    </>
  );
}

function LastCheck({ scale }: { readonly scale: ScaleReport }) {
  if (scale.lastCheckOn === undefined) return <span className="soft">{say`none yet`}</span>;
  return scale.lastCheckPassed === true
    ? rich`${<span className="flag in-line">{say`● passed`}</span>} on ${dayWords(scale.lastCheckOn)}`
    : rich`${<span className="flag heavy">{say`▲ failed`}</span>} on ${dayWords(scale.lastCheckOn)}`;
}

function InDoubt({ scale }: { readonly scale: ScaleReport }) {
  if (scale.marked.length === 0) return null;
  const of = (mark: string) => scale.marked.filter(({ marks }) => marks.some((one) => one.mark === mark));
  const lines = [
    { words: say`after a check weight that failed`, entries: of('check weight failed') },
    { words: say`made out of calibration`, entries: of('calibration out of date') },
  ].filter(({ entries }) => entries.length > 0);
  return (
    <div className="notice warn stack-tight">
      <strong>
        {scale.marked.length === 1 ? say`One weighing is in doubt` : say`${scale.marked.length} weighings are in doubt`}
      </strong>
      {lines.map(({ words, entries }) => (
        <p key={words}>
          {words}: {entriesInWords(entries.map(({ seq }) => seq))}
        </p>
      ))}
    </div>
  );
}

/** Two digits are what an uncertainty is worth. */
function figures(value: number): string {
  return String(Number(value.toPrecision(2)));
}
