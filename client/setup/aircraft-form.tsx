/** Says anew what the aircraft is. What was mistyped is corrected instead, beside the entry that says it. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { DescriptionReport } from '#shared/contract/set-up.ts';
import { say } from '#shared/words/say.ts';
import { useDraft } from '../record/draft.ts';
import type { Form } from '../record/field-spec.ts';
import { FormCard } from './form-parts.tsx';
import { lengthTyped } from './typed-as.ts';

export function AircraftForm(props: {
  readonly aircraft: AircraftReport;
  readonly description: DescriptionReport;
  readonly onClose: (words?: string) => void;
}) {
  const { aircraft, description } = props;
  const draft = useDraft(`${aircraft.id} set-up aircraft`, () => wordsOf(description));
  return (
    <FormCard
      title={say`Change the aircraft`}
      aircraft={aircraft}
      kind="aircraft"
      draft={draft}
      before={
        <p className="soft">{say`It has changed, and is described anew. What was mistyped is corrected instead.`}</p>
      }
      main={say`Record the change`}
      onRecorded={({ entry }) => props.onClose(say`Recorded as entry ${entry.seq}.`)}
      onClose={() => props.onClose()}
    />
  );
}

function wordsOf({ name, datum, levelling, macM, lemacM, massUnit, lengthUnit, typed }: DescriptionReport): Form {
  return {
    name,
    datum,
    levelling: levelling ?? '',
    mac: lengthTyped(macM, lengthUnit, typed['mac']),
    lemac: lengthTyped(lemacM, lengthUnit, typed['lemac']),
    'mass unit': massUnit,
    'length unit': lengthUnit,
  };
}
