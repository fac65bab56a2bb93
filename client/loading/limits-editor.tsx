/**
 * Loading limits as they are typed, with what they come to so far; recorded as a whole, with a reason where they take the place of others, or as
 * what an entry should have said.
 */

import { type ReactNode, useMemo, useRef, useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { LoadingReport } from '#shared/contract/loading.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { answerOf } from '#shared/loading/answer.ts';
import { draftOf, emptyDraft, sentOf, unitsFor } from '#shared/loading/draft.ts';
import { WHOLE } from '#shared/loading/read-draft.ts';
import { verdictOf } from '#shared/loading/say.ts';
import { say } from '#shared/words/say.ts';
import { newId } from '../door/ask.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { shownIn, tied } from '../pieces/units.ts';
import { Folded } from '../record/entry-fields.tsx';
import { useRecord } from '../record/use-record.ts';
import { rich } from '../words/rich.ts';
import { CasesCard } from './cases-card.tsx';
import { CornersCard } from './corners-card.tsx';
import { LimitField } from './limit-field.tsx';
import { StationsCard } from './stations-card.tsx';
import { type Limits, useLimits } from './use-limits.ts';

const OTHERS = ['zero-fuel maximum', 'landing maximum', 'butt line left', 'butt line right'] as const;

export function LimitsEditor(props: {
  readonly aircraft: AircraftReport;
  readonly report: LoadingReport;
  /** An entry that is put right: what it said. */
  readonly corrects?: {
    readonly seq: number;
    readonly statement: StatementOf<'loading'>;
    readonly happenedOn: string;
  };
  readonly onRecorded: (recorded: RecordedReport) => void;
  readonly onClose: () => void;
  /** Below the title. */
  readonly children?: ReactNode;
}) {
  const { aircraft, report, corrects } = props;
  const { units } = useMemo(() => shownIn(aircraft), [aircraft]);
  const { stated, chord } = report;
  const begunWith = corrects?.statement.limits ?? stated?.limits;
  const root = useRef<HTMLDivElement>(null);
  const [begin] = useState(() => ({
    draft: begunWith === undefined ? emptyDraft(newId) : draftOf(begunWith, units, newId),
    reason: '',
    begunAt: corrects?.seq ?? stated?.latestSeq,
  }));
  const predictedKg = report.empties.find(({ name }) => name === 'predicted')?.massKg;
  const against = useMemo(() => ({ emptyKg: predictedKg, hasChord: chord !== undefined }), [predictedKg, chord]);
  const keptAs = corrects === undefined ? aircraft.id : say`${aircraft.id} correct ${corrects.seq}`;
  const of = useLimits({ keptAs, begin, units, against });
  const [id] = useState(newId);
  const record = useRecord(aircraft, (recorded) => {
    of.done();
    props.onRecorded(recorded);
  });
  const needsReason = corrects !== undefined || stated !== undefined;
  const isReasonMissing = needsReason && of.reason.trim() === '';
  const [hasTried, setTried] = useState(false);
  const send = () => {
    of.tellAll();
    setTried(true);
    if (of.read.limits === undefined || isReasonMissing) {
      requestAnimationFrame(() =>
        root.current?.querySelector<HTMLElement>(say`[aria-invalid="true"], .problem`)?.focus(),
      );
      return;
    }
    const reason = of.reason.trim();
    if (!record.isSending)
      record.send(
        corrects === undefined
          ? { id, kind: 'loading', limits: sentOf(of.draft, units), ...(reason === '' ? {} : { reason }) }
          : { id, kind: 'correction', entry: corrects.seq, reason, replacement: replacementOf(corrects) },
      );
  };
  const replacementOf = ({ statement, happenedOn }: NonNullable<typeof corrects>) => ({
    ...{ kind: 'loading', limits: sentOf(of.draft, units), happenedOn },
    ...(statement.reason === undefined ? {} : { reason: statement.reason }),
  });
  const words = wordsFor({ corrects: corrects?.seq, revision: stated?.revision });
  return (
    <div className="stack" ref={root}>
      <div className="stack-tight">
        <h1>{words.title}</h1>
        <p className="soft">
          {of.isKept
            ? say`What you type stays on this device until it is recorded or dropped.`
            : say`This device keeps nothing: what you type is lost when you leave.`}
        </p>
      </div>
      {props.children}
      {corrects === undefined && of.isStored && of.begunAt !== stated?.latestSeq ? (
        <p className="notice warn">{rich`This began from other limits than those that hold now: ${stated === undefined ? say`they were struck out` : say`entry ${stated.latestSeq} has been recorded since`}. Recording it takes their place as a whole.`}</p>
      ) : null}
      <WholeCard of={of} />
      <StationsCard of={of} />
      <CornersCard of={of} hasChord={chord !== undefined} />
      <CasesCard of={of} />
      <section className="card stack" aria-label={say`Record`}>
        <h2>{say`What comes of them`}</h2>
        <Preview of={of} report={report} aircraft={aircraft} />
        {needsReason ? (
          <Field
            label={words.why}
            value={of.reason}
            onChange={of.setReason}
            hint={words.whyHint}
            problem={hasTried && isReasonMissing ? words.whyMissing : undefined}
          />
        ) : null}
        <Refused of={of} hasTried={hasTried} refusal={record.refusal([])} isReasonMissing={isReasonMissing} />
        <div className="acts">
          <Button kind="main" onPress={send} isDisabled={record.isSending}>
            {record.isSending ? say`Recording …` : words.record}
          </Button>
          <Button onPress={props.onClose}>{of.isTyped ? say`Close, keep it here` : say`Close`}</Button>
          {of.isTyped ? (
            <Button
              onPress={() => {
                of.done();
                props.onClose();
              }}
            >{say`Drop what was typed`}</Button>
          ) : null}
        </div>
      </section>
      {of.putBack === undefined ? null : (
        <p className="notice row no-print">
          {of.said} <Button slim onPress={of.putBack}>{say`Put it back`}</Button>
        </p>
      )}
      <p role="status" className="hidden-words">
        {of.said}
      </p>
    </div>
  );
}

function wordsFor({
  corrects,
  revision,
}: {
  readonly corrects: number | undefined;
  readonly revision: number | undefined;
}) {
  if (corrects !== undefined)
    return {
      ...{ title: say`Correct the limits of entry ${corrects}`, record: say`Record the correction` },
      ...{ why: 'Reason for the correction', whyHint: say`Stands beside the correction for good.` },
      whyMissing: say`Say what was wrong with the entry.`,
    };
  return {
    title: revision === undefined ? say`State the loading limits` : say`Revision ${revision + 1} of the loading limits`,
    record: revision === undefined ? say`Record the limits` : say`Record the revision`,
    ...{ why: 'Why they change', whyHint: say`Stands beside the new limits for good.` },
    whyMissing: say`Say why they change: these take the place of others.`,
  };
}

function WholeCard({ of }: { readonly of: Limits }) {
  const unitOf = unitsFor(of.draft, of.units);
  const { words } = of.draft;
  const field = (name: string, label: string, hint?: string) => (
    <LimitField {...{ of, label, hint }} at={WHOLE} field={name} value={words[name] ?? ''} unit={unitOf(name)} />
  );
  return (
    <section className="card stack" aria-label={say`Maximum weights`}>
      <h2>{say`Maximum weights`}</h2>
      <div className="field-grid">{field('maximum weight', say`Maximum weight`)}</div>
      <Folded
        words={say`Zero-fuel and landing maximum, range across`}
        isFilled={OTHERS.some((name) => (words[name] ?? '') !== '')}
        isRefused={OTHERS.some((name) => of.problemAt(WHOLE, name) !== undefined)}
      >
        {field('zero-fuel maximum', say`Zero-fuel maximum`, say`Of the aircraft without usable fuel.`)}
        {field('landing maximum', say`Landing maximum`)}
        {field('butt line left', say`CG across, left end`, say`Left of the middle is less than 0.`)}
        {field('butt line right', say`CG across, right end`, say`Every station then needs its butt line.`)}
      </Folded>
    </section>
  );
}

/** Of limits that can be read: what they would say. */
function Preview(props: { readonly of: Limits; readonly report: LoadingReport; readonly aircraft: AircraftReport }) {
  const { of, report, aircraft } = props;
  const { limits } = of.read;
  const { units } = useMemo(() => shownIn(aircraft), [aircraft]);
  const empty = report.empties.find(({ name }) => name === 'forecast') ?? report.empties[0];
  const verdict = useMemo(
    () =>
      limits === undefined || empty === undefined
        ? undefined
        : verdictOf(answerOf({ limits, chord: report.chord }, empty), units),
    [limits, empty, report.chord, units],
  );
  return (
    <div aria-live="polite">
      {verdict === undefined ? (
        <p className="soft">
          {empty === undefined
            ? say`The aircraft has no CG yet: nothing in it has a mass and a station.`
            : say`They are told here as soon as all of it can be read.`}
        </p>
      ) : (
        <Told isInside={verdict.isInside}>
          {rich`On the ${empty?.name} empty weight: ${verdict.headline} ${tied(verdict.worst ?? '')} ${verdict.cases}`}
        </Told>
      )}
    </div>
  );
}

function Told({ isInside, children }: { readonly isInside: boolean; readonly children: ReactNode }) {
  return (
    <p className={`notice ${isInside ? 'good' : 'bad'}`}>
      <span aria-hidden="true">{isInside ? '● ' : '▲ '}</span>
      {children}
    </p>
  );
}

function Refused(props: {
  readonly of: Limits;
  readonly hasTried: boolean;
  readonly refusal: string | undefined;
  readonly isReasonMissing: boolean;
}) {
  const { of, hasTried, refusal } = props;
  const count = of.problems.length + (props.isReasonMissing && hasTried ? 1 : 0);
  if (hasTried && count > 0)
    return (
      <p
        className="notice bad"
        role="alert"
      >{rich`Not recorded: ${count === 1 ? say`one thing is` : say`${count} things are`} to be put right, each told beside its field.`}</p>
    );
  return refusal === undefined ? null : (
    <p className="notice bad" role="alert">
      {refusal}
    </p>
  );
}
