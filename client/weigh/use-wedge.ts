/**
 * A scanner that types (rule H2): its keystrokes are taken wherever the keyboard is on the screen, and what they did on their way is undone, so
 * that no figure, note or choice keeps a piece of a code and no button is pressed by its Enter.
 */
import { type RefObject, useEffect, useRef } from 'react';
import { codeIn, MOST_PAUSE_MS, type Stroke } from '#shared/label/keystrokes.ts';

/** Answers how to come back to what is typed now. */
export type Undo = RefObject<() => () => void>;

type Kept = Stroke & { readonly undo: () => void };

/** Longer than any code. */
const MOST_KEPT = 400;

export function useWedge(on: {
  readonly undo: Undo;
  readonly isNumber: (text: string) => boolean;
  readonly onCode: (text: string) => void;
}): void {
  const latest = useRef(on);
  latest.current = on;
  useEffect(() => {
    let strokes: readonly Kept[] = [];
    const listen = (event: KeyboardEvent) => {
      const { undo, isNumber, onCode } = latest.current;
      if (event.key === 'Shift' || event.key === 'CapsLock') return;
      // A question in front of the screen has its own keys.
      const isElsewhere =
        event.target instanceof Element && event.target.closest('[role="dialog"], [role="alertdialog"]') !== null;
      if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing || isElsewhere) {
        strokes = [];
        return;
      }
      if (event.key === 'Enter' || event.key === 'Tab') {
        const code = codeIn(strokes, event.timeStamp, isNumber);
        const first = code === undefined ? undefined : strokes[code.from];
        strokes = [];
        if (code === undefined) return;
        event.preventDefault();
        event.stopImmediatePropagation();
        first?.undo();
        onCode(code.text);
        return;
      }
      if (event.key.length !== 1) {
        strokes = [];
        return;
      }
      const isLate = event.timeStamp - (strokes.at(-1)?.atMs ?? 0) > MOST_PAUSE_MS;
      const before = isLate ? [] : strokes.slice(-MOST_KEPT);
      strokes = [...before, { key: event.key, atMs: event.timeStamp, undo: undo.current() }];
    };
    addEventListener('keydown', listen, { capture: true });
    return () => removeEventListener('keydown', listen, { capture: true });
  }, []);
}
