/** How a weighing came to its resin: from what was on the scale down, line by line, folded away. */
import type { LaminateReport } from '#shared/contract/layup.ts';
import type { PartWeighingReport } from '#shared/contract/part.ts';
import type { Shown } from '../pieces/units.ts';

export function TakenOff(props: {
  readonly weighing: Pick<PartWeighingReport, 'netKg' | 'condition'>;
  readonly laminate: LaminateReport;
  readonly shown: Shown;
}) {
  const { weighing, laminate, shown } = props;
  const { offKg } = laminate;
  const lines = [
    { name: 'flash', massKg: offKg.flash },
    { name: 'coats', massKg: offKg.coat },
    { name: 'fittings, paste and filler', massKg: offKg.other },
    { name: 'core, as it was cut', massKg: laminate.coreKg },
    { name: 'resin that the core took up', massKg: offKg.resinInCore },
    { name: 'dry fibre, as it was cut', massKg: laminate.fibreKg },
  ].filter(({ massKg }) => massKg !== 0);
  return (
    <details className="folded">
      <summary>What was taken off to get there</summary>
      <table className="taken-off">
        <thead>
          <tr>
            <th scope="col">Of one piece</th>
            <th scope="col" className="number">
              {shown.units.mass}
            </th>
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">Net, {weighing.condition}</th>
            <td className="number">{shown.mass(weighing.netKg)}</td>
          </tr>
          {lines.map(({ name, massKg }) => (
            <tr key={name}>
              <th scope="row">less {name}</th>
              <td className="number">{shown.mass(-massKg)}</td>
            </tr>
          ))}
          <tr className="total">
            <th scope="row">Resin in the laminate</th>
            <td className="number">{shown.mass(laminate.resinKg.value)}</td>
          </tr>
        </tbody>
      </table>
    </details>
  );
}
