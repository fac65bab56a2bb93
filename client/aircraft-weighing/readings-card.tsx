/** What the scales show, run by run, level and tilted (rules A1, A2). Large fields: this is typed in gloves. */

import {
  type Attitude,
  fieldOf,
  nextKey,
  readingField,
  rowsOf,
  runsOf,
  withoutRow,
} from '#shared/aircraft-weighing/draft.ts';
import { say } from '#shared/words/say.ts';
import { newId } from '../door/ask.ts';
import { Button } from '../pieces/controls.tsx';
import { LineQuestion } from '../weigh/line/line-question.tsx';
import { hasItsUnit, isPlain, useScaleLine } from '../weigh/line/use-scale-line.ts';
import { LINE_WORDS } from '../words/scale-lines.ts';
import { WordField } from './supports-card.tsx';
import type { Weighing } from './use-weighing.ts';

export function ReadingsCard({ of }: { readonly of: Weighing }) {
  const isTilted = runsOf(of.draft.words, 'tilted').length > 0;
  return (
    <section className="card stack weighing-readings" aria-label={say`Readings`}>
      <h2>{say`Readings`}</h2>
      <p className="soft">{say`Gross as the scale shows it; tare is what stands on the scale beside the aircraft: chocks, a cradle, a jack. Take the aircraft off the scales between two runs.`}</p>
      <Runs of={of} attitude={'level'} />
      {isTilted ? (
        <>
          <h3>{say`Tilted, for the height of the CG`}</h3>
          <p className="soft">{say`Tanks empty or full, struts and tyres as they were, nobody aboard. The reactions must be upright: wheels free to roll, or jacks on their balls.`}</p>
          <div className="field-grid">
            <WordField of={of} field="angle" label={say`Angle, nose up positive`} />
            <WordField
              of={of}
              field="angle uncertainty"
              label={say`Uncertainty of the angle`}
              hint={say`Left empty: 0.1° (common practice, no source).`}
            />
          </div>
          <Runs of={of} attitude={'tilted'} />
        </>
      ) : (
        <div className="row">
          <AddRun of={of} attitude={'tilted'} words={say`Weigh it tilted as well, for z`} />
        </div>
      )}
    </section>
  );
}

function AddRun({
  of,
  attitude,
  words,
}: {
  readonly of: Weighing;
  readonly attitude: Attitude;
  readonly words: string;
}) {
  return (
    <Button
      onPress={() =>
        of.draft.change((before) => {
          const key = nextKey(before, 'run', newId().slice(0, 4));
          return { ...before, [fieldOf('run', key, 'attitude')]: attitude };
        })
      }
    >
      {words}
    </Button>
  );
}

function Runs({ of, attitude }: { readonly of: Weighing; readonly attitude: Attitude }) {
  const runs = runsOf(of.draft.words, attitude);
  return (
    <>
      <ol className="weighing-rows runs">
        {runs.map((run, at) => (
          <RunRow key={run} {...{ of, run, at, attitude }} canGo={attitude === 'tilted' || runs.length > 1} />
        ))}
      </ol>
      {of.problemsOf(attitude).map((words) => (
        <p key={words} className="problem" role="alert">
          {words}
        </p>
      ))}
      <div className="row">
        <AddRun of={of} attitude={attitude} words={say`Another run`} />
      </div>
    </>
  );
}

function RunRow(props: {
  readonly of: Weighing;
  readonly run: string;
  readonly at: number;
  readonly attitude: Attitude;
  readonly canGo: boolean;
}) {
  const { of, run, at, attitude } = props;
  const { words } = of.draft;
  const title = `${attitude === 'level' ? say`Run` : say`Tilted run`} ${at + 1}`;
  const aside = fieldOf('run', run, 'set aside');
  const isAside = words[aside] !== undefined;
  return (
    <li>
      <fieldset className={`weighing-row ${isAside ? 'set-aside' : ''}`}>
        <legend>
          {title}
          {isAside ? say` · set aside, does not count` : ''}
        </legend>
        {rowsOf(words, 'support').map((support) => {
          const name = words[fieldOf('support', support, 'name')] || 'support';
          return (
            <div key={support} className="reading-pair">
              <ScaleField
                of={of}
                field={readingField(run, support, 'gross')}
                what={'gross'}
                label={say`${name}, gross`}
              />
              <ScaleField of={of} field={readingField(run, support, 'tare')} what={'tare'} label={say`tare`} />
            </div>
          );
        })}
        {isAside ? (
          <WordField of={of} field={aside} label={say`Why it does not count`} hint={say`It stays in the record.`} />
        ) : null}
        <div className="row">
          <Button
            slim
            kind="quiet"
            aria-label={isAside ? say`Let it count again: ${title}` : say`Set aside … ${title}`}
            onPress={() =>
              of.draft.change((before) => {
                if (!isAside) return { ...before, [aside]: '' };
                const { [aside]: _, ...rest } = before;
                return rest;
              })
            }
          >
            {isAside ? say`Let it count again` : say`Set aside …`}
          </Button>
          {props.canGo ? (
            <Button
              slim
              kind="quiet"
              aria-label={say`Remove ${title}`}
              onPress={() => of.draft.change((before) => withoutRow(before, 'run', run))}
            >{say`Remove`}</Button>
          ) : null}
        </div>
      </fieldset>
    </li>
  );
}

/** A reading, which may be pasted as the line that the scale printed (rule W13). */
function ScaleField(props: {
  readonly of: Weighing;
  readonly field: string;
  readonly what: 'gross' | 'tare';
  readonly label: string;
}) {
  const { of, field, what, label } = props;
  const line = useScaleLine<string>({
    typedIn: () => of.draft.words[field] ?? '',
    put: (_, text) => of.draft.set(field, text),
    doubtOf: (_, { load }) => (load === undefined || load === what ? undefined : LINE_WORDS.other(load)),
  });
  return (
    <div className="scale-field">
      <WordField
        {...{ of, field, label }}
        unitOf={what}
        onType={line.forget}
        onBlur={() => line.settle(field)}
        onPaste={(event) => {
          const text = event.clipboardData.getData('text');
          if (hasItsUnit(text) || (text.includes('/') && isPlain(text))) return;
          event.preventDefault();
          line.offer(field, text);
        }}
      />
      <LineQuestion of={line} />
    </div>
  );
}
