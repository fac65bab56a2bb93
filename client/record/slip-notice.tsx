/**
 * A figure that looks like a slip of the unit, asked about before it is sent: an estimate held against the one it takes the place of, a target
 * that is corrected held against what is predicted. Targets that are revised are asked about where they are typed.
 */

import { type RefObject, useRef, useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { typedWith } from '../pieces/typed-units.ts';
import { shownIn } from '../pieces/units.ts';
import { asMeant, slipOf } from '../setup/slips.ts';
import { massIn } from '../setup/typed-as.ts';
import { rich } from '../words/rich.ts';
import type { Form } from './field-spec.ts';
import type { Kind } from './kinds.ts';

type Asked = {
  readonly field: string;
  readonly words: string;
  /** What would fit in its place. */
  readonly meant: string;
};

export type SlipQuestion = {
  readonly asked: Asked | undefined;
  readonly isOpen: boolean;
  readonly notice: RefObject<HTMLDivElement | null>;
  readonly sure: () => void;
};

export function useSlip(given: {
  readonly aircraft: AircraftReport;
  readonly kind: Kind;
  readonly form: Form;
  /** The estimate that is stated anew. */
  readonly standingKg: number | undefined;
  /** Of targets that are corrected. */
  readonly predictedKg: number | undefined;
}): SlipQuestion {
  const { aircraft, kind, form, standingKg, predictedKg } = given;
  const notice = useRef<HTMLDivElement>(null);
  const [sureOf, setSureOf] = useState<string>();
  const asked =
    kind === 'estimate' && standingKg !== undefined
      ? questionOf(aircraft, form, { field: 'estimate', measureKg: standingKg, said: say`the estimate before was` })
      : kind === 'targets' && predictedKg !== undefined
        ? questionOf(aircraft, form, { field: 'empty mass', measureKg: predictedKg, said: say`predicted are` })
        : undefined;
  return {
    asked,
    isOpen: asked !== undefined && sureOf !== asked.words,
    notice,
    sure: () => setSureOf(asked?.words),
  };
}

function questionOf(
  aircraft: AircraftReport,
  form: Form,
  against: { readonly field: string; readonly measureKg: number; readonly said: string },
): Asked | undefined {
  const { massWithUnit, units } = shownIn(aircraft);
  const typed = typedWith((form[against.field] ?? '').trim(), units.mass);
  const massKg = massIn(typed, units.mass);
  const slip = massKg === undefined ? undefined : slipOf(massKg, [against.measureKg]);
  if (slip === undefined) return undefined;
  return {
    field: against.field,
    words: `${typed}: ${against.said} ${massWithUnit(against.measureKg)}. ${slip.words}`,
    meant: asMeant(typed, slip),
  };
}

export function SlipNotice(props: { readonly slip: SlipQuestion; readonly onMeant: (changed: Form) => void }) {
  const { asked, isOpen, notice, sure } = props.slip;
  return (
    <div role="status" ref={notice}>
      {asked === undefined ? null : (
        <div className="notice warn stack-tight">
          <strong>{say`Sure?`}</strong>
          <p>{asked.words}</p>
          {isOpen ? (
            <div className="acts">
              <Button slim onPress={() => props.onMeant({ [asked.field]: asked.meant })}>
                {rich`It is ${asked.meant}`}
              </Button>
              <Button slim onPress={sure}>{say`The figure is right`}</Button>
            </div>
          ) : (
            <p>{say`Taken as it is.`}</p>
          )}
        </div>
      )}
    </div>
  );
}
