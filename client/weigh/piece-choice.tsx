/** Which pieces stand on the scale. A part of one piece needs no question. */

import { ToggleButton, ToggleButtonGroup } from 'react-aria-components';
import type { PartReport } from '#shared/contract/reports.ts';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { rich } from '../words/rich.ts';

/** Beyond this many a row of buttons is no help; the numbers are typed instead. */
const MOST_BUTTONS = 24;

type Props = {
  readonly part: PartReport;
  readonly pieces: readonly number[];
  /** The screen has chosen them, and nobody by hand: the first touch takes their place (rule H5). */
  readonly isOffered: boolean;
  readonly onChange: (pieces: readonly number[]) => void;
};

export function PieceChoice(props: Props) {
  const { part, pieces } = props;
  if (part.quantity === 1) return null;
  const all = Array.from({ length: part.quantity }, (_, at) => at + 1);
  if (part.quantity > MOST_BUTTONS) return <PieceNumbers {...props} />;
  return (
    <div className="choice">
      <span className="label" id="pieces-label">{say`Which pieces are on the scale?`}</span>
      <div className="piece-options">
        <ToggleButtonGroup
          className="choice-options"
          aria-labelledby="pieces-label"
          selectionMode="multiple"
          selectedKeys={pieces}
          onSelectionChange={(keys) => {
            const touched = all.filter((piece) => keys.has(piece) !== pieces.includes(piece));
            props.onChange(props.isOffered ? touched : all.filter((piece) => keys.has(piece)));
          }}
        >
          {all.map((piece) => (
            <ToggleButton key={piece} id={piece} className="button choice-option">
              {say`piece ${piece}`}
              {part.weighed.includes(piece) ? <span className="small">{say` weighed`}</span> : null}
            </ToggleButton>
          ))}
        </ToggleButtonGroup>
        <Button onPress={() => props.onChange(all)}>
          {part.quantity === 2 ? say`both` : say`all ${part.quantity} pieces`}
        </Button>
      </div>
    </div>
  );
}

function PieceNumbers(props: Props) {
  const first = props.pieces[0] ?? 1;
  const last = props.pieces.at(-1) ?? first;
  const set = (from: number, to: number) => {
    const within = (piece: number) => Math.min(Math.max(1, Math.round(piece)), props.part.quantity);
    const [low, high] = [within(from), Math.max(within(from), within(to))];
    props.onChange(Array.from({ length: high - low + 1 }, (_, at) => low + at));
  };
  return (
    <div className="row">
      <label className="field">
        <span className="label">{say`First piece on the scale`}</span>
        <input
          type="number"
          min={1}
          max={props.part.quantity}
          value={first}
          onChange={(e) => set(e.target.valueAsNumber || 1, last)}
        />
      </label>
      <label className="field">
        <span className="label">{rich`Last piece, of ${props.part.quantity}`}</span>
        <input
          type="number"
          min={1}
          max={props.part.quantity}
          value={last}
          onChange={(e) => set(first, e.target.valueAsNumber || first)}
        />
      </label>
    </div>
  );
}
