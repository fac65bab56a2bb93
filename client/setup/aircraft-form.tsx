/** Says anew what the aircraft is, or corrects what was mistyped (rule L2). */
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { DescriptionReport } from '#shared/contract/set-up.ts';
import { LENGTH_UNITS, MASS_UNITS } from '#shared/quantity/units.ts';
import { Choice, Field } from '../pieces/controls.tsx';
import { FormCard } from './form-parts.tsx';
import { lengthTyped } from './typed-as.ts';
import { filled, useEntryForm, type Words } from './use-entry-form.ts';

const WAYS = [
  { value: 'changed', words: 'The aircraft has changed' },
  { value: 'mistyped', words: 'It was mistyped' },
] as const;
type Way = (typeof WAYS)[number]['value'];
const MASSES = MASS_UNITS.filter((unit) => unit === 'kg' || unit === 'lb').map((value) => ({ value, words: value }));
const LENGTHS = LENGTH_UNITS.filter((unit) => unit !== 'cm' && unit !== 'ft').map((value) => ({ value, words: value }));
const FIELDS = ['name', 'datum', 'levelling', 'mac', 'lemac', 'mass unit', 'length unit'] as const;

export function AircraftForm(props: {
  readonly aircraft: AircraftReport;
  readonly description: DescriptionReport;
  readonly onClose: (words?: string) => void;
}) {
  const { aircraft, description } = props;
  const form = useEntryForm(
    aircraft,
    'aircraft',
    () => wordsOf(description),
    ({ entry }) => props.onClose(`Recorded as entry ${entry.seq}.`),
  );
  const { word, set } = form;
  const way = word('way') as Way;
  const under = way === 'mistyped' ? '/replacement' : '';
  const problem = (field: string) => form.problemAt(`${under}/${field}`);
  // A correction counts from the datum of the entry it corrects: its own words and leading edge, not today's.
  const isThen = way === 'mistyped' && description.asStated.datumHasMoved;
  const [datum, lemac] = isThen ? (['datum then', 'lemac then'] as const) : (['datum', 'lemac'] as const);
  const send = () => {
    const fields = filled({
      ...Object.fromEntries(FIELDS.map((field) => [field, word(field)])),
      datum: word(datum),
      lemac: word(lemac),
    });
    if (way === 'changed') form.send({ kind: 'aircraft', ...fields });
    else form.send({ kind: 'correction', entry: description.latestSeq, reason: word('reason'), replacement: fields });
  };
  return (
    <FormCard
      title="Change the aircraft"
      form={form}
      placed={[...FIELDS.map((field) => `${under}/${field}`), '/reason']}
      main={way === 'mistyped' ? 'Record the correction' : 'Record the change'}
      onSubmit={send}
      onCancel={() => props.onClose()}
    >
      <Choice label="Why it is to say something else" options={WAYS} value={way} onChange={set('way')} />
      {isThen ? (
        <p className="notice">
          The datum has been moved since this was stated. Datum and leading edge below are those of that time; the move
          is reckoned on top of them.
        </p>
      ) : null}
      <Field label="Name" value={word('name')} onChange={set('name')} problem={problem('name')} />
      <Field
        label="Datum"
        isLong
        value={word(datum)}
        onChange={set(datum)}
        hint="In words, where stations are counted from. This changes the words alone; Move the datum changes the stations as well."
        problem={problem('datum')}
      />
      <Field
        label="Levelling reference"
        isLong
        value={word('levelling')}
        onChange={set('levelling')}
        hint="What is level when the aircraft is: a rail, two pads, a line on the frame."
        problem={problem('levelling')}
      />
      <div className="set-up-fields">
        <Field
          label="MAC"
          value={word('mac')}
          onChange={set('mac')}
          hint="With its unit: 1.25 m"
          problem={problem('mac')}
        />
        <Field
          label="Leading edge of MAC"
          value={word(lemac)}
          onChange={set(lemac)}
          hint="Its station, with the unit: 3.15 m"
          problem={problem('lemac')}
        />
        <Choice
          label="Masses are shown in"
          options={MASSES}
          value={word('mass unit')}
          onChange={set('mass unit')}
          problem={problem('mass unit')}
        />
        <Choice
          label="Lengths are shown in"
          options={LENGTHS}
          value={word('length unit')}
          onChange={set('length unit')}
          problem={problem('length unit')}
        />
      </div>
      {way === 'mistyped' ? (
        <Field
          label="Reason"
          isLong
          value={word('reason')}
          onChange={set('reason')}
          hint="Stands beside the correction for good."
          problem={form.problemAt('/reason')}
        />
      ) : null}
    </FormCard>
  );
}

function wordsOf(description: DescriptionReport): Words {
  const { typed, lengthUnit, asStated } = description;
  return {
    way: 'changed',
    name: description.name,
    datum: description.datum,
    'datum then': asStated.datum,
    levelling: description.levelling ?? '',
    mac: lengthTyped(description.macM, lengthUnit, typed['mac']),
    lemac: lengthTyped(description.lemacM, lengthUnit, typed['lemac']),
    'lemac then': lengthTyped(asStated.lemacM, lengthUnit, typed['lemac']),
    'mass unit': description.massUnit,
    'length unit': lengthUnit,
    reason: '',
  };
}
