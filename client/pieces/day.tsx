/** A day that no line break parts. */

import { dayWords } from '#shared/words/day.ts';

export function Day({ of }: { readonly of: string }) {
  return <span className="unparted">{dayWords(of)}</span>;
}
