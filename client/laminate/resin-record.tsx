/** What was mixed for the infusion beside what the scale says, and whether the two agree. */

import type { InfusionReport } from '#shared/contract/layup.ts';
import { say } from '#shared/words/say.ts';
import { plusMinus, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';

export function ResinRecord({ infusion, shown }: { readonly infusion: InfusionReport; readonly shown: Shown }) {
  const { byPotKg, byScaleKg, isAgreed } = infusion;
  const told = ({ value, std }: InfusionReport['byPotKg']) =>
    plusMinus(shown.massWithStd(value, std), shown.units.mass);
  const apart = shown.massWithUnit(byScaleKg.value - byPotKg.value, { sign: true });
  return (
    <div className="stack-tight resin-record">
      <dl className="figures">
        <dt>{say`Resin in the part by the record: mixed, less what was left, in lines and in the flash`}</dt>
        <dd>{told(byPotKg)}</dd>
        <dt>{say`By the scale, with what the core took up`}</dt>
        <dd>{told(byScaleKg)}</dd>
      </dl>
      {isAgreed ? (
        <p className="resin-agrees">
          {rich`${<span aria-hidden="true">● </span>}The two agree: ${apart} lies within two standard uncertainties.`}
        </p>
      ) : (
        <p className="notice warn">{rich`The two do not agree: ${apart} lies beyond two standard uncertainties. One of the masses, or the schedule, is not what it says.`}</p>
      )}
    </div>
  );
}
