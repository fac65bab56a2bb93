/** On which side the keys stand, for the hand that is free. Kept on this device; where there is one column only, there is no side. */

import { useState } from 'react';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { rich } from '../words/rich.ts';

const KEY = 'tarebook keys side';
const SIDES = ['right', 'left'] as const;
export type Side = (typeof SIDES)[number];

export function useHand(): { readonly side: Side; readonly turn: () => void } {
  const [side, setSide] = useState<Side>(() => (localStorage.getItem(KEY) === 'left' ? 'left' : 'right'));
  const turn = () => {
    const other = side === 'right' ? 'left' : 'right';
    localStorage.setItem(KEY, other);
    setSide(other);
  };
  return { side, turn };
}

export function HandButton({ side, turn }: ReturnType<typeof useHand>) {
  return (
    <span className="hand-button">
      <Button kind="quiet" onPress={turn}>
        {rich`Keys to the ${side === 'right' ? say`left` : say`right`}`}
      </Button>
    </span>
  );
}
