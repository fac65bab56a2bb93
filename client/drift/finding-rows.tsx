/** Findings that are no single piece: the CG against its range, groups against their targets, many small ones (rules D3, D5). */

import { Link } from 'wouter';
import type { CgDriftReport, GroupDriftReport, ManySmallReport } from '#shared/contract/drift.ts';
import { say, term } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { plusMinus, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { Facts } from './facts.tsx';

export function CgFinding({ cg, shown }: { readonly cg: CgDriftReport | undefined; readonly shown: Shown }) {
  if (cg === undefined) return null;
  const { length, lengthWithUnit, lengthWithStd, units } = shown;
  const at = plusMinus(lengthWithStd(cg.xM, cg.xStdM), units.length);
  const range = say`${length(cg.cgForwardM)} to ${lengthWithUnit(cg.cgAftM)}`;
  return (
    <p className={`notice ${cg.level === 'drifting' ? 'bad' : 'warn'}`}>
      {cg.level === 'drifting'
        ? rich`${<strong>{rich`${cg.standing === 'aft of range' ? '▶' : '◀'} The CG drifts:`}</strong>} ${at} is ${term(cg.standing)}, ${range}.`
        : rich`${<strong>{say`△ The CG is to be watched:`}</strong>} ${at} lies within its uncertainty of an end of the range, ${range}.`}
    </p>
  );
}

export function GroupRow({ finding, shown }: { readonly finding: GroupDriftReport; readonly shown: Shown }) {
  const { massWithUnit, massWithStd, units } = shown;
  return (
    <li className="finding">
      <div className="finding-what">
        <p>
          <strong>{finding.group}</strong>
        </p>
        <p className="flag heavy">{say`▲ over its target`}</p>
      </div>
      <Facts facts={[{ name: say`effect on margin`, value: massWithUnit(finding.marginKg, { sign: true }) }]} />
      <Facts
        facts={[
          { name: say`forecast`, value: plusMinus(massWithStd(finding.forecastKg, finding.forecastStdKg), units.mass) },
          { name: say`predicted`, value: massWithUnit(finding.predictedKg) },
          { name: say`target`, value: massWithUnit(finding.targetKg) },
        ]}
      />
    </li>
  );
}

const BY = { group: say`Group`, process: say`Process`, lot: say`Lot` } as const;

export function SmallRow(props: {
  readonly finding: ManySmallReport;
  readonly shown: Shown;
  /** Where a process is looked at by its lay-ups. */
  readonly accuracyHref: string;
  readonly onCause: (() => void) | undefined;
}) {
  const { finding, shown, onCause } = props;
  const { cause } = finding;
  const act = cause === undefined ? say`State the cause` : say`Change the cause`;
  const { massWithUnit, massWithStd, units } = shown;
  const isHeavy = finding.sumKg > 0;
  return (
    <li className="finding">
      <div className="finding-what">
        <p>
          {BY[finding.by]} <strong>{finding.by === 'process' ? term(finding.name) : finding.name}</strong>
        </p>
        <p className={`flag ${isHeavy ? 'heavy' : 'light'}`}>
          {isHeavy ? say`▲ heavy together` : say`▼ light together`}
        </p>
        <p className="soft small">{rich`${finding.partCount} parts, each of them in line`}</p>
        {finding.by === 'process' ? (
          <p className="small no-print">
            <Link href={props.accuracyHref}>{say`Its lay-ups against the scale`}</Link>
          </p>
        ) : null}
      </div>
      <Facts
        facts={[
          {
            name: say`they add up to`,
            value: plusMinus(massWithStd(finding.sumKg, finding.sdKg, { sign: true }), units.mass),
          },
          { name: say`effect on margin`, value: massWithUnit(-finding.sumKg, { sign: true }) },
        ]}
      />
      <Facts facts={[{ name: say`cause`, value: term(cause?.cause) ?? <em>{say`not stated`}</em> }]} />
      {onCause === undefined ? null : (
        <div className="finding-acts no-print">
          <Button
            slim
            kind={cause === undefined ? 'plain' : 'quiet'}
            onPress={onCause}
            aria-label={say`${act} of the ${finding.by} ${finding.name}`}
          >
            {act}
          </Button>
        </div>
      )}
    </li>
  );
}
