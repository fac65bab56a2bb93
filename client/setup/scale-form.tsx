/** Describes a scale, or states its calibration anew. Which coverage factor a certificate uses is asked and never guessed (rule U1). */
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { ScaleReport } from '#shared/contract/drift.ts';
import { Choice, Field } from '../pieces/controls.tsx';
import { FormCard } from './form-parts.tsx';
import { massTyped } from './typed-as.ts';
import { filled, useEntryForm } from './use-entry-form.ts';

const FIELDS = [
  'scale',
  'capacity',
  'resolution',
  'calibrated',
  'calibration due',
  'calibration uncertainty',
  'coverage',
] as const;
const COVERAGES = [
  { value: '1', words: 'k = 1: standard uncertainty' },
  { value: '2', words: 'k = 2: expanded, about 95 %' },
] as const;

export function ScaleForm(props: {
  readonly aircraft: AircraftReport;
  /** The scale that is there already. */
  readonly scale?: ScaleReport;
  readonly onClose: (words?: string) => void;
}) {
  const { aircraft, scale } = props;
  const form = useEntryForm(
    aircraft,
    `scale ${scale?.scale ?? ''}`,
    () => ({
      scale: scale?.scale ?? '',
      capacity: massTyped(scale?.capacityKg, aircraft.massUnit),
      resolution: massTyped(scale?.resolutionKg, aircraft.massUnit),
    }),
    ({ entry }) => props.onClose(`Recorded as entry ${entry.seq}.`),
  );
  const { word, set } = form;
  const isKnown = scale !== undefined && (scale.capacityKg !== undefined || scale.resolutionKg !== undefined);
  const problem = (field: string) => form.problemAt(`/${field}`);
  const send = () => {
    const calibrated = word('calibrated');
    form.send({
      kind: 'scale',
      ...filled(form.words),
      // It happened on the day of the calibration: what has been weighed since then is judged by it.
      ...(calibrated === '' ? {} : { happenedOn: calibrated }),
    });
  };
  const text = (field: string, label: string, hint?: string) => (
    <Field
      label={label}
      value={word(field)}
      onChange={set(field)}
      hint={hint}
      problem={problem(field)}
      autoComplete="off"
    />
  );
  return (
    <FormCard
      title={isKnown ? `New calibration of ${scale.scale}` : `Describe ${scale?.scale ?? 'a scale'}`}
      form={form}
      placed={[...FIELDS.map((field) => `/${field}`), '/happenedOn']}
      main={isKnown ? 'Record the calibration' : 'Record the scale'}
      onSubmit={send}
      onCancel={() => props.onClose()}
    >
      {scale === undefined ? text('scale', 'Name of the scale', 'As the crew calls it: bench, floor, crane.') : null}
      <div className="set-up-fields">
        {text('capacity', 'Capacity', 'With its unit: 15 kg. A gross above it is refused.')}
        {text('resolution', 'Resolution', 'The smallest step of the display: 1 g.')}
        <Field
          type="date"
          label="Calibrated on"
          value={word('calibrated')}
          onChange={set('calibrated')}
          problem={problem('calibrated') ?? problem('happenedOn')}
        />
        <Field
          type="date"
          label="Valid until"
          value={word('calibration due')}
          onChange={set('calibration due')}
          hint="A weighing after that day is marked."
          problem={problem('calibration due')}
        />
      </div>
      {text(
        'calibration uncertainty',
        'Uncertainty on the certificate',
        'A share of what it shows: 0.02 %. Or a mass at the capacity: 3 g.',
      )}
      <Choice
        label="The certificate states it with"
        options={COVERAGES}
        value={COVERAGES.find(({ value }) => value === word('coverage'))?.value}
        onChange={set('coverage')}
        problem={problem('coverage')}
      />
      <p className="soft small">
        The certificate says which: look for the coverage factor k beside the figure. What is kept is the standard
        uncertainty, k&nbsp;=&nbsp;1.
      </p>
    </FormCard>
  );
}
