/** One label: code, number, name, which piece, what it should weigh and between which figures, and where that was taken from (rule H1). */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { labelCode } from '#shared/label/code.ts';
import { figuresInWords, labelFigures } from '#shared/label/figures.ts';
import type { Condition, PartLimit } from '#shared/ledger/entry.ts';
import { say, term } from '#shared/words/say.ts';
import { rich } from '../words/rich.ts';
import { QrCode } from './qr-code.tsx';

export type Label = { readonly part: PartReport; readonly piece: number | undefined };

export type Printed = {
  readonly aircraft: AircraftReport;
  readonly condition: Condition;
  readonly limit: PartLimit;
  /** The entry that the ledger ended with. */
  readonly seq: number;
};

export function PartLabel({ label, printed }: { readonly label: Label; readonly printed: Printed }) {
  const { part, piece } = label;
  const { aircraft } = printed;
  const code = labelCode({ aircraftId: aircraft.id, partId: part.partId, piece });
  return (
    <>
      <QrCode text={code} label={say`Code of ${part.number}`} />
      <div className="label-words">
        <p className={`label-number ${lengthOf(part.number)}`}>{part.number}</p>
        <p className="label-name">{part.name}</p>
        {part.quantity === 1 ? null : (
          <p className="label-piece">
            {piece === undefined ? say`${part.quantity} pieces` : say`piece ${piece} of ${part.quantity}`}
          </p>
        )}
        <Figures part={part} printed={printed} />
        <p className="label-from">
          <span className="label-aircraft">{aircraft.name}</span> <span>{rich`entry ${printed.seq}`}</span>
        </p>
      </div>
    </>
  );
}

function Figures({ part, printed }: { readonly part: PartReport; readonly printed: Printed }) {
  const figures = labelFigures(part, printed.condition, printed.limit);
  if (figures === undefined)
    return (
      <p className="label-figures">
        {part.childCount > 0 ? say`An assembly: judged by what is in it` : say`No estimate yet`}
      </p>
    );
  const unit = printed.aircraft.massUnit;
  const { expected, low, high } = figuresInWords(figures, unit);
  return (
    <p className="label-figures">
      {term(printed.condition)}{' '}
      <strong className="unparted">{`${expected}\u00a0${unit}${part.quantity === 1 ? '' : say` each`}`}</strong>
      <br />
      <span className="unparted">{say`${low} to ${high}\u00a0${unit}`}</span>
    </p>
  );
}

/** Longer numbers are set smaller, so that all of them stand on the label. */
function lengthOf(number: string): '' | 'long' | 'longest' {
  if (number.length <= 12) return '';
  return number.length <= 24 ? 'long' : 'longest';
}
