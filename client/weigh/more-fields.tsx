/** What may be said beside a reading, folded away: scale, fixture, lot and the like. What is filled in stands beside its name. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { ScaleReport } from '#shared/contract/drift.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { scaleKey } from '#shared/weighing/scales.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { useScales } from '../door/queries.ts';
import { EntryField, Folded } from '../record/entry-fields.tsx';
import type { Form } from '../record/field-spec.ts';
import { today } from '../words/days.ts';
import { isAssembly, moreFields } from './reading.ts';

export function MoreFields(props: {
  readonly aircraft: AircraftReport;
  readonly part: PartReport;
  readonly form: Form;
  readonly set: (changed: Form) => void;
  readonly problemOf: (name: string) => string | undefined;
}) {
  const { aircraft, part, form, problemOf } = props;
  const scales = useScales(aircraft.id).data ?? [];
  const fields = moreFields(part);
  const filled = fields.map(({ name }) => form[name] ?? '').filter((text) => text.trim() !== '');
  const doubt = doubtOf(scales, form['scale'] ?? '');
  const words = isAssembly(part) ? say`Measured CG, scale and fixture` : say`More about this weighing`;
  return (
    <div className="stack-tight">
      <Folded
        words={
          <>
            {words}
            {filled.length === 0 ? null : <span className="soft filled"> {filled.join(', ')}</span>}
          </>
        }
        isFilled={false}
        isRefused={fields.some(({ name }) => problemOf(name) !== undefined)}
      >
        {fields.map((field) => (
          <EntryField
            key={field.name}
            aircraft={aircraft}
            parts={[]}
            scales={scales.map(({ scale }) => scale)}
            form={form}
            set={props.set}
            problemOf={problemOf}
            field={field}
          />
        ))}
      </Folded>
      {doubt === undefined ? null : <p className="notice warn">⚠ {doubt}</p>}
    </div>
  );
}

/** Said before it is weighed, and not only marked afterwards (rules W1, W12). */
function doubtOf(scales: readonly ScaleReport[], name: string): string | undefined {
  const scale = scales.find((one) => scaleKey(one.scale) === scaleKey(name));
  if (scale?.lastCheckPassed === false)
    return say`${scale.scale} failed its check weight on ${scale.lastCheckOn}: what is weighed on it is in doubt. Use another scale, or check it again.`;
  if (scale?.dueOn !== undefined && scale.dueOn < today())
    return say`The calibration of ${scale.scale} was due on ${dayWords(scale.dueOn)}: what is weighed on it is marked.`;
  return undefined;
}
