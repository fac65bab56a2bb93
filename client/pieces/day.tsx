/** A day that no line break parts. */

import type { ReactNode } from 'react';
import { dayWords } from '#shared/words/day.ts';

export function Day({ of }: { readonly of: string }) {
  return <span className="unparted">{dayWords(of)}</span>;
}

/** Words with days in them, each of which stays whole. A day with its month in letters parts at a space, as words do. */
export function withDays(words: string): ReactNode {
  // What is captured stands at every second place.
  return words.split(/(\d{4}-\d{2}-\d{2})/).map((part, at) =>
    at % 2 === 0 ? (
      part
    ) : (
      // biome-ignore lint/suspicious/noArrayIndexKey: the words come as one text, and have no other place than this.
      <span key={at} className="unparted">
        {part}
      </span>
    ),
  );
}
