/**
 * The keyboard in a schedule: Enter adds the next line, Alt with an arrow moves one, Alt with Delete takes one away. Heard before the fields hear it,
 * but for an open list of materials, whose own Enter chooses. Focus goes to the field that should have it next.
 */

import { type RefObject, useEffect } from 'react';
import { placeOf } from '#shared/layup/draft.ts';
import { say } from '#shared/words/say.ts';
import { kindOf } from './line-row.tsx';
import type { Schedule } from './use-schedule.ts';

export function useLineKeys(root: RefObject<HTMLElement | null>, of: Schedule): void {
  useEffect(() => {
    const element = root.current;
    if (element === null) return;
    const onKey = (event: KeyboardEvent) => {
      if (handle(event, of)) {
        event.preventDefault();
        event.stopPropagation();
      }
    };
    element.addEventListener('keydown', onKey, true);
    return () => element.removeEventListener('keydown', onKey, true);
  }, [root, of]);
  useEffect(() => {
    const place = of.wanted.current;
    if (place === undefined) return;
    const fields = root.current?.querySelectorAll<HTMLElement>('[data-place]') ?? [];
    const field = [...fields].find(({ dataset }) => dataset['place'] === place);
    if (field === undefined) return;
    field.focus();
    of.wanted.current = undefined;
  });
}

/** True where the key was for the schedule. */
function handle(event: KeyboardEvent, of: Schedule): boolean {
  const { target } = event;
  if (!(target instanceof HTMLInputElement || target instanceof HTMLSelectElement)) return false;
  if (target.getAttribute('aria-expanded') === 'true' || event.isComposing) return false;
  const lineKey = target.closest<HTMLElement>('[data-line]')?.dataset['line'];
  const regionKey = target.closest<HTMLElement>('[data-region]')?.dataset['region'];
  const isPlain = !event.altKey && !event.ctrlKey && !event.metaKey && !event.shiftKey;
  if (event.key === 'Enter' && isPlain && regionKey !== undefined) return enter(of, regionKey, lineKey);
  if (lineKey === undefined || !event.altKey) return false;
  if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
    of.wanted.current = target.dataset['place'];
    of.nudge(lineKey, event.key === 'ArrowUp' ? -1 : 1);
    return true;
  }
  if (event.key !== 'Delete') return false;
  of.removeLine(lineKey);
  return true;
}

function enter(of: Schedule, regionKey: string, lineKey: string | undefined): boolean {
  if (lineKey === undefined) {
    const first = of.draft.regions.find(({ key }) => key === regionKey)?.lines[0];
    if (first === undefined) of.addLine(regionKey, 'ply');
    else of.focus(say`${first.key} material`);
    return true;
  }
  const place = placeOf(of.draft, lineKey);
  const line = place === undefined ? undefined : of.draft.regions[place.region]?.lines[place.line];
  if (line === undefined) return false;
  of.addLine(regionKey, kindOf(line.words), lineKey);
  return true;
}
