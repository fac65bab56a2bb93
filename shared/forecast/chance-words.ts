/**
 * How likely something is, as one says it (rule F2). A chance that rests on assumed uncertainties has no more than two figures; near the
 * ends what counts is how far from certain it is.
 */
import { say } from '#shared/words/say.ts';

export type Chance = { readonly share: string; readonly words: string };

export function chanceInWords(chance: number): Chance {
  return { share: `${shareOf(chance)}\u00a0%`, words: wordsFor(chance) };
}

function shareOf(chance: number): string {
  if (chance < 0.01) return 'under 1';
  if (chance > 0.99) return 'over 99';
  const step = chance < 0.1 || chance > 0.9 ? 1 : 5;
  return say`about ${Math.round((chance * 100) / step) * step}`;
}

const WORDS: readonly (readonly [below: number, words: string])[] = [
  [0.01, say`hardly to be expected`],
  [0.1, say`unlikely`],
  [0.4, say`less likely than not`],
  [0.6, say`as likely as not`],
  [0.9, say`more likely than not`],
  [0.99, say`likely`],
];

function wordsFor(chance: number): string {
  return WORDS.find(([below]) => chance < below)?.[1] ?? say`as good as certain`;
}
