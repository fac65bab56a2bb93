/**
 * One person makes room for another in the same browser: what the first had typed and not recorded is put aside under their id, and what the second
 * had put aside is there again. Nobody sees the other's as their own, and nothing of it is lost.
 *
 * Readings not saved yet carry their person's id themselves (`client/weigh/kept.ts`).
 */
import { queries } from '../door/queries.ts';
import { draftsOf } from '../record/draft.ts';
import { forgetOperator } from '../weigh/habit.ts';

/** What is kept on the device while it is typed, by the beginning of its name. */
const TYPED = [
  'tarebook what-if ',
  'tarebook loading ',
  'tarebook ballast ',
  'tarebook lay-up ',
  'tarebook aircraft weighing ',
];

export function switchPerson(from: string, to: string): void {
  // What one may see the other may not.
  queries.clear();
  draftsOf(to);
  forgetOperator();
  try {
    for (const name of names())
      if (TYPED.some((begin) => name.startsWith(begin))) move(name, `${asideOf(from)}${name}`);
    for (const name of names()) if (name.startsWith(asideOf(to))) move(name, name.slice(asideOf(to).length));
  } catch {
    // A full or forbidden store must not keep anybody out.
  }
}

function asideOf(personId: string): string {
  return `tarebook aside ${personId} `;
}

function names(): readonly string[] {
  return Array.from({ length: localStorage.length }, (_, at) => localStorage.key(at) ?? '');
}

/** Taken away first: a full store has room for it again. */
function move(name: string, to: string): void {
  const text = localStorage.getItem(name);
  localStorage.removeItem(name);
  if (text !== null) localStorage.setItem(to, text);
}
