/** What drifts: parts, assemblies, groups, the CG, and many small ones, each with its effect and, where one may, one press to act. */

import { useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { DriftReport, FindingsReport, ManySmallReport } from '#shared/contract/drift.ts';
import { hasChanged } from '#shared/drift/has-changed.ts';
import type { DriftOrder } from '#shared/drift/report.ts';
import { LOCALE, say } from '#shared/words/say.ts';
import { useFindings, useReleases } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button, Choice } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import type { Shown } from '../pieces/units.ts';
import { AssemblyRow } from './assembly-row.tsx';
import { CauseDialog } from './cause-dialog.tsx';
import { ChangedProcesses } from './changed-processes.tsx';
import { DecideDialog } from './decide-dialog.tsx';
import type { Decided } from './finding-line.tsx';
import { CgFinding, GroupRow, SmallRow } from './finding-rows.tsx';
import { PartRow } from './part-row.tsx';
import { asksForCause } from './process-words.tsx';
import { SmallCauseDialog } from './small-cause-dialog.tsx';
import './drift.css';

const ORDERS: readonly { readonly value: DriftOrder; readonly words: string }[] = [
  { value: 'margin', words: say`effect on margin` },
  { value: 'cg', words: say`effect on CG` },
];

export const DRIFT_ID = 'what-drifts';

type Act =
  | { readonly what: 'cause'; readonly finding: DriftReport }
  | { readonly what: 'decide'; readonly finding: Decided }
  | { readonly what: 'sum cause'; readonly finding: ManySmallReport };

export function DriftSection(props: {
  readonly aircraft: AircraftReport;
  readonly asKnownAt: number | undefined;
  readonly shown: Shown;
  readonly isWeighed: boolean;
  readonly onRecorded: (recorded: RecordedReport) => void;
}) {
  const { aircraft, asKnownAt, shown } = props;
  const [order, setOrder] = useState<DriftOrder>('margin');
  const [act, setAct] = useState<Act>();
  const findings = useFindings(aircraft.id, asKnownAt);
  const releases = useReleases(aircraft.id, asKnownAt);
  const called = releases.data?.filter(hasChanged) ?? [];
  const mayAct = useMay('engineer') && asKnownAt === undefined;
  const done = (recorded: RecordedReport) => {
    setAct(undefined);
    props.onRecorded(recorded);
  };
  return (
    <section className="stack" aria-labelledby={DRIFT_ID}>
      <div className="row between drift-tools">
        <h2 id={DRIFT_ID}>{say`What drifts`}</h2>
        <Choice label={say`Largest first, by`} options={ORDERS} value={order} onChange={setOrder} />
      </div>
      {findings.isPending ? <Waiting what={say`what drifts`} /> : null}
      {findings.isLoadingError ? <Failed error={findings.error} again={() => void findings.refetch()} /> : null}
      {releases.isLoadingError ? <Failed error={releases.error} again={() => void releases.refetch()} /> : null}
      {called.length === 0 ? null : (
        <ChangedProcesses
          aircraft={aircraft}
          asKnownAt={asKnownAt}
          called={called}
          shown={shown}
          mayAct={mayAct}
          onRecorded={done}
        />
      )}
      {findings.data === undefined ? null : (
        <Findings
          findings={findings.data}
          order={order}
          shown={shown}
          onAct={mayAct ? setAct : undefined}
          accuracyHref={`/aircraft/${aircraft.id}/lay-up-accuracy`}
          isAlone={!called.some(asksForCause)}
          isWeighed={props.isWeighed}
        />
      )}
      {act?.what === 'decide' ? (
        <DecideDialog aircraft={aircraft} finding={act.finding} onRecorded={done} onClose={() => setAct(undefined)} />
      ) : null}
      {act?.what === 'sum cause' ? (
        <SmallCauseDialog aircraft={aircraft} sum={act.finding} onRecorded={done} onClose={() => setAct(undefined)} />
      ) : null}
      {act?.what === 'cause' ? (
        <CauseDialog aircraft={aircraft} finding={act.finding} onRecorded={done} onClose={() => setAct(undefined)} />
      ) : null}
    </section>
  );
}

