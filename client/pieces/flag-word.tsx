/** A flag: word, shape and colour together, so that none of them is needed alone. */

import type { DriftFlag } from '#shared/contract/drift.ts';
import { say } from '#shared/words/say.ts';

const SHAPES: Readonly<Record<DriftFlag, { readonly shape: string; readonly look: string; readonly words: string }>> = {
  'in line': { shape: '●', look: 'in-line', words: say`in line` },
  'watch heavy': { shape: '△', look: 'heavy', words: say`watch: heavy` },
  'watch light': { shape: '▽', look: 'light', words: say`watch: light` },
  'drifting heavy': { shape: '▲', look: 'heavy', words: say`drifting heavy` },
  'drifting light': { shape: '▼', look: 'light', words: say`drifting light` },
};

export function FlagWord({ flag }: { readonly flag: DriftFlag }) {
  const { shape, look, words } = SHAPES[flag];
  return (
    <span className={`flag ${look}`}>
      <span aria-hidden="true">{shape}</span>
      {words}
    </span>
  );
}

/** The name of the look of a flag, for what surrounds it. */
export function lookOf(flag: DriftFlag): string {
  return SHAPES[flag].look;
}
