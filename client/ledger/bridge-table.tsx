/** The bridge in figures. Its causes add up to the change exactly. */
import type { BridgeReport } from '#shared/contract/reports.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { minus, type Shown } from '../pieces/units.ts';
import { causeName } from '../words/causes.ts';

export function BridgeTable({ bridge, shown }: { readonly bridge: BridgeReport; readonly shown: Shown }) {
  const { mass, length, units } = shown;
  const moment = (momentKgM: number) =>
    minus(showFixed(momentKgM / MASS_UNIT_KG[units.mass] / LENGTH_UNIT_M[units.length], 2, { sign: true }));
  const at = bridge.axis === 'day' ? '' : 'entry ';
  const end = (words: string, { at: when, predictedKg, marginKg, cgXM }: BridgeReport['from']) => (
    <tr>
      <th scope="row">
        {words} {at}
        {when}: CG x {length(cgXM)} {units.length}
      </th>
      <td className="number">{mass(predictedKg)}</td>
      <td className="number">{mass(marginKg, { sign: true })}</td>
      <td />
    </tr>
  );
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">Cause</th>
          <th scope="col" className="number">
            predicted {units.mass}
          </th>
          <th scope="col" className="number">
            margin {units.mass}
          </th>
          <th scope="col" className="number">
            moment {units.mass} {units.length}
          </th>
        </tr>
      </thead>
      <tbody>
        {end('after', bridge.from)}
        {bridge.effects.map((effect) => (
          <tr key={causeName(effect)}>
            <th scope="row">{causeName(effect)}</th>
            <td className="number">{mass(effect.massKg, { sign: true })}</td>
            <td className="number">{mass(effect.marginKg, { sign: true })}</td>
            <td className="number">{moment(effect.momentXKgM)}</td>
          </tr>
        ))}
        {end('up to', bridge.to)}
      </tbody>
    </table>
  );
}
