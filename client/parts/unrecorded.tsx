/** What was typed into cells and neither recorded nor dropped: it is not lost, and it is not in the ledger either. */

import type { PartReport } from '#shared/contract/reports.ts';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { rich } from '../words/rich.ts';
import { COLUMNS } from './columns.tsx';
import type { Edits } from './use-edits.ts';
import type { Spot } from './use-grid-keys.ts';

export function Unrecorded(props: {
  readonly edits: Edits;
  /** The cell that somebody is typing into is in sight and needs no words. */
  readonly editing: Spot | undefined;
  readonly parts: readonly PartReport[];
  readonly onGo: (spot: Spot) => void;
}) {
  const { edits, editing, parts } = props;
  const waiting = [...edits.byCell.values()].filter(
    ({ state, partId, column }) =>
      (state === 'typed' || state === 'refused') && !(editing?.partId === partId && editing.column === column),
  );
  const [first] = waiting;
  if (first === undefined) return null;
  const part = parts.find(({ partId }) => partId === first.partId);
  const column = COLUMNS.find(({ id }) => id === first.column);
  const words = waiting.length === 1 ? say`One cell is` : say`${waiting.length} cells are`;
  return (
    <div className="notice warn row unrecorded">
      <span role="status">{rich`${words} typed into and not recorded.`}</span>
      {part === undefined || column === undefined ? null : (
        <Button slim onPress={() => props.onGo({ partId: first.partId, column: first.column })}>
          {rich`Go to ${part.number}, ${column.heading.toLowerCase()}`}
        </Button>
      )}
      <Button slim onPress={edits.dropAll}>
        {rich`Drop ${waiting.length === 1 ? say`it` : say`them`}`}
      </Button>
    </div>
  );
}
