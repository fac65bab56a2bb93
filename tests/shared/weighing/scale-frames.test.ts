/** Lines out of the pieces in which a scale's signs arrive (rule W13). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { afterSilence, type Frames, framesIn, JOINED, lettersOf, withChunk } from '#shared/weighing/scale-frames.ts';

const FRESH = afterSilence(JOINED);

function linesOf(chunks: readonly string[], from: Frames = FRESH): readonly string[] {
  let frames = from;
  return chunks.flatMap((chunk) => {
    const step = withChunk(frames, chunk);
    frames = step.frames;
    return step.lines;
  });
}

describe('frames', () => {
  it.each([
    [['1 kg\r\n2 kg\r\n'], ['1 kg', '2 kg']],
    [
      ['1 kg\r', '\n2', ' kg\r\n'],
      ['1 kg', '2 kg'],
    ],
    [['1 kg\n2 kg\r3 kg\r\n'], ['1 kg', '2 kg', '3 kg']],
    [['\u00021 kg\u0003\u00022 kg\u0003'], ['1 kg', '2 kg']],
    [['\u00021 kg\u000355\u00022 kg\u00037\r\n3 kg\r'], ['1 kg', '2 kg', '3 kg']],
    [['\u00021 k', '\u00022 kg\u0003'], ['2 kg']],
    [['\r\n \r\n\r\n'], []],
    [['1 kg'], []],
    [['1 kg\u00032 kg\u0003'], ['1 kg', '2 kg']],
  ])('[W13] %j make the lines %j', (chunks, lines) => {
    expect(linesOf(chunks)).toEqual(lines);
  });

  it('[W13] the rest of a line that was under way when listening began is no line', () => {
    expect(linesOf(['345 kg\r\n12.345 kg\r\n'], JOINED)).toEqual(['12.345 kg']);
    expect(linesOf(['345 kg', '\u000212.345 kg\u0003'], JOINED)).toEqual(['12.345 kg']);
  });

  it('[W13] silence before the first sign says that it begins a line; silence amid a line does not end it', () => {
    const amid = withChunk(FRESH, '12.3').frames;
    expect(afterSilence(amid)).toBe(amid);
    expect(linesOf(['45 kg\r\n'], afterSilence(amid))).toEqual(['12.345 kg']);
    const joinedAmid = withChunk(JOINED, '2.3').frames;
    expect(linesOf(['45 kg\r\n'], afterSilence(joinedAmid))).toEqual([]);
  });

  it('[W13] what is longer than any line is dropped up to its end', () => {
    expect(linesOf(['x'.repeat(119), '1.5 kg\r\n2 kg\r\n'])).toEqual(['2 kg']);
  });

  it('[W13] a text that is there as a whole needs no end', () => {
    expect(framesIn('1 kg\r\n2 kg')).toEqual(['1 kg', '2 kg']);
  });

  it('[W13] bytes are kept one by one, those that are no letters as well', () => {
    expect(lettersOf(new Uint8Array([0x31, 0xb2, 0x0d]))).toBe('1\u00b2\r');
  });

  it('[W13] however a stream is cut into pieces, its lines are the same', () => {
    const signs = fc.array(fc.constantFrom('1', '.', ' kg', '\r', '\n', '\u0002', '\u0003', '7'), { maxLength: 60 });
    fc.assert(
      fc.property(signs, fc.array(fc.nat(8), { maxLength: 20 }), fc.boolean(), (all, cuts, isFresh) => {
        const text = all.join('');
        const from = isFresh ? FRESH : JOINED;

        const ends = cuts.map((_, at) => cuts.slice(0, at + 1).reduce((sum, length) => sum + length, 0));
        const pieces = [...ends, text.length].map((end, at) => text.slice(ends[at - 1] ?? 0, end));
        expect(linesOf(pieces, from)).toEqual(linesOf([text], from));
      }),
      { numRuns: 1000 },
    );
  });
});