function Findings(props: {
  readonly findings: FindingsReport;
  readonly order: DriftOrder;
  readonly shown: Shown;
  /** Nothing stands above it. */
  readonly isAlone: boolean;
  readonly isWeighed: boolean;
  readonly onAct: ((act: Act) => void) | undefined;
  readonly accuracyHref: string;
}) {
  const { findings, order, shown, onAct, accuracyHref } = props;
  const assemblies = sorted(findings.assemblies, order);
  const isCalm =
    props.isAlone &&
    findings.parts.length + findings.groups.length + findings.manySmall.length + assemblies.length === 0 &&
    findings.cg === undefined;
  if (isCalm && !props.isWeighed)
    return <p className="notice">{say`Nothing is weighed yet: what drifts shows from the first weighing on.`}</p>;
  if (isCalm)
    return (
      <p className="notice good">{say`● Nothing drifts: whatever has been weighed is in line with its estimate.`}</p>
    );
  return (
    <div className="findings">
      <CgFinding cg={findings.cg} shown={shown} />
      <FindingList title={say`Parts`} none={say`Every weighed part is in line with its estimate.`}>
        {sorted(findings.parts, order).map((finding) => (
          <PartRow
            key={`${finding.weighingSeq} ${finding.pieces[0]}`}
            finding={finding}
            shown={shown}
            onAct={onAct === undefined ? undefined : (what, one) => onAct({ what, finding: one })}
          />
        ))}
      </FindingList>
      <FindingList title={say`Weighed assemblies`} none="">
        {assemblies.map((finding) => (
          <AssemblyRow
            key={finding.number}
            finding={finding}
            shown={shown}
            onDecide={
              onAct === undefined
                ? undefined
                : (one) => onAct({ what: 'decide', finding: { ...one, pieces: [1], quantity: 1 } })
            }
          />
        ))}
      </FindingList>
      <FindingList title={say`Groups over their target`} none="">
        {findings.groups.map((finding) => (
          <GroupRow key={finding.group} finding={finding} shown={shown} />
        ))}
      </FindingList>
      <FindingList title={say`Many small ones`} none="">
        {findings.manySmall.map((finding) => (
          <SmallRow
            key={`${finding.by} ${finding.name}`}
            {...{ finding, shown, accuracyHref }}
            onCause={onAct === undefined ? undefined : () => onAct({ what: 'sum cause', finding })}
          />
        ))}
      </FindingList>
    </div>
  );
}

type Effects = { readonly marginEffectKg: number; readonly cgEffectM?: number | undefined };

function sorted<Finding extends Effects>(findings: readonly Finding[], order: DriftOrder): readonly Finding[] {
  const size = ({ marginEffectKg, cgEffectM }: Effects) =>
    Math.abs(order === 'margin' ? marginEffectKg : (cgEffectM ?? 0));
  return [...findings].sort((a, b) => size(b) - size(a));
}

/** The first few say most of it; the rest is one press away. */
const FIRST_SHOWN = 6;

function FindingList(props: {
  readonly title: string;
  readonly none: string;
  readonly children: readonly React.ReactNode[];
}) {
  const { title, children } = props;
  const [isOpen, setOpen] = useState(false);
  if (children.length === 0)
    return props.none === '' ? null : (
      <section aria-label={title} className="stack-tight">
        <h3>{title}</h3>
        <p className="notice good">● {props.none}</p>
      </section>
    );
  return (
    <section aria-label={title} className="stack-tight">
      <h3>
        {title} <span className="soft count">{children.length.toLocaleString(LOCALE)}</span>
      </h3>
      <ul className="finding-list">{isOpen ? children : children.slice(0, FIRST_SHOWN)}</ul>
      {children.length > FIRST_SHOWN ? (
        <div>
          <Button slim onPress={() => setOpen(!isOpen)}>
            {isOpen ? say`The largest only` : say`All ${children.length.toLocaleString(LOCALE)}`}
          </Button>
        </div>
      ) : null}
    </section>
  );
}
