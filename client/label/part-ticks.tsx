/** Which of the parts get a label: all of them at first. */

import { useState } from 'react';
import type { PartReport } from '#shared/contract/reports.ts';
import { LOCALE, say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { rich } from '../words/rich.ts';

/** A list of ten thousand ticks is slow, and no help. */
const MOST_SHOWN = 200;

export function PartTicks(props: {
  readonly parts: readonly PartReport[];
  /** Without a label, by their ids. */
  readonly left: ReadonlySet<string>;
  readonly onChange: (left: ReadonlySet<string>) => void;
}) {
  const { parts, left, onChange } = props;
  const [isAll, setAll] = useState(false);
  const shown = isAll ? parts : parts.slice(0, MOST_SHOWN);
  const turn = ({ partId }: PartReport) => {
    const next = new Set(left);
    if (!next.delete(partId)) next.add(partId);
    onChange(next);
  };
  const count = parts.filter(({ partId }) => !left.has(partId)).length;
  return (
    <fieldset className="card stack-tight label-parts">
      <legend>
        {rich`Parts ${<span className="soft">{say`${count.toLocaleString(LOCALE)} of ${parts.length.toLocaleString(LOCALE)}, as filtered in Parts`}</span>}`}
      </legend>
      <div className="row">
        <Button onPress={() => onChange(new Set())}>{say`All`}</Button>
        <Button onPress={() => onChange(new Set(parts.map(({ partId }) => partId)))}>{say`None`}</Button>
      </div>
      <ul>
        {shown.map((part) => (
          <li key={part.partId}>
            <label className="tick">
              <input type="checkbox" checked={!left.has(part.partId)} onChange={() => turn(part)} />
              <span>
                <strong>{part.number}</strong> {part.name}
                {part.quantity === 1 ? '' : say` · ${part.quantity} pieces`}
              </span>
            </label>
          </li>
        ))}
      </ul>
      {shown.length < parts.length ? (
        <div>
          <Button onPress={() => setAll(true)}>{rich`All ${parts.length.toLocaleString(LOCALE)} in the list`}</Button>
        </div>
      ) : null}
    </fieldset>
  );
}
