/** A check weight at the start of a shift (rule W12): which scale, what the weight is, what the scale shows. */

import { useRef, useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { MassUnit } from '#shared/quantity/units.ts';
import { scaleKey } from '#shared/weighing/scales.ts';
import { say } from '#shared/words/say.ts';
import { newId } from '../door/ask.ts';
import { useScales } from '../door/queries.ts';
import { Button, Choice, Field } from '../pieces/controls.tsx';
import { typedWith } from '../pieces/typed-units.ts';
import { useRecord } from '../record/use-record.ts';
import { rich } from '../words/rich.ts';
import { recallCheck, rememberCheck } from './habit.ts';
import { HandButton, useHand } from './hand.tsx';
import { NumberPad } from './number-pad.tsx';
import { pressKey } from './reading.ts';
import { ReadingFields } from './reading-fields.tsx';
import type { Undo } from './use-wedge.ts';

type CheckField = 'reference' | 'shown';
type Check = {
  readonly scale: string;
  readonly reference: string;
  readonly shown: string;
  readonly limit: string;
  readonly unit: MassUnit;
};

/** Chosen where the scale is not among those that are known. */
const OTHER = say`another scale`;

export function CheckWeight(props: {
  readonly undo: Undo;
  readonly aircraft: AircraftReport;
  readonly onRecorded: (recorded: RecordedReport) => void;
  readonly onBack: () => void;
}) {
  const { aircraft } = props;
  const [check, setCheck] = useState<Check>(() => firstCheck(aircraft));
  const [active, setActive] = useState<CheckField>('shown');
  props.undo.current = () => () => setCheck(check);
  const [isOther, setOther] = useState(false);
  const hand = useHand();
  const id = useRef(newId());
  const inputs = { reference: useRef<HTMLInputElement>(null), shown: useRef<HTMLInputElement>(null) };
  const scales = useScales(aircraft.id).data ?? [];
  const known = scales.find(({ scale }) => scaleKey(scale) === scaleKey(check.scale));
  const record = useRecord(aircraft, (recorded) => {
    rememberCheck(check);
    props.onRecorded(recorded);
  });
  const change = (changed: Partial<Check>) => {
    id.current = newId();
    record.reset();
    setCheck({ ...check, ...changed });
  };
  const asksLimit = check.limit !== '' || known?.resolutionKg === undefined || record.problemAt('/limit') !== undefined;
  const send = () =>
    record.send({
      id: id.current,
      kind: 'check weight',
      ...filled('scale', check.scale),
      ...filled('reference', typedWith(check.reference, check.unit)),
      ...filled('shown', typedWith(check.shown, check.unit)),
      ...filled('limit', typedWith(check.limit, check.unit)),
    });
  const refusal = record.refusal(['/scale', '/reference', '/shown', '/limit']);
  return (
    <div className={`weigh-part keys-${hand.side}`}>
      <section className="stack weigh-what" aria-label={say`The check`}>
        <div className="row back">
          <Button kind="quiet" onPress={props.onBack}>{say`‹ Back to the parts`}</Button>
          <HandButton {...hand} />
        </div>
        <div>
          <h2>{say`Check weight`}</h2>
          <p className="soft">{say`Put a weight that is known on the scale, and say what the scale shows.`}</p>
        </div>
        {scales.length === 0 ? null : (
          <Choice
            label={say`Which scale?`}
            options={[...scales.map(({ scale }) => scale), OTHER].map((value) => ({ value, words: value }))}
            value={isOther ? OTHER : known?.scale}
            onChange={(scale) => {
              setOther(scale === OTHER);
              change({ scale: scale === OTHER ? '' : scale });
            }}
            problem={isOther ? undefined : record.problemAt('/scale')}
          />
        )}
        {scales.length > 0 && !isOther ? null : (
          <Field
            label={say`Name of the scale`}
            value={check.scale}
            onChange={(scale) => change({ scale })}
            problem={record.problemAt('/scale')}
          />
        )}
      </section>
      <section className="stack weigh-keys" aria-label={say`The scale`}>
        <ReadingFields
          fields={[
            {
              name: 'reference',
              label: say`The weight is`,
              input: inputs.reference,
              problem: record.problemAt('/reference'),
            },
            { name: 'shown', label: say`The scale shows`, input: inputs.shown, problem: record.problemAt('/shown') },
          ]}
          values={check}
          unit={check.unit}
          active={active}
          first="shown"
          onActive={setActive}
          onChange={(field, value) => change({ [field]: value })}
          onUnit={(unit) => change({ unit })}
          onEnter={(field) => (field === 'reference' ? inputs.shown.current?.focus() : send())}
        />
        <NumberPad
          onKey={(key) => {
            change({ [active]: pressKey(check[active], key) });
            inputs[active].current?.focus();
          }}
        />
      </section>
      <section className="card stack judgement" aria-label={say`Result`}>
        {asksLimit ? (
          <Field
            label={say`It passes within`}
            value={check.limit}
            onChange={(limit) => change({ limit })}
            unit={check.unit}
            hint={
              known?.resolutionKg === undefined
                ? say`The resolution of this scale is not recorded, so the limit must be said.`
                : undefined
            }
            problem={record.problemAt('/limit')}
          />
        ) : (
          <p className="soft">{rich`It passes within the in-service limit for the resolution of ${known?.scale} (OIML R 76, class III).`}</p>
        )}
        {refusal === undefined ? null : (
          <p className="notice bad" role="alert">
            {refusal}
          </p>
        )}
        <p className="soft small">{say`A check that fails puts every weighing on this scale in doubt, from the last check that passed to the next one that does.`}</p>
      </section>
      <div className="stack-tight weigh-save">
        <Button kind="main" isDisabled={record.isSending} onPress={send}>
          {record.isSending ? say`Recording …` : say`Record the check`}
        </Button>
      </div>
    </div>
  );
}

function firstCheck(aircraft: AircraftReport): Check {
  const last = recallCheck();
  return {
    scale: last?.scale ?? '',
    reference: last?.reference ?? '',
    shown: '',
    limit: '',
    unit: last?.unit ?? aircraft.massUnit,
  };
}

function filled(name: string, text: string): Readonly<Record<string, string>> {
  return text.trim() === '' ? {} : { [name]: text };
}
