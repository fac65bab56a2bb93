/**
 * Figures typed on a keyboard go to the field that is highlighted, wherever the keyboard is on the screen: after a press on a condition, or
 * with a scale that types its reading, whose first sign may be a letter or a sign as well: no part of its line may be lost, neither `-` nor the
 * unit. What is typed into another field stays there.
 */

import { useEffect, useRef } from 'react';
import { flushSync } from 'react-dom';
import { say } from '#shared/words/say.ts';

export function useTypedAnywhere(onKey: (key: string) => void): void {
  const latest = useRef(onKey);
  latest.current = onKey;
  useEffect(() => {
    const listen = (event: KeyboardEvent) => {
      if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey || takesKeys(event.target)) return;
      const key = event.key === 'Backspace' ? 'back' : event.key;
      if (!/^(?:[0-9.,+\-−A-Za-z]|back)$/.test(key)) return;
      event.preventDefault();
      // At once: the next sign of a scale comes before the page is drawn, and goes into the field by itself.
      flushSync(() => latest.current(key));
    };
    addEventListener('keydown', listen);
    return () => removeEventListener('keydown', listen);
  }, []);
}

/** Radios and checkboxes are inputs that nobody types into. A question in front of the screen has its own keys. */
const TAKES_KEYS = say`input:not([type="radio"], [type="checkbox"]), textarea, select, [contenteditable="true"], [role="dialog"] *, [role="alertdialog"] *`;

function takesKeys(target: EventTarget | null): boolean {
  return target instanceof Element && target.matches(TAKES_KEYS);
}
