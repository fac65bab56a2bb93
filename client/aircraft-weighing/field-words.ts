/** A field of the draft in words, and what is wrong at it, for where it is told away from its place. */

import { fieldOf, runsOf, type WeighingDraft } from '#shared/aircraft-weighing/draft.ts';
import type { WeighingProblem } from '#shared/aircraft-weighing/read-draft.ts';
import { say } from '#shared/words/say.ts';

/** `support k0001 x` as `Nose, x`, and `reading k0002 k0001 gross` as `Run 2, Nose, gross`. */
export function fieldWords(words: WeighingDraft, field: string): string {
  const [kind = '', key = '', ...rest] = field.split(' ');
  const nameOf = (support: string) => words[fieldOf('support', support, 'name')] || say`a support`;
  if (kind === 'support') return `${nameOf(key)}, ${rest.join(' ')}`;
  if (kind === 'run') return `${runWords(words, key)}, ${rest.join(' ')}`;
  if (kind === 'reading') return `${runWords(words, key)}, ${nameOf(rest[0] ?? '')}, ${rest[1] ?? ''}`;
  if (kind === 'correction')
    return `${words[fieldOf('correction', key, 'name')] || say`a correction`}, ${rest.join(' ')}`;
  if (kind === 'check') return say`Checklist, ${key.replaceAll('-', ' ')}`;
  return `${field.charAt(0).toUpperCase()}${field.slice(1)}`;
}

function runWords(words: WeighingDraft, run: string): string {
  const level = runsOf(words, 'level').indexOf(run);
  return level >= 0 ? say`Run ${level + 1}` : say`Tilted run ${runsOf(words, 'tilted').indexOf(run) + 1}`;
}

export function problemWords(words: WeighingDraft, problem: WeighingProblem): string {
  const told = `${problem.words} ${problem.remedy}`;
  return problem.field === undefined || problem.list !== undefined
    ? told
    : `${fieldWords(words, problem.field)}: ${told}`;
}
