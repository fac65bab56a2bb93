/** Parts in words (rules I1, I5, I6). */
import { describe, expect, it } from 'vitest';
import { numberKey, partFromWords } from '#shared/part/from-words.ts';
import { partIdOf } from '../ledger/make-entries.ts';
import { problemsOf, readerOf } from '../words/words.ts';

function read(words: Record<string, string>) {
  const reader = readerOf(words);
  const part = partFromWords(reader, { partId: partIdOf(1), parentPartId: undefined });
  return { part, problems: problemsOf(reader) };
}

describe('parts', () => {
  it('[I1] number and group are enough; the rest has plain defaults', () => {
    expect(read({ number: ' W-1 ', group: 'wing' }).part).toEqual({
      kind: 'part added',
      partId: partIdOf(1),
      number: 'W-1',
      name: 'W-1',
      group: 'wing',
      quantity: 1,
      process: 'other',
    });
  });

  it.each([
    ['Infusion', 'resin-infused'],
    ['resin infused', 'resin-infused'],
    ['hand lay-up', 'wet lay-up'],
    ['WET LAYUP', 'wet lay-up'],
    ['pre-preg', 'prepreg'],
    ['paint', 'finish'],
  ])('[I1] the process "%s" is known as %s', (word, process) => {
    expect(read({ number: 'W-1', group: 'wing', process: word }).part?.process).toBe(process);
  });

  it('[I2] all that is wrong with a part is told at once', () => {
    expect(read({ quantity: '0', side: 'up', process: 'magic' }).problems).toEqual([
      'number: missing',
      'group: missing',
      'quantity: not-a-count',
      'side: not-a-choice',
      'process: not-a-choice',
    ]);
  });

  it('[I6] one number in any case, spacing and composition is one part', () => {
    expect(numberKey(' Flügel-1 ')).toBe(numberKey('FLU\u0308GEL-1'));
    expect(numberKey('W-1')).not.toBe(numberKey('W-2'));
  });
});
