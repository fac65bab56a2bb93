/**
 * How likely something is, as one says it (rule F2). A chance that rests on assumed uncertainties has no more than two figures; near the
 * ends what counts is how far from certain it is.
 */

export type Chance = { readonly share: string; readonly words: string };

export function chanceInWords(chance: number): Chance {
  return { share: `${shareOf(chance)}\u00a0%`, words: wordsFor(chance) };
}

function shareOf(chance: number): string {
  if (chance < 0.01) return 'under 1';
  if (chance > 0.99) return 'over 99';
  const step = chance < 0.1 || chance > 0.9 ? 1 : 5;
  return `about ${Math.round((chance * 100) / step) * step}`;
}

const WORDS: readonly (readonly [below: number, words: string])[] = [
  [0.01, 'hardly to be expected'],
  [0.1, 'unlikely'],
  [0.4, 'less likely than not'],
  [0.6, 'as likely as not'],
  [0.9, 'more likely than not'],
  [0.99, 'likely'],
];

function wordsFor(chance: number): string {
  return WORDS.find(([below]) => chance < below)?.[1] ?? 'as good as certain';
}
