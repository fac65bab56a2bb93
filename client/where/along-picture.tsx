/** The mass along the fuselage, by group, with the CG, its ± and its range (rule R5). */

import { useCallback, useMemo } from 'react';
import type { WhereReport } from '#shared/contract/where.ts';
import { LENGTH_UNIT_M } from '#shared/quantity/units.ts';
import { stretchesOf } from '#shared/rollup/where.ts';
import { say } from '#shared/words/say.ts';
import { Picture } from '../ledger/picture.tsx';
import { plusMinus, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { alongConfig, letterOf, stretchName } from './along-config.ts';

const TITLE = say`Predicted weight along the fuselage, by group`;

export function AlongPicture({ report, shown }: { readonly report: WhereReport; readonly shown: Shown }) {
  const { mass, units } = shown;
  const along = useMemo(
    () => stretchesOf(report.masses, { unitM: LENGTH_UNIT_M[units.length] }),
    [report, units.length],
  );
  const configure = useCallback(() => alongConfig({ report, along, shown }), [report, along, shown]);
  if (along.stretches.length === 0)
    return (
      <section className="card stack-tight">
        <h2>{TITLE}</h2>
        <p>{summaryOf(report, along.elsewhereKg, shown)}</p>
      </section>
    );
  const sumOf = (byGroup: ReadonlyMap<string, number>) => [...byGroup.values()].reduce((sum, one) => sum + one, 0);
  return (
    <Picture
      title={TITLE}
      summary={say`${summaryOf(report, along.elsewhereKg, shown)} Each bar is ${shown.lengthWithUnit(along.lengthM)} long and named by its forward end.`}
      configure={configure}
    >
      <table>
        <thead>
          <tr>
            <th scope="col">{say`station x`}</th>
            {along.groups.map((group, at) => (
              <th key={group} scope="col" className="number">
                {letterOf(at)} {group}, {units.mass}
              </th>
            ))}
            <th scope="col" className="number">
              {rich`all, ${units.mass}`}
            </th>
          </tr>
        </thead>
        <tbody>
          {along.stretches.map(({ fromM, byGroup }, at) => (
            <tr key={fromM}>
              <th scope="row">{stretchName(along, at, shown)}</th>
              {along.groups.map((group) => (
                <td key={group} className="number">
                  {byGroup.has(group) ? mass(byGroup.get(group)) : '–'}
                </td>
              ))}
              <td className="number">{mass(sumOf(byGroup))}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Picture>
  );
}

function summaryOf({ cg, cgForwardM, cgAftM }: WhereReport, elsewhereKg: number, shown: Shown): string {
  const { length, lengthWithUnit, lengthWithStd, massWithUnit, units } = shown;
  const at =
    cg.xM === undefined
      ? say`No mass has a station yet, so there is no CG.`
      : say`CG x ${plusMinus(lengthWithStd(cg.xM, cg.xStdM), units.length)}`;
  const range =
    cg.xM === undefined
      ? ''
      : cgForwardM === undefined && cgAftM === undefined
        ? say`, no range set.`
        : say`, range ${length(cgForwardM)} to ${lengthWithUnit(cgAftM)}.`;
  const left = elsewhereKg === 0 ? '' : say` ${massWithUnit(elsewhereKg)} without a station is left out.`;
  return `${at}${range}${left}`;
}
