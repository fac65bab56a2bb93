/** What the stations of the whole aircraft, and of every part, become. */

import { useState } from 'react';
import { say } from '#shared/words/say.ts';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';

export type StationNow = { readonly name: string; readonly xM: number };

/** A table longer than this is read by nobody, and slow to draw. */
const MOST_ROWS = 300;

export function DatumPreview(props: {
  readonly shiftM: number;
  readonly whole: readonly StationNow[];
  readonly parts: readonly StationNow[];
  readonly shown: Shown;
}) {
  const { parts } = props;
  const [isOpen, setOpen] = useState(false);
  const rest = parts.length - MOST_ROWS;
  return (
    <div className="stack-tight">
      {props.whole.length === 0 ? null : (
        <Stations {...props} rows={props.whole} title={say`What the stations become`} />
      )}
      {parts.length === 0 ? (
        <p className="soft">{say`No part has an arm yet.`}</p>
      ) : (
        <details onToggle={(event) => setOpen(event.currentTarget.open)}>
          <summary>
            {parts.length === 1
              ? say`The arm of the one part`
              : say`The arms of all ${parts.length} parts that have one`}
          </summary>
          {isOpen ? (
            <>
              <Stations {...props} rows={parts.slice(0, MOST_ROWS)} title={say`What the arms become`} />
              {rest > 0 ? <p className="soft small">{rich`And ${rest} more, in the same manner.`}</p> : null}
            </>
          ) : null}
        </details>
      )}
    </div>
  );
}

function Stations(props: {
  readonly title: string;
  readonly rows: readonly StationNow[];
  readonly shiftM: number;
  readonly shown: Shown;
}) {
  const { length, units } = props.shown;
  return (
    <table>
      <caption className="hidden-words">{props.title}</caption>
      <thead>
        <tr>
          <th scope="col">{rich`Station x, ${units.length}`}</th>
          <th scope="col" className="number">{say`now`}</th>
          <th scope="col" className="number">{say`then`}</th>
        </tr>
      </thead>
      <tbody>
        {props.rows.map(({ name, xM }) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td className="number">{length(xM)}</td>
            <td className="number">{length(xM - props.shiftM)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
