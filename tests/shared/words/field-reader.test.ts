/** Fields in words (rules I2, I5, L4, W2). */
import { describe, expect, it } from 'vitest';
import { Side } from '#shared/ledger/entry.ts';
import { problemsOf, readerOf } from './words.ts';

describe('fields', () => {
  it('[I2] every problem is gathered, none stops the reading', () => {
    const reader = readerOf({ mass: 'x', day: '03/04/2026', count: '0', side: 'up', need: ' ' });
    reader.mass('mass');
    reader.day('day');
    reader.count('count', 10);
    reader.choice('side', Side.options);
    reader.need('need');
    expect(problemsOf(reader)).toEqual([
      'mass: not-a-number',
      'day: not-a-day',
      'count: not-a-count',
      'side: not-a-choice',
      'need: missing',
    ]);
    expect(reader.answer('never')).toEqual({ ok: false, refusal: reader.problems });
  });

  it('[I2] a reader without problems answers its value, and without a value it is a bug', () => {
    expect(readerOf({}).answer(7)).toEqual({ ok: true, value: 7 });
    expect(() => readerOf({}).answer(undefined)).toThrow();
  });

  it('[L4] what was typed is kept under the name of its field', () => {
    const reader = readerOf({ mass: '4.10', x: '12 in', allowance: '24%' }, { units: { mass: 'lb' } });
    reader.mass('mass');
    reader.length('x');
    reader.share('allowance');
    expect(reader.typed).toEqual({ mass: '4.10 lb', x: '12 in', allowance: '24 %' });
  });

  it('[W2] the unit above a column holds for its own kind of quantity only', () => {
    const reader = readerOf({ mass: '4', x: '4' }, { units: { mass: 'mm', x: 'kg' } });
    expect([reader.mass('mass'), reader.length('x')]).toEqual([undefined, undefined]);
    expect(problemsOf(reader)).toEqual(['mass: unit-missing', 'x: unit-missing']);
  });

  it('[E1] an uncertainty may be a mass or a share of the estimate', () => {
    const reader = readerOf({ a: '50 g', b: '5 %', c: '5', d: '5' }, { units: { c: '%' } });
    expect(reader.massOrShareOf('a', 4)).toBe(0.05);
    expect(reader.massOrShareOf('b', 4)).toBe(0.2);
    expect(reader.massOrShareOf('c', 4)).toBe(0.2);
    expect(reader.massOrShareOf('b', undefined)).toBeUndefined();
    expect(reader.massOrShareOf('none', 4)).toBeUndefined();
    expect(reader.massOrShareOf('d', 4)).toBeUndefined();
    expect(problemsOf(reader)).toEqual(['d: unit-missing']);
  });

  it.each([
    ['3', [3]],
    ['1-4', [1, 2, 3, 4]],
    ['1 - 4', [1, 2, 3, 4]],
    ['1–3', [1, 2, 3]],
    ['4, 1; 2', [1, 2, 4]],
    ['1 3', [1, 3]],
    ['2,1-2', [1, 2]],
  ])('[W1] "%s" names pieces, each once', (text, pieces) => {
    expect(readerOf({ piece: text }).pieceNumbers('piece', 10)).toEqual(pieces);
  });

  it.each(['0', '4-1', '1-', '-3', 'all', '11', '1.5'])('[W1] "%s" names no pieces of ten', (text) => {
    const reader = readerOf({ piece: text });
    expect(reader.pieceNumbers('piece', 10)).toBeUndefined();
    expect(problemsOf(reader)).toEqual(['piece: not-piece-numbers']);
  });

  it.each(['2026-02-28', '2024-02-29', '2026-05-31T10:00:00Z', '2026-05-31 10:00'])('[L4] "%s" is a day', (text) => {
    expect(readerOf({ day: text }).day('day')).toBe(text.slice(0, 10));
  });

  it.each(['31.05.2026', '5/31/2026', '31-5-2026'])('[I5] the day "%s" reads only one way and is taken', (text) => {
    expect(readerOf({ day: text }).day('day')).toBe('2026-05-31');
    expect(readerOf({ day: '4.4.2026' }).day('day')).toBe('2026-04-04');
  });

  it.each([
    '2026-02-29',
    '2026-13-01',
    '2026-00-10',
    '03/04/2026',
    '31.31.2026',
    '0.5.2026',
    '5.31-2026',
    '05/31/26',
    '2026-5-1',
    '1899-12-31',
    'yesterday',
  ])('[I5] the day "%s" is refused, not guessed at', (text) => {
    const reader = readerOf({ day: text });
    expect(reader.day('day')).toBeUndefined();
    expect(problemsOf(reader)).toEqual(['day: not-a-day']);
  });

  it('[I1] a choice is known in any case and spacing and under its other spellings', () => {
    const side = (text: string) => readerOf({ side: text }).choice('side', Side.options, { lh: 'left' });
    expect([side('LEFT'), side(' left '), side('LH'), side('Centre')]).toEqual(['left', 'left', 'left', 'centre']);
    for (const text of ['constructor', 'toString', '__proto__', 'valueOf']) expect(side(text)).toBeUndefined();
  });

  it('[I5] a count is a whole number of pieces', () => {
    const count = (text: string) => {
      const reader = readerOf({ count: text });
      return reader.count('count', 100) ?? problemsOf(reader)[0];
    };
    expect(['4', '100', '1e1'].map(count)).toEqual([4, 100, 10]);
    for (const text of ['0', '-1', '1.5', '101', '1e9']) expect(count(text)).toBe('count: not-a-count');
    expect(count('4 pcs')).toBe('count: not-a-number');
    expect(count('1,000')).toBe('count: ambiguous-comma');
  });

  it('[I5] a text that cannot be kept is refused with the reason', () => {
    const reader = readerOf({ a: 'x'.repeat(61), b: 'a\0b', c: ' fine ' });
    expect([reader.text('a', 60), reader.text('b', 60), reader.text('c', 60)]).toEqual([undefined, undefined, 'fine']);
    expect(reader.problems.map(({ refusal }) => refusal)).toMatchObject([
      { code: 'text-refused', why: 'must not be longer than 60 characters' },
      { code: 'text-refused', why: expect.stringContaining('control character') },
    ]);
  });
});
