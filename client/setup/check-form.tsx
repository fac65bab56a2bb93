/** A known mass put on the scale (rule W12). The crew may. */
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { ScaleReport } from '#shared/contract/drift.ts';
import { Field } from '../pieces/controls.tsx';
import { type Check, checkOf } from './check-result.tsx';
import { FormCard } from './form-parts.tsx';
import { filled, useEntryForm } from './use-entry-form.ts';

const FIELDS = ['reference', 'shown', 'limit', 'happenedOn'] as const;

export function CheckForm(props: {
  readonly aircraft: AircraftReport;
  readonly scale: ScaleReport;
  readonly onClose: (check?: Check) => void;
}) {
  const { aircraft, scale } = props;
  const form = useEntryForm(
    aircraft,
    `check weight ${scale.scale}`,
    () => ({}),
    ({ entry }) => props.onClose(checkOf(entry)),
  );
  const { word, set } = form;
  const field = (name: string, label: string, hint: string) => (
    <Field
      label={label}
      value={word(name)}
      onChange={set(name)}
      hint={hint}
      problem={form.problemAt(`/${name}`)}
      autoComplete="off"
    />
  );
  return (
    <FormCard
      title={`Check weight on ${scale.scale}`}
      form={form}
      placed={FIELDS.map((name) => `/${name}`)}
      main="Record the check weight"
      onSubmit={() => form.send({ kind: 'check weight', scale: scale.scale, ...filled(form.words) })}
      onCancel={() => props.onClose()}
    >
      <div className="set-up-fields">
        {field('reference', 'Mass of the check weight', 'As it is marked, with its unit: 10 kg.')}
        {field('shown', 'What the scale shows', 'With its unit: 10.002 kg.')}
        {field(
          'limit',
          'Limit',
          scale.resolutionKg === undefined
            ? 'How far off it may be: 5 g. It is needed, since the resolution of this scale is not known.'
            : 'How far off it may be: 5 g. Empty: what OIML R 76 allows a class III scale in service.',
        )}
        <Field
          type="date"
          label="Day"
          value={word('happenedOn')}
          onChange={set('happenedOn')}
          hint="Empty: today."
          problem={form.problemAt('/happenedOn')}
        />
      </div>
    </FormCard>
  );
}
