/** A new revision of the targets. What looks like a slip of the hand is asked about before it is recorded. */
import { useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { BreakdownReport, HeadlineReport } from '#shared/contract/reports.ts';
import type { RevisionReport } from '#shared/contract/set-up.ts';
import { SHOP_PART_LIMIT } from '#shared/drift/part-drift.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { type Shown, shownIn } from '../pieces/units.ts';
import { FormCard } from './form-parts.tsx';
import { GROUP, GroupTable } from './group-table.tsx';
import { slipOf } from './slips.ts';
import { lengthTyped, massIn, massTyped, shareTyped } from './typed-as.ts';
import { type EntryForm, filled, useEntryForm, type Words } from './use-entry-form.ts';

const FIELDS = ['empty mass', 'reserve', 'cg forward', 'cg aft', 'part limit', 'part limit share', 'reason'] as const;
const PLACED = [...FIELDS, 'groups', 'happenedOn'].map((field) => `/${field}`);

export function ReviseForm(props: {
  readonly aircraft: AircraftReport;
  readonly before: RevisionReport | undefined;
  readonly groups: readonly BreakdownReport[];
  readonly headline: HeadlineReport;
  /** Groups to be put on the list beside those that are there. */
  readonly add?: readonly string[];
  readonly onClose: (words?: string) => void;
}) {
  const { aircraft, before, groups, headline, add = [] } = props;
  const shown = shownIn(aircraft);
  const form = useEntryForm(
    aircraft,
    ['targets', ...add].join(' '),
    () => ({ ...Object.fromEntries(add.map((group) => [`${GROUP}${group}`, ''])), ...wordsOf(before, shown) }),
    ({ entry, headline: after }) =>
      props.onClose(
        `Revision ${after.targets?.revision ?? 1} is recorded as entry ${entry.seq}. The margin is ${shown.massWithUnit(after.targets?.marginKg, { sign: true })}.`,
      ),
  );
  const doubts = doubtsOf(form.words, props, shown);
  const [sureOf, setSureOf] = useState('');
  const isSure = doubts.length === 0 || sureOf === doubts.join('\n');
  const send = () => {
    // A group without a target stays listed: it is offered wherever a group is typed.
    const targets = Object.entries(form.words).flatMap(([field, text]) =>
      field.startsWith(GROUP) ? [[field.slice(GROUP.length), text.trim()]] : [],
    );
    const fields = filled(Object.fromEntries([...FIELDS, 'happenedOn'].map((field) => [field, form.word(field)])));
    form.send({ kind: 'targets', ...fields, groups: Object.fromEntries(targets) });
  };
  return (
    <FormCard
      title={before === undefined ? 'Set targets' : `Revision ${before.revision + 1} of the targets`}
      form={form}
      placed={PLACED}
      main={before === undefined ? 'Record the targets' : 'Record the revision'}
      isReady={isSure}
      onSubmit={send}
      onCancel={() => props.onClose()}
    >
      <p className="soft">
        Each figure with its unit, kg or lb, m or in. {before === undefined ? '' : 'The revisions before it stay.'}
      </p>
      <TargetFields form={form} aircraft={aircraft} />
      <MarginWords words={form.words} headline={headline} shown={shown} />
      <GroupTable form={form} groups={groups} headline={headline} shown={shown} />
      <WhyAndWhen form={form} isFirst={before === undefined} />
      {doubts.length === 0 ? null : (
        <div className="notice warn stack-tight" role="alert">
          <strong>Sure?</strong>
          {doubts.map((words) => (
            <p key={words}>{words}</p>
          ))}
          {isSure ? (
            <p>Taken as it is.</p>
          ) : (
            <div>
              <Button onPress={() => setSureOf(doubts.join('\n'))}>
                {doubts.length === 1 ? 'The figure is right' : 'The figures are right'}
              </Button>
            </div>
          )}
        </div>
      )}
    </FormCard>
  );
}

const STATION_EXAMPLES = { m: '3.2 m', mm: '3200 mm', cm: '320 cm', in: '126 in', ft: '10.5 ft' } as const;

function TargetFields(props: { readonly form: EntryForm; readonly aircraft: AircraftReport }) {
  const { word, set, problemAt } = props.form;
  const field = (name: string, label: string, hint?: string) => (
    <Field
      label={label}
      value={word(name)}
      onChange={set(name)}
      hint={hint}
      problem={problemAt(`/${name}`)}
      autoComplete="off"
    />
  );
  const station =
    props.aircraft.macM !== undefined
      ? 'A station, or a share of the chord: 24\u00a0%\u00a0MAC'
      : `A station: ${STATION_EXAMPLES[props.aircraft.lengthUnit]}`;
  return (
    <div className="set-up-fields">
      {field('empty mass', 'Empty-weight target')}
      {field('reserve', 'Reserve', 'Kept back for what nobody has thought of yet.')}
      {field('cg forward', 'CG range, forward end', station)}
      {field('cg aft', 'CG range, aft end', station)}
      {field('part limit', 'Part limit, as a mass', 'A part drifts beyond the larger of the two limits.')}
      {field('part limit share', 'Part limit, as a share', 'Common practice is 6\u00a0%; adjust it to your shop.')}
    </div>
  );
}

function WhyAndWhen({ form, isFirst }: { readonly form: EntryForm; readonly isFirst: boolean }) {
  const { word, set, problemAt } = form;
  return (
    <>
      <Field
        label="Reason"
        isLong
        value={word('reason')}
        onChange={set('reason')}
        hint={isFirst ? 'May be left empty for the first targets.' : 'Why the targets change. It stays beside them.'}
        problem={problemAt('/reason')}
      />
      <div className="set-up-fields">
        <Field
          type="date"
          label="Day it was decided"
          value={word('happenedOn')}
          onChange={set('happenedOn')}
          hint="Empty: today."
          problem={problemAt('/happenedOn')}
        />
      </div>
    </>
  );
}

/** What the typed target leaves, while it is typed. */
function MarginWords(props: { readonly words: Words; readonly headline: HeadlineReport; readonly shown: Shown }) {
  const targetKg = massIn(props.words['empty mass'] ?? '');
  const reserve = props.words['reserve'] ?? '';
  const reserveKg = reserve.trim() === '' ? 0 : massIn(reserve);
  const { massWithUnit } = props.shown;
  if (targetKg === undefined || reserveKg === undefined) return null;
  const { predictedKg, targets } = props.headline;
  const nowKg = targets?.marginKg;
  return (
    <p className="set-up-said">
      Margin with these: {massWithUnit(targetKg - reserveKg - predictedKg, { sign: true })}
      {nowKg === undefined ? '' : `; now ${massWithUnit(nowKg, { sign: true })}`}. Predicted empty weight:{' '}
      {massWithUnit(predictedKg)}.
    </p>
  );
}

function doubtsOf(
  words: Words,
  held: Pick<Parameters<typeof ReviseForm>[0], 'before' | 'groups' | 'headline'>,
  shown: Shown,
): readonly string[] {
  const doubt = (name: string, text: string, predictedKg: number | undefined, beforeKg: number | undefined) => {
    const massKg = massIn(text);
    const slip = massKg === undefined ? undefined : slipOf(massKg, [predictedKg, beforeKg]);
    if (slip === undefined) return [];
    const measure =
      predictedKg !== undefined && predictedKg > 0
        ? `predicted are ${shown.massWithUnit(predictedKg)}`
        : `the target before was ${shown.massWithUnit(beforeKg)}`;
    return [`${name}, ${text.trim()}: ${measure}. ${slip.words}`];
  };
  const groupDoubts = Object.entries(words).flatMap(([field, text]) => {
    if (!field.startsWith(GROUP)) return [];
    const group = field.slice(GROUP.length);
    const predictedKg = held.groups.find(({ name }) => name === group)?.predictedKg;
    return doubt(group, text, predictedKg, held.before?.groups.find((one) => one.group === group)?.massKg);
  });
  const whole = doubt(
    'Empty-weight target',
    words['empty mass'] ?? '',
    held.headline.predictedKg,
    held.before?.emptyMassKg,
  );
  return [...whole, ...groupDoubts];
}

function wordsOf(before: RevisionReport | undefined, { units }: Shown): Words {
  if (before === undefined) {
    const { absoluteKg, fraction } = SHOP_PART_LIMIT;
    return { 'part limit': massTyped(absoluteKg, 'kg'), 'part limit share': shareTyped(fraction) };
  }
  const { typed } = before;
  return {
    'empty mass': massTyped(before.emptyMassKg, units.mass, typed['empty mass']),
    reserve: massTyped(before.reserveKg, units.mass, typed['reserve']),
    'cg forward': lengthTyped(before.cgForwardM, units.length, typed['cg forward']),
    'cg aft': lengthTyped(before.cgAftM, units.length, typed['cg aft']),
    'part limit': massTyped(before.partLimit.absoluteKg, units.mass, typed['part limit']),
    'part limit share': shareTyped(before.partLimit.fraction),
    reason: '',
    happenedOn: '',
    ...Object.fromEntries(
      before.groups.map(({ group, massKg }) => [
        `${GROUP}${group}`,
        massTyped(massKg, units.mass, typed[`group ${group}`]),
      ]),
    ),
  };
}
