/** What the scales found beyond the parts that were aboard (rule A3): in mass, and the arm at which it must sit; or a moment, where only the CG differs. */

import type { ReconcileReport } from '#shared/contract/aircraft-weighing.ts';
import { decimalsFor, showFixed } from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { minus, plusMinus, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';

export function Reconcile({ of, shown }: { readonly of: ReconcileReport; readonly shown: Shown }) {
  const { units } = shown;
  const kg = (massKg: number, stdKg: number, sign = false) =>
    plusMinus(shown.massWithStd(massKg, stdKg, { sign }), units.mass);
  const m = (lengthM: number, stdM: number | undefined) => plusMinus(shown.lengthWithStd(lengthM, stdM), units.length);
  return (
    <div className="stack reconcile">
      <p>
        <strong>{sentenceOf(of, shown)}</strong>
      </p>
      <dl className="weighing-facts">
        <div>
          <dt>{rich`The ledger has of the ${of.partCount} parts that were aboard`}</dt>
          <dd>
            {kg(of.ledgerKg, of.ledgerStdKg)}
            {of.ledgerXM === undefined ? '' : say` at ${m(of.ledgerXM, of.ledgerXStdM)}`}
          </dd>
        </div>
        <div>
          <dt>{say`Scales less ledger`}</dt>
          <dd>
            {kg(of.differenceKg, of.differenceStdKg, true)}
            {of.cgDifferenceM === undefined
              ? ''
              : say`; CG ${m(Math.abs(of.cgDifferenceM), of.cgDifferenceStdM)} further ${of.cgDifferenceM < 0 ? say`forward` : say`aft`}`}
          </dd>
        </div>
        {of.withoutArmKg > 0 ? (
          <div>
            <dt>{say`Of parts without a station`}</dt>
            <dd>{rich`${shown.massWithUnit(of.withoutArmKg)}, taken as lying at the CG of the others`}</dd>
          </div>
        ) : null}
      </dl>
      {of.near.length === 0 ? null : (
        <div className="scroll-across" tabIndex={0} role="region" aria-label={say`Parts near that arm`}>
          <table>
            <caption>{say`Parts near that arm, the least certain first`}</caption>
            <thead>
              <tr>
                <th scope="col">{say`Part`}</th>
                <th scope="col">{say`Assembly`}</th>
                <th scope="col" className="number">
                  {rich`Mass, ${units.mass}`}
                </th>
                <th scope="col" className="number">
                  ±
                </th>
                <th scope="col" className="number">
                  x, {units.length}
                </th>
                <th scope="col">{say`Known by`}</th>
              </tr>
            </thead>
            <tbody>
              {of.near.map((part) => (
                <tr key={part.number}>
                  <th scope="row">
                    {part.number} {part.name}
                  </th>
                  <td>{part.assembly ?? ''}</td>
                  <td className="number">{shown.mass(part.massKg)}</td>
                  <td className="number">{shown.mass(part.massStdKg)}</td>
                  <td className="number">{shown.length(part.xM)}</td>
                  <td>{part.isWeighed ? say`weighed` : say`estimate`}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </div>
  );
}

function sentenceOf(of: ReconcileReport, shown: Shown): string {
  const { units } = shown;
  if (of.partCount === 0) return say`The ledger has no parts to compare with.`;
  if (of.massIsReal) {
    const side = of.differenceKg > 0 ? 'more' : 'less';
    const found = shown.massWithStd(Math.abs(of.differenceKg), of.differenceStdKg);
    const where =
      of.armM === undefined
        ? say`The ledger has no CG of its own, so no arm follows.`
        : say`It must sit at x = ${plusMinus(shown.lengthWithStd(of.armM, of.armStdM), units.length)}.`;
    return say`The scales find ${plusMinus(found, units.mass)} ${side} than the parts. ${where}`;
  }
  if (of.cgIsReal && of.momentKgM !== undefined) {
    const perUnit = MASS_UNIT_KG[units.mass] * LENGTH_UNIT_M[units.length];
    const std = (of.momentStdKgM ?? 0) / perUnit;
    const decimals = decimalsFor(std, 1);
    const moment = `${minus(showFixed(of.momentKgM / perUnit, decimals, { sign: true }))}\u00a0±\u00a0${showFixed(std, decimals)}`;
    return say`The mass agrees, and the CG does not: a moment of ${moment} ${units.mass}·${units.length} is unaccounted for. No arm follows from that.`;
  }
  return of.cgDifferenceM === undefined
    ? say`The mass agrees within twice its uncertainty. The ledger has no CG to compare with.`
    : say`Mass and CG agree within twice their uncertainty: there is nothing to look for.`;
}
