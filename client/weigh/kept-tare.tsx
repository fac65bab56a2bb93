/**
 * Whose tare stands in the field, where it was kept from the weighing before: seen before it counts, and away in one touch (rule H5). Once it is
 * gone its room stays, so that no key moves under the finger.
 */
import { useState } from 'react';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import type { KeptFrom } from './habit.ts';

export function KeptTare(props: {
  readonly tare: string;
  readonly from: KeptFrom | undefined;
  readonly onNone: () => void;
}) {
  const { from } = props;
  const [last, setLast] = useState(props);
  if (from !== undefined && (last.tare !== props.tare || last.from === undefined)) setLast(props);
  if (from === undefined && last.from === undefined) return null;
  return (
    <div className={`kept-tare ${from === undefined ? 'not-now' : ''}`}>
      <span className="small">{wordsOf(last.from, last.tare)}</span>
      <Button onPress={props.onNone}>{say`Nothing under it`}</Button>
    </div>
  );
}

function wordsOf(from: KeptFrom | undefined, tare: string): string {
  if (from === undefined) return '';
  return 'fixture' in from
    ? say`Kept: ${tare}, the tare of ${from.fixture}`
    : say`Kept: ${tare}, the tare of ${from.number}`;
}
