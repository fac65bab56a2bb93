/** A new revision of the targets. What looks like a slip of the hand is asked about before it is recorded. */

import { useRef, useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { BreakdownReport, HeadlineReport } from '#shared/contract/reports.ts';
import type { RevisionReport } from '#shared/contract/set-up.ts';
import { SHOP_PART_LIMIT } from '#shared/drift/part-drift.ts';
import { say } from '#shared/words/say.ts';
import { GROUP_PREFIX } from '#shared/words/statement-in-words.ts';
import { useGroupForecasts } from '../door/queries.ts';
import { Button } from '../pieces/controls.tsx';
import { typedWith } from '../pieces/typed-units.ts';
import { type Shown, shownIn } from '../pieces/units.ts';
import { useDraft } from '../record/draft.ts';
import type { Form } from '../record/field-spec.ts';
import { labelOf } from '../record/kinds.ts';
import { rich } from '../words/rich.ts';
import { FormCard } from './form-parts.tsx';
import { GroupTable } from './group-table.tsx';
import { MarginWords } from './margin-words.tsx';
import { asMeant, slipOf } from './slips.ts';
import { lengthTyped, massIn, massTyped, shareTyped } from './typed-as.ts';

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
  const forecast = useGroupForecasts(aircraft.id);
  const draft = useDraft(`${aircraft.id} set-up ${['targets', ...add].join(' ')}`, () => ({
    ...Object.fromEntries(add.map((group) => [`${GROUP_PREFIX}${group}`, ''])),
    ...wordsOf(before, shown),
  }));
  const doubts = doubtsOf(draft.form, props, shown);
  const [sureOf, setSureOf] = useState('');
  const asked = doubts.map(({ words }) => words).join('\n');
  const isSure = doubts.length === 0 || sureOf === asked;
  const question = useRef<HTMLDivElement>(null);
  return (
    <FormCard
      title={before === undefined ? say`Set targets` : say`Revision ${before.revision + 1} of the targets`}
      aircraft={aircraft}
      kind="targets"
      draft={draft}
      without={['groups']}
      also={() => ({ groups: groupsOf(draft.form, shown) })}
      before={before === undefined ? null : <p className="soft">{say`The revisions before this one stay.`}</p>}
      after={(problemAt) => (
        <>
          <MarginWords form={draft.form} headline={headline} shown={shown} />
          <GroupTable
            draft={draft}
            problem={problemAt('/groups')}
            groups={groups}
            forecasts={forecast.data ?? []}
            shown={shown}
          />
          {doubts.length === 0 ? null : (
            <div className="notice warn stack-tight" role="alert" ref={question}>
              <strong>{say`Sure?`}</strong>
              {doubts.map(({ field, words, meant }) => (
                <div key={words} className="stack-tight">
                  <p>{words}</p>
                  {isSure ? null : (
                    <div>
                      <Button slim onPress={() => draft.set({ [field]: meant })}>
                        {rich`It is ${meant}`}
                      </Button>
                    </div>
                  )}
                </div>
              ))}
              {isSure ? (
                <p>{say`Taken as it is.`}</p>
              ) : (
                <div>
                  <Button onPress={() => setSureOf(asked)}>
                    {doubts.length === 1 ? say`The figure is right` : say`The figures are right`}
                  </Button>
                </div>
              )}
            </div>
          )}
        </>
      )}
      doubt={{
        isWaiting: false,
        isOpen: !isSure,
        look: () => question.current?.querySelector('button')?.focus(),
      }}
      main={before === undefined ? say`Record the targets` : say`Record the revision`}
      onRecorded={({ entry, headline: after }) =>
        props.onClose(
          say`Revision ${after.targets?.revision ?? 1} is recorded as entry ${entry.seq}. The margin is ${shown.massWithUnit(after.targets?.marginKg, { sign: true })}.`,
        )
      }
      onClose={() => props.onClose()}
    />
  );
}

/** A group without a target stays listed: it is offered wherever a group is typed. */
function groupsOf(form: Form, { units }: Shown): Form {
  return Object.fromEntries(
    Object.entries(form).flatMap(([field, text]) =>
      field.startsWith(GROUP_PREFIX) ? [[field.slice(GROUP_PREFIX.length), typedWith(text.trim(), units.mass)]] : [],
    ),
  );
}

/** What a field looks like, and what would fit in its place. */
type Doubt = { readonly field: string; readonly meant: string; readonly words: string };

function doubtsOf(
  form: Form,
  held: Pick<Parameters<typeof ReviseForm>[0], 'before' | 'groups' | 'headline'>,
  shown: Shown,
): readonly Doubt[] {
  const doubt = (
    { field, name }: { readonly field: string; readonly name: string },
    predictedKg: number | undefined,
    beforeKg: number | undefined,
  ): readonly Doubt[] => {
    const text = form[field] ?? '';
    const massKg = massIn(text, shown.units.mass);
    const slip = massKg === undefined ? undefined : slipOf(massKg, [predictedKg, beforeKg]);
    if (slip === undefined) return [];
    const measure =
      predictedKg !== undefined && predictedKg > 0
        ? say`predicted are ${shown.massWithUnit(predictedKg)}`
        : say`the target before was ${shown.massWithUnit(beforeKg)}`;
    const typed = typedWith(text.trim(), shown.units.mass);
    return [{ field, meant: asMeant(typed, slip), words: `${name}, ${typed}: ${measure}. ${slip.words}` }];
  };
  const groupDoubts = Object.keys(form).flatMap((field) => {
    if (!field.startsWith(GROUP_PREFIX)) return [];
    const group = field.slice(GROUP_PREFIX.length);
    const predictedKg = held.groups.find(({ name }) => name === group)?.predictedKg;
    return doubt({ field, name: group }, predictedKg, held.before?.groups.find((one) => one.group === group)?.massKg);
  });
  const whole = doubt(
    { field: 'empty mass', name: labelOf('targets', 'empty mass') },
    held.headline.predictedKg,
    held.before?.emptyMassKg,
  );
  return [...whole, ...groupDoubts];
}

function wordsOf(before: RevisionReport | undefined, { units }: Shown): Form {
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
    ...Object.fromEntries(
      before.groups.map(({ group, massKg }) => [
        `${GROUP_PREFIX}${group}`,
        massTyped(massKg, units.mass, typed[`group ${group}`]),
      ]),
    ),
  };
}
