/** The bridge in figures. Its lines add up to the change exactly, whether they are causes, groups or parts. */

import { Link } from 'wouter';
import type { BridgeReport } from '#shared/contract/reports.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { minus, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { BRIDGE_HEADING, bridgeLines, endWords } from './bridge-lines.ts';

export function BridgeTable(props: {
  readonly bridge: BridgeReport;
  readonly shown: Shown;
  readonly aircraftId: string;
}) {
  const { bridge, shown, aircraftId } = props;
  const { mass, length, units } = shown;
  const moment = (momentKgM: number) =>
    minus(showFixed(momentKgM / MASS_UNIT_KG[units.mass] / LENGTH_UNIT_M[units.length], 2, { sign: true }));
  const end = (words: string, { at: when, predictedKg, marginKg, cgXM }: BridgeReport['from']) => (
    <tr>
      <th scope="row">{rich`${words} ${endWords(bridge.axis, when)}: CG x ${length(cgXM)} ${units.length}`}</th>
      <td className="number">{mass(predictedKg)}</td>
      <td className="number">{mass(marginKg, { sign: true })}</td>
      <td />
    </tr>
  );
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{BRIDGE_HEADING[bridge.by]}</th>
          <th scope="col" className="number">
            {rich`predicted, ${units.mass}`}
          </th>
          <th scope="col" className="number">
            {rich`margin, ${units.mass}`}
          </th>
          <th scope="col" className="number">
            {rich`moment, ${units.mass} ${units.length}`}
          </th>
        </tr>
      </thead>
      <tbody>
        {end(say`after`, bridge.from)}
        {bridgeLines(bridge).map((line) => (
          <tr key={line.name}>
            <th scope="row">
              {line.partId === undefined ? (
                line.name
              ) : (
                <Link href={`/aircraft/${aircraftId}/parts/${line.partId}`}>{line.name}</Link>
              )}
            </th>
            <td className="number">{mass(line.massKg, { sign: true })}</td>
            <td className="number">{mass(line.marginKg, { sign: true })}</td>
            <td className="number">{moment(line.momentXKgM)}</td>
          </tr>
        ))}
        {end(say`up to`, bridge.to)}
      </tbody>
    </table>
  );
}
