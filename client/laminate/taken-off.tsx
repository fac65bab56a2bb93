/** How a weighing came to its resin: from what was on the scale down, line by line, folded away. */

import type { LaminateReport } from '#shared/contract/layup.ts';
import type { PartWeighingReport } from '#shared/contract/part.ts';
import { say, term } from '#shared/words/say.ts';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';

export function TakenOff(props: {
  readonly weighing: Pick<PartWeighingReport, 'netKg' | 'condition'>;
  readonly laminate: LaminateReport;
  readonly shown: Shown;
}) {
  const { weighing, laminate, shown } = props;
  const { offKg } = laminate;
  const lines = [
    { name: say`flash`, massKg: offKg.flash },
    { name: say`coats`, massKg: offKg.coat },
    { name: say`fittings, paste and filler`, massKg: offKg.other },
    { name: say`core, as it was cut`, massKg: laminate.coreKg },
    { name: say`resin that the core took up`, massKg: offKg.resinInCore },
    { name: say`dry fibre, as it was cut`, massKg: laminate.fibreKg },
  ].filter(({ massKg }) => massKg !== 0);
  return (
    <details className="folded">
      <summary>{say`What was taken off to get there`}</summary>
      <table className="taken-off">
        <thead>
          <tr>
            <th scope="col">{say`Of one piece`}</th>
            <th scope="col" className="number">
              {shown.units.mass}
            </th>
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">{rich`Net, ${term(weighing.condition)}`}</th>
            <td className="number">{shown.mass(weighing.netKg)}</td>
          </tr>
          {lines.map(({ name, massKg }) => (
            <tr key={name}>
              <th scope="row">{rich`less ${name}`}</th>
              <td className="number">{shown.mass(-massKg)}</td>
            </tr>
          ))}
          <tr className="total">
            <th scope="row">{say`Resin in the laminate`}</th>
            <td className="number">{shown.mass(laminate.resinKg.value)}</td>
          </tr>
        </tbody>
      </table>
    </details>
  );
}
