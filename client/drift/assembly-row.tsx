/** A weighed assembly beside the sum of its parts (rule W7): its residual, and what that does to the aircraft. */

import type { AssemblyDriftReport } from '#shared/contract/drift.ts';
import { say, term } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { Day } from '../pieces/day.tsx';
import { FlagWord } from '../pieces/flag-word.tsx';
import { percent, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { Facts } from './facts.tsx';
import { decisionOf } from './part-row.tsx';

export function AssemblyRow(props: {
  readonly finding: AssemblyDriftReport;
  readonly shown: Shown;
  /** Undefined where nothing may be done about it. */
  readonly onDecide: ((finding: AssemblyDriftReport) => void) | undefined;
}) {
  const { finding, shown, onDecide } = props;
  const { massWithUnit, cgEffect } = shown;
  const share = finding.differenceFraction;
  return (
    <li className="finding">
      <div className="finding-what">
        <p>
          <strong>{finding.number}</strong> {finding.name}
        </p>
        <p className="finding-flag">
          <FlagWord flag={finding.flag} />
        </p>
        <p className="soft small">
          {rich`${finding.partCount === 1 ? say`one part` : say`${finding.partCount} parts`} in it · ${term(finding.condition)} on ${<Day of={finding.weighedOn} />} · entry ${finding.weighingSeq}`}
        </p>
      </div>
      <Facts
        facts={[
          {
            name: say`beyond its parts`,
            value: `${massWithUnit(finding.residualKg, { sign: true })}${share === undefined ? '' : `, ${percent(share, { sign: true })}`}`,
          },
          { name: say`effect on margin`, value: massWithUnit(finding.marginEffectKg, { sign: true }) },
          {
            name: say`effect on CG`,
            value: cgEffect(finding.cgEffectM),
          },
        ]}
      />
      <Facts
        facts={[
          { name: say`weighed, installed`, value: massWithUnit(finding.projectedKg) },
          { name: say`sum of its parts`, value: massWithUnit(finding.partsKg) },
          { name: say`decision`, value: decisionOf(finding) },
        ]}
      />
      {onDecide === undefined || !isOff(finding) ? null : (
        <div className="finding-acts no-print">
          <Button
            slim
            onPress={() => onDecide(finding)}
            aria-label={say`Decide on ${finding.number}`}
          >{say`Decide`}</Button>
        </div>
      )}
    </li>
  );
}

/** In line with its parts there is nothing to decide. */
function isOff({ flag }: AssemblyDriftReport): boolean {
  return flag !== 'in line';
}
