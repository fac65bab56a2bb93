/** Numbers of entries as a person would say them; of many, the last ones. */
import { say } from '#shared/words/say.ts';

const MOST_NAMED = 12;

export function entriesInWords(seqs: readonly number[]): string {
  const named = seqs.slice(-MOST_NAMED);
  const rest = seqs.length - named.length;
  const words = `${seqs.length === 1 ? say`entry` : say`entries`} ${named.join(', ')}`;
  return rest > 0 ? say`${words} and ${rest} before them` : words;
}
