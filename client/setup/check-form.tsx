/** A known mass put on the scale (rule W12). The crew may. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { ScaleReport } from '#shared/contract/drift.ts';
import { say } from '#shared/words/say.ts';
import { useDraft } from '../record/draft.ts';
import { type Check, checkOf } from './check-result.tsx';
import { FormCard } from './form-parts.tsx';

export function CheckForm(props: {
  readonly aircraft: AircraftReport;
  readonly scale: ScaleReport;
  readonly onClose: (check?: Check) => void;
}) {
  const { aircraft, scale } = props;
  const draft = useDraft(`${aircraft.id} set-up check weight ${scale.scale}`, () => ({}));
  return (
    <FormCard
      title={say`Check weight on ${scale.scale}`}
      aircraft={aircraft}
      kind="check weight"
      draft={draft}
      without={['scale']}
      also={() => ({ scale: scale.scale })}
      main={say`Record the check weight`}
      onRecorded={({ entry }) => props.onClose(checkOf(entry))}
      onClose={() => props.onClose()}
    />
  );
}
