/** Where the aircraft stands: the reference, and every support with its station (rule A1). */

import { fieldOf, nextKey, rowsOf, unitsFor, type WeighingDraft, withoutRow } from '#shared/aircraft-weighing/draft.ts';
import { SupportKind } from '#shared/aircraft-weighing/weighing.ts';
import { say } from '#shared/words/say.ts';
import { newId } from '../door/ask.ts';
import { Button, Field, type FieldProps, Picker } from '../pieces/controls.tsx';
import { SUPPORT_WORDS } from '../words/aircraft-weighing.ts';
import type { Weighing } from './use-weighing.ts';

const KINDS = SupportKind.options.map((value) => ({ value, words: SUPPORT_WORDS[value] }));

export function SupportsCard({ of, scales }: { readonly of: Weighing; readonly scales: readonly string[] }) {
  const { draft } = of;
  const add = () =>
    draft.change((before): WeighingDraft => {
      const key = nextKey(before, 'support', newId().slice(0, 4));
      return { ...before, [fieldOf('support', key, 'name')]: say`Support ${rowsOf(before, 'support').length + 1}` };
    });
  return (
    <section className="card stack" aria-label={say`Supports`}>
      <h2>{say`Supports`}</h2>
      <p className="soft">{say`Stations are counted from the reference, aft and right positive. Give y for all supports or for none.`}</p>
      <div className="field-grid">
        <WordField
          of={of}
          field="reference"
          label={say`Reference`}
          hint={say`A point of the airframe that a plumb line finds.`}
          isWide
        />
        <WordField
          of={of}
          field="reference station"
          label={say`Its station`}
          hint={say`From the datum. Left empty: the datum itself.`}
        />
        <WordField of={of} field="reference uncertainty" label={say`Its uncertainty`} />
      </div>
      <ul className="weighing-rows">
        {rowsOf(draft.words, 'support').map((key) => (
          <SupportRow key={key} of={of} at={key} scales={scales} />
        ))}
      </ul>
      {of.problemsOf('supports').map((words) => (
        <p key={words} className="problem" role="alert">
          {words}
        </p>
      ))}
      <div className="row">
        <Button onPress={add}>{say`Another support`}</Button>
      </div>
    </section>
  );
}

function SupportRow({
  of,
  at,
  scales,
}: {
  readonly of: Weighing;
  readonly at: string;
  readonly scales: readonly string[];
}) {
  const { draft } = of;
  const name = draft.words[fieldOf('support', at, 'name')] ?? '';
  const field = (word: string) => fieldOf('support', at, word);
  const isTilted = rowsOf(draft.words, 'run').some((run) => draft.words[fieldOf('run', run, 'attitude')] === 'tilted');
  return (
    <li>
      <fieldset className="weighing-row">
        <legend>{name === '' ? say`A support` : name}</legend>
        <div className="field-grid">
          <WordField of={of} field={field('name')} label={say`Name`} />
          <Picker
            label={say`It is`}
            options={KINDS}
            value={SupportKind.catch('other').parse(draft.words[field('is')])}
            onChange={(value) => draft.set(field('is'), value)}
          />
          <WordField of={of} field={field('x')} unitOf="x" label={say`Station x`} />
          <WordField of={of} field={field('y')} unitOf="y" label={say`y, right positive`} />
          {isTilted ? (
            <WordField
              of={of}
              field={field('z')}
              unitOf="z"
              label={say`Height z`}
              hint={say`Of the axle or jack point.`}
            />
          ) : null}
          <WordField of={of} field={field('scale')} label={say`Scale`} suggestions={scales} hint={say`As in Set-up.`} />
        </div>
        <details className="more">
          <summary>{say`Uncertainties and resolution`}</summary>
          <div className="field-grid">
            <WordField
              of={of}
              field={field('x uncertainty')}
              unitOf="x"
              label={say`Uncertainty of x`}
              hint={say`Left empty: 2 mm (common practice, no source).`}
            />
            <WordField of={of} field={field('y uncertainty')} unitOf="y" label={say`Uncertainty of y`} />
            <WordField of={of} field={field('z uncertainty')} unitOf="z" label={say`Uncertainty of z`} />
            <WordField
              of={of}
              field={field('resolution')}
              unitOf="resolution"
              label={say`Resolution`}
              hint={say`Left empty: the scale’s own, or the digits typed.`}
            />
          </div>
        </details>
        <div className="row">
          <Button
            slim
            kind="quiet"
            onPress={() => draft.change((before) => withoutRow(before, 'support', at))}
            aria-label={say`Remove support ${name}`}
          >{say`Remove`}</Button>
        </div>
      </fieldset>
    </li>
  );
}

/** A field of the draft, with the unit of a bare number. */
export function WordField(props: {
  readonly of: Weighing;
  readonly field: string;
  readonly label: string;
  /** The word by which the unit is known, where the field has a row's key in its name. */
  readonly unitOf?: string;
  readonly hint?: string;
  readonly suggestions?: readonly string[];
  readonly isWide?: boolean;
  readonly isLong?: boolean;
  readonly type?: 'date';
  /** Told beside what is typed. */
  readonly onType?: () => void;
  readonly onBlur?: () => void;
  readonly onPaste?: FieldProps['onPaste'];
}) {
  const { of, field, label, hint, suggestions, isLong, type, onBlur, onPaste } = props;
  const unit = unitsFor({ mass: of.aircraft.massUnit, length: of.aircraft.lengthUnit })(props.unitOf ?? field);
  return (
    <div className={props.isWide === true ? 'wide' : ''}>
      <Field
        {...{ label, unit, hint, suggestions }}
        {...(isLong === undefined ? {} : { isLong })}
        {...(type === undefined ? {} : { type })}
        value={of.draft.words[field] ?? ''}
        {...(onBlur === undefined ? {} : { onBlur })}
        {...(onPaste === undefined ? {} : { onPaste })}
        onChange={(text) => {
          props.onType?.();
          of.draft.set(field, text);
        }}
        problem={of.problemAt(field)}
      />
    </div>
  );
}
