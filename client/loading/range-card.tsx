/** Between which stations the empty CG must lie for every permitted loading to be inside, and to take that as the target (rule C2 turned round). */

import { useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import type { EmptyRangeReport, LoadingReport } from '#shared/contract/loading.ts';
import { loadsText } from '#shared/loading/say.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { useLedger } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { minus, type Shown } from '../pieces/units.ts';
import { useDraft } from '../record/draft.ts';
import type { Form } from '../record/field-spec.ts';
import { useRecord } from '../record/use-record.ts';
import { useSetUp } from '../setup/questions.ts';
import { massTyped, shareTyped } from '../setup/typed-as.ts';
import { rich } from '../words/rich.ts';
import { said } from './verdict-card.tsx';

type Range = { readonly forwardM: number; readonly aftM: number };

/** Nearer than this two stations are one: a station typed in inches is no round number of metres. */
const SAME_M = 1e-8;

const WHY = {
  'limits too close': say`There is none: what the forward limit asks for lies behind what the aft limit allows.`,
  'too light': say`There is none: the lightest loading is lighter than the envelope goes, wherever the CG is.`,
  'too heavy': say`There is none: the heaviest loading is heavier than the envelope goes, wherever the CG is.`,
  'nothing permitted': say`There is none: the empty aircraft alone is above a maximum weight.`,
} as const;

export function RangeCard(props: {
  readonly aircraft: AircraftReport;
  readonly report: LoadingReport;
  readonly shown: Shown;
  readonly onRecorded: (recorded: RecordedReport) => void;
}) {
  const { aircraft, report, shown } = props;
  const isLead = useMay(ROLE_OF_KIND.targets);
  const targets = useLedger(aircraft.id).data?.headline.targets;
  const [isOpen, setOpen] = useState(false);
  const both = inBoth(report.ranges);
  const place = (stationM: number) => placeText(stationM, report, shown);
  return (
    <section className="card stack" aria-label={say`Empty CG range from the envelope`}>
      <div className="stack-tight">
        <h2>{say`Empty CG range from the envelope`}</h2>
        <p className="soft">{say`Where the empty CG must lie for every permitted loading to be inside.`}</p>
      </div>
      {report.ranges.map((range) => (
        <One key={range.of} {...{ range, report, shown }} />
      ))}
      {both === undefined || targets === undefined ? null : targets.cgForwardM === undefined &&
        targets.cgAftM === undefined ? (
        <p>{say`The targets state no CG range yet.`}</p>
      ) : (
        <p>
          {rich`The targets ask for ${targets.cgForwardM === undefined ? say`open` : place(targets.cgForwardM)} to ${targets.cgAftM === undefined ? say`open` : place(targets.cgAftM)}.`}{' '}
          <Compared {...{ both, targets, place }} />
        </p>
      )}
      {both === undefined || !isLead ? null : (
        <div>
          <Button
            onPress={() => setOpen(true)}
            isDisabled={targets === undefined}
          >{say`Use as target CG range …`}</Button>
          {targets === undefined ? (
            <p className="soft small">{say`Set an empty-weight target first, in Set-up.`}</p>
          ) : null}
        </div>
      )}
      {isOpen && both !== undefined ? <UseDialog {...props} range={both} onClose={() => setOpen(false)} /> : null}
    </section>
  );
}

function One(props: { readonly range: EmptyRangeReport; readonly report: LoadingReport; readonly shown: Shown }) {
  const { range, report, shown } = props;
  const { forward, aft, why } = range;
  const title = say`At the ${range.of === 'target' ? say`target’s` : say`forecast`} ${shown.massWithUnit(range.massKg)}`;
  return (
    <div className="stack-tight">
      <h3>{title}</h3>
      {forward === undefined || aft === undefined || why !== undefined ? (
        <p>▲ {why === undefined ? '' : WHY[why]}</p>
      ) : (
        <p>
          <strong>{rich`${placeText(forward.xM, report, shown)} to ${placeText(aft.xM, report, shown)}`}</strong>
        </p>
      )}
      {forward === undefined || aft === undefined ? null : (
        <ul className="range-ends">
          <li>{rich`Forward end set by ${said(loadsText(forward.loaded.loads, shown.units))}, at the edge from corner ${forward.side}.`}</li>
          <li>{rich`Aft end set by ${said(loadsText(aft.loaded.loads, shown.units))}, at the edge from corner ${aft.side}.`}</li>
        </ul>
      )}
    </div>
  );
}

function Compared(props: {
  readonly both: Range;
  readonly targets: { readonly cgForwardM?: number | undefined; readonly cgAftM?: number | undefined };
  readonly place: (stationM: number) => string;
}) {
  const { both, targets } = props;
  const isForward = targets.cgForwardM === undefined || targets.cgForwardM < both.forwardM - SAME_M;
  const isAft = targets.cgAftM === undefined || targets.cgAftM > both.aftM + SAME_M;
  if (!isForward && !isAft) return say`The envelope allows all of that.`;
  const ends = isForward && isAft ? say`At both ends` : isForward ? say`At the forward end` : say`At the aft end`;
  return (
    <strong>{rich`▲ ${ends} that is more than the envelope allows: a CG in the target range can be loaded outside.`}</strong>
  );
}

/** What holds at both masses; undefined where there is nothing. */
function inBoth(ranges: readonly EmptyRangeReport[]): Range | undefined {
  const ends = ranges.map(({ state, forward, aft }) => (state === 'range' ? { forward, aft } : undefined));
  let both: Range | undefined;
  for (const one of ends) {
    if (one?.forward === undefined || one.aft === undefined) return undefined;
    both = {
      forwardM: Math.max(both?.forwardM ?? Number.NEGATIVE_INFINITY, one.forward.xM),
      aftM: Math.min(both?.aftM ?? Number.POSITIVE_INFINITY, one.aft.xM),
    };
  }
  return both !== undefined && both.forwardM < both.aftM ? both : undefined;
}

function placeText(stationM: number, { chord }: LoadingReport, { units }: Shown): string {
  const station = minus(showFixed(stationM / LENGTH_UNIT_M[units.length], units.length === 'm' ? 4 : 2));
  const percent =
    chord === undefined
      ? ''
      : say` (${minus(showFixed(((stationM - chord.lemacM) / chord.macM) * 100, 1))}\u00a0%\u00a0MAC)`;
  return `${station}\u00a0${units.length}${percent}`;
}

/** Inwards, so that the target is never wider than the envelope: to a tenth of a millimetre, or a hundredth of an inch. */
function inwards({ forwardM, aftM }: Range, { units }: Shown): { readonly forward: string; readonly aft: string } {
  const isInches = units.length === 'in' || units.length === 'ft';
  const stepM = isInches ? LENGTH_UNIT_M.in / 100 : 1e-4;
  const text = (stationM: number) =>
    `${Number((stationM / LENGTH_UNIT_M[units.length]).toPrecision(10))} ${units.length}`;
  return {
    forward: text(Math.ceil(forwardM / stepM - 1e-6) * stepM),
    aft: text(Math.floor(aftM / stepM + 1e-6) * stepM),
  };
}

/** A revision of the targets that changes the CG range alone; everything else goes on as it stands. */
function UseDialog(props: Parameters<typeof RangeCard>[0] & { readonly range: Range; readonly onClose: () => void }) {
  const { aircraft, shown, range } = props;
  const before = useSetUp(aircraft.id).data?.revisions.at(-1);
  const draft = useDraft(`${aircraft.id} range as target`, () => ({
    reason: say`The CG range is what the loading envelope allows, at the target and at the forecast empty weight.`,
  }));
  const record = useRecord(aircraft, (recorded) => {
    draft.forget();
    props.onRecorded(recorded);
    props.onClose();
  });
  const ends = inwards(range, shown);
  const words: Form =
    before === undefined
      ? {}
      : {
          'empty mass': massTyped(before.emptyMassKg, shown.units.mass, before.typed['empty mass']),
          reserve: massTyped(before.reserveKg, shown.units.mass, before.typed['reserve']),
          'part limit': massTyped(before.partLimit.absoluteKg, shown.units.mass, before.typed['part limit']),
          'part limit share': shareTyped(before.partLimit.fraction),
        };
  const groups = Object.fromEntries(
    (before?.groups ?? []).map(({ group, massKg }) => [
      group,
      massKg === undefined ? 'none' : massTyped(massKg, shown.units.mass, before?.typed[`group ${group}`]),
    ]),
  );
  const refusal = record.refusal(['/reason']);
  return (
    <Dialog title={say`Use as target CG range`} isOpen isForm onClose={props.onClose}>
      <p>{rich`A new revision of the targets with the CG range ${<strong>{ends.forward}</strong>} to ${<strong>{ends.aft}</strong>}. Mass, reserve, limits and groups stay; so do the revisions before it.`}</p>
      <Field
        label={say`Why`}
        value={draft.form['reason'] ?? ''}
        onChange={(reason) => {
          record.touch(['reason']);
          draft.set({ reason });
        }}
        problem={record.problemAt('/reason')}
        isLong
      />
      {refusal === undefined ? null : (
        <p className="notice bad" role="alert">
          {refusal}
        </p>
      )}
      <div className="acts">
        <Button
          kind="main"
          isDisabled={before === undefined || record.isSending}
          onPress={() =>
            record.send({
              id: draft.id,
              kind: 'targets',
              ...words,
              'cg forward': ends.forward,
              'cg aft': ends.aft,
              groups,
              ...((draft.form['reason'] ?? '').trim() === '' ? {} : { reason: draft.form['reason'] }),
            })
          }
        >
          {record.isSending ? say`Recording …` : say`Record the revision`}
        </Button>
        <Button onPress={props.onClose}>{say`Cancel`}</Button>
      </div>
    </Dialog>
  );
}
