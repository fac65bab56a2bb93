/** What a target that is typed would leave, beside what the one in force leaves. */

import type { HeadlineReport } from '#shared/contract/reports.ts';
import { say } from '#shared/words/say.ts';
import type { Shown } from '../pieces/units.ts';
import type { Form } from '../record/field-spec.ts';
import { rich } from '../words/rich.ts';
import { massIn } from './typed-as.ts';

export function MarginWords(props: { readonly form: Form; readonly headline: HeadlineReport; readonly shown: Shown }) {
  const { massWithUnit, units } = props.shown;
  const targetKg = massIn(props.form['empty mass'] ?? '', units.mass);
  const reserve = props.form['reserve'] ?? '';
  const reserveKg = reserve.trim() === '' ? 0 : massIn(reserve, units.mass);
  if (targetKg === undefined || reserveKg === undefined) return null;
  const { predictedKg, targets } = props.headline;
  const nowKg = targets?.marginKg;
  return (
    <p className="set-up-said">{rich`Margin with these: ${massWithUnit(targetKg - reserveKg - predictedKg, { sign: true })}${nowKg === undefined ? '' : say`; now ${massWithUnit(nowKg, { sign: true })}`}. Predicted empty weight: ${massWithUnit(predictedKg)}.`}</p>
  );
}
