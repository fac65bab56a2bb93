/** Describes a scale, or states its calibration anew. Which coverage factor a certificate uses is asked and never guessed (rule U1). */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { ScaleReport } from '#shared/contract/drift.ts';
import { say } from '#shared/words/say.ts';
import { useDraft } from '../record/draft.ts';
import { FormCard } from './form-parts.tsx';
import { massTyped } from './typed-as.ts';

export function ScaleForm(props: {
  readonly aircraft: AircraftReport;
  /** The scale that is there already. */
  readonly scale?: ScaleReport;
  readonly onClose: (words?: string) => void;
}) {
  const { aircraft, scale } = props;
  const draft = useDraft(`${aircraft.id} set-up scale ${scale?.scale ?? ''}`, () => ({
    capacity: massTyped(scale?.capacityKg, aircraft.massUnit),
    resolution: massTyped(scale?.resolutionKg, aircraft.massUnit),
  }));
  const isKnown = scale !== undefined && (scale.capacityKg !== undefined || scale.resolutionKg !== undefined);
  return (
    <FormCard
      title={isKnown ? say`New calibration of ${scale.scale}` : say`Describe ${scale?.scale ?? say`a scale`}`}
      aircraft={aircraft}
      kind="scale"
      draft={draft}
      // It happened on the day of the calibration: what has been weighed since then is judged by it.
      without={scale === undefined ? ['happenedOn'] : ['happenedOn', 'scale']}
      also={(words) => ({
        ...(scale === undefined ? {} : { scale: scale.scale }),
        ...(words['calibrated'] === undefined ? {} : { happenedOn: words['calibrated'] }),
      })}
      after={() => (
        <p className="soft small">{say`What is kept of the certificate’s figure is the standard uncertainty, k = 1.`}</p>
      )}
      main={isKnown ? say`Record the calibration` : say`Record the scale`}
      onRecorded={({ entry }) => props.onClose(say`Recorded as entry ${entry.seq}.`)}
      onClose={() => props.onClose()}
    />
  );
}
