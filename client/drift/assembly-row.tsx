/** A weighed assembly beside the sum of its parts (rule W7): its residual, and what that does to the aircraft. */
import type { AssemblyDriftReport } from '#shared/contract/drift.ts';
import { FlagWord } from '../pieces/flag-word.tsx';
import { percent, type Shown } from '../pieces/units.ts';
import { Facts } from './facts.tsx';

export function AssemblyRow({ finding, shown }: { readonly finding: AssemblyDriftReport; readonly shown: Shown }) {
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
          {finding.partCount === 1 ? 'one part' : `${finding.partCount} parts`} in it · {finding.condition} on{' '}
          {finding.weighedOn} · entry {finding.weighingSeq}
        </p>
      </div>
      <Facts
        facts={[
          {
            name: 'beyond its parts',
            value: `${massWithUnit(finding.residualKg, { sign: true })}${share === undefined ? '' : `, ${percent(share, { sign: true })}`}`,
          },
          { name: 'effect on margin', value: massWithUnit(finding.marginEffectKg, { sign: true }) },
          {
            name: 'effect on CG',
            value: cgEffect(finding.cgEffectM),
          },
        ]}
      />
      <Facts
        facts={[
          { name: 'weighed, installed', value: massWithUnit(finding.projectedKg) },
          { name: 'sum of its parts', value: massWithUnit(finding.partsKg) },
        ]}
      />
    </li>
  );
}
