/** Lines as scales send them (rule W13). The shapes are common practice, no source; the figures are invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { explain } from '#shared/problem/registry.ts';
import { MASS_UNITS, massUnitOf } from '#shared/quantity/units.ts';
import { readScaleLine, readScaleText, type ScaleReading } from '#shared/weighing/scale-line.ts';

type Read = ReturnType<typeof readScaleLine>;

/** `12.345 kg, stable, gross`, or the code of the refusal. */
function told(read: Read): string {
  if (!read.ok) return read.refusal.code;
  const { value, digits, unit, isStable, load } = read.value;
  expect(value).toBe(Number(digits));
  const rest = isStable === undefined ? [] : [isStable ? 'stable' : 'not stable'];
  return [`${digits} ${unit ?? 'without a unit'}`, ...rest, ...(load === undefined ? [] : [load])].join(', ');
}

describe('one line', () => {
  it.each([
    ['ST,GS,+  12.345kg', '12.345 kg, stable, gross'],
    ['US,NT,-0.12 lb', '-0.12 lb, not stable, net'],
    ['US,NT,-  0.12 lb', '-0.12 lb, not stable, net'],
    ['ST,TR,+0001.20 kg', '1.20 kg, stable, tare'],
    ['ST,+00123.45  g', '123.45 g, stable'],
    ['+0012.34 g', '12.34 g'],
    ['+    12.34 g  ', '12.34 g'],
    ['-     0.05 oz', '-0.05 oz'],
    ['N     12.34 g  ', '12.34 g, net'],
    ['G     12.34 kg', '12.34 kg, gross'],
    ['T 12.34 kg', '12.34 kg, tare'],
    ['G +    12.34 kg', '12.34 kg, gross'],
    ['  12.34 kg  M', '12.34 kg, not stable'],
    ['12.34 kg G', '12.34 kg, gross'],
    ['12.34 kg ST', '12.34 kg, stable'],
    ['12.34 kg ?', '12.34 kg, not stable'],
    ['12.34 g G', '12.34 g, gross'],
    ['S S     12.34 g', '12.34 g, stable'],
    ['S D     12.34 g', '12.34 g, not stable'],
    ['Gross: 12.34 kg', '12.34 kg, gross'],
    ['GROSS    12.34 KG', '12.34 kg, gross'],
    ['Net wt = 12.34 lb', '12.34 lb, net'],
    ['G=12.34 kg', '12.34 kg, gross'],
    ['STABLE 12.34 kg', '12.34 kg, stable'],
    ['12.34kg', '12.34 kg'],
    ['12,34 kg', '12.34 kg'],
    ['0,345 kg', '0.345 kg'],
    ['0012,345 kg', '12.345 kg'],
    ['ST;NT;0012,34;kg', '12.34 kg, stable, net'],
    ['ST,GS,+0012.34,kg', '12.34 kg, stable, gross'],
    ['kg 12.34', '12.34 kg'],
    ['.5 kg', '0.5 kg'],
    ['1234. g', '1234 g'],
    ['0.00 kg', '0.00 kg'],
    ['- 0.00 kg', '0.00 kg'],
    ['\u0002ST,GS,   12.34kg\u0003', '12.34 kg, stable, gross'],
    ['12.34\u00a0kg', '12.34 kg'],
    ['\u221212.34 kg', '-12.34 kg'],
    ['ST\tGS\t12.34\tkg', '12.34 kg, stable, gross'],
    ['20 kilograms', '20 kg'],
  ])('[W13] %j is read as %s', (line, what) => {
    expect(told(readScaleLine(line))).toBe(what);
  });

  it.each([
    ['12.34', '12.34 without a unit'],
    ['ST,GS,+  12.345', '12.345 without a unit, stable, gross'],
    ['N     12.34', '12.34 without a unit, net'],
    ['     12.34 ?', '12.34 without a unit, not stable'],
    ['0000.00', '0.00 without a unit'],
  ])('[W13] %j says that it gives no unit, and none is put in its place', (line, what) => {
    expect(told(readScaleLine(line))).toBe(what);
  });

  it.each([
    ['OL', 'scale-over-range'],
    ['OL,+9999999E+19', 'scale-over-range'],
    ['ST,OL,+  12.345kg', 'scale-over-range'],
    ['OVER LOAD', 'scale-over-range'],
    ['UL,-0000.00 kg', 'scale-under-range'],
    ['Err 3', 'scale-error'],
    ['Err3', 'scale-error'],
    ['CAL 12.34 kg', 'scale-error'],
    ['------', 'scale-without-value'],
    ['------ kg', 'scale-without-value'],
    ['ST,GS,------kg', 'scale-without-value'],
    ['______', 'scale-without-value'],
    ['S +', 'scale-without-value'],
    ['', 'scale-without-value'],
    ['kg', 'scale-without-value'],
    ['12.34 kg 1.20 kg', 'scale-two-numbers'],
    ['1 234.5 kg', 'scale-two-numbers'],
    ['1 12.34 kg', 'scale-two-numbers'],
    ['12:34 kg', 'scale-two-numbers'],
    ['12.34-5 kg', 'scale-two-numbers'],
    ['12\u000034 kg', 'scale-two-numbers'],
    ['12 lb 3.5 oz', 'scale-two-numbers'],
    ['12.34 kg lb', 'scale-two-units'],
    ['lb 12.34 kg', 'scale-two-units'],
    ['12.34 G', 'scale-unit-unclear'],
    ['12.34 N', 'scale-unit-unclear'],
    ['12.34 T', 'scale-unit-unclear'],
    ['12.34 t', 'scale-unit-unclear'],
    ['12.34 st', 'scale-unit-unclear'],
    ['g 12.34', 'scale-unit-unclear'],
    ['12.34 m g', 'scale-unit-unclear'],
    ['12.34 mg', 'scale-unit-unknown'],
    ['12.34 oz t', 'scale-unit-unknown'],
    ['12.34 ozt', 'scale-unit-unknown'],
    ['12.34 lb t', 'scale-unit-unknown'],
    ['12.34 kgf', 'scale-unit-unknown'],
    ['12.34 %', 'scale-unit-unknown'],
    ['12 pcs', 'scale-unit-unknown'],
    ['12.34 ct', 'scale-unit-unknown'],
    ['1.2E3 kg', 'scale-unit-unclear'],
    ['1.2E3', 'scale-unit-unknown'],
    ['12.3[4] g', 'scale-two-numbers'],
    ['12.3[ g', 'scale-unit-unclear'],
    ['12.34- kg', 'scale-unit-unclear'],
    ['E1 12.34 kg', 'scale-word-unknown'],
    ['GS12.34 kg', 'scale-word-unknown'],
    ['NOT STABLE 12.34 kg', 'scale-word-unknown'],
    ['=0021.30 kg', 'scale-word-unknown'],
    ['12.34 kg/m', 'scale-word-unknown'],
    ['12.34 kg *', 'scale-word-unknown'],
    ['GROSS NET 12.34 kg', 'scale-marks-disagree'],
    ['1.2.3 kg', 'scale-number-unreadable'],
    ['1,234.5 kg', 'scale-number-unreadable'],
    ['012345000000', 'scale-number-unreadable'],
    ['12,345 kg', 'scale-comma-unclear'],
    ['+ 12,345 kg', 'scale-comma-unclear'],
    ['ST,GS,+0012,34 kg', 'scale-comma-unclear'],
    ['1,12 kg, net', 'scale-comma-unclear'],
    ['\uff11\uff12 kg', 'scale-without-value'],
    [`${' '.repeat(200)}12 kg`, 'scale-line-too-long'],
  ])('[W13] %j is refused: %s', (line, code) => {
    const read = readScaleLine(line);
    expect(told(read)).toBe(code);
    if (!read.ok) expect(explain(read.refusal).remedy).toMatch(/^[A-Z].*\.$/s);
  });

  it('[W13] a comma that could be read two ways is the decimal sign once somebody has said so', () => {
    expect(told(readScaleLine('ST,GS,+  12,345kg', { decimalComma: true }))).toBe('12.345 kg, stable, gross');
    expect(told(readScaleLine('1,234.5 kg', { decimalComma: true }))).toBe('scale-number-unreadable');
  });
});

describe('a text', () => {
  it.each([
    ['ST,GS,+  12.345kg\r\n', '12.345 kg, stable, gross'],
    ['\u0002  12.34 kg\u00037', '12.34 kg'],
    ['12.34 kg\r\n12.34 kg\r\n', '12.34 kg'],
    ['\r\n\r\n', 'scale-without-value'],
    ['12.34 kg\r\n12.35 kg', 'scale-lines-differ'],
    ['12.34 kg\r\n12.34', 'scale-lines-differ'],
    [`${'x'.repeat(130)}\r\n12 kg`, 'scale-line-too-long'],
  ])('[W13] %j that was pasted is %s', (text, what) => {
    expect(told(readScaleText(text))).toBe(what);
  });
});

/** A line in one of the shapes, with what it says. */
const shaped = fc
  .record({
    whole: fc.integer({ min: 0, max: 9_999 }),
    fraction: fc.stringMatching(/^\d{0,3}$/),
    zeros: fc.integer({ min: 0, max: 2 }),
    blanks: fc.integer({ min: 0, max: 5 }),
    sign: fc.constantFrom('', '+', '-'),
    unit: fc.constantFrom('kg', 'g', 'lb', 'oz', 'KG', 'Lb', ''),
    head: fc.constantFrom('', 'ST,GS,', 'US,NT,', 'N ', 'G  ', 'Gross: ', 'S S '),
    tail: fc.constantFrom('', ' ', '\r\n', '\u0003'),
  })
  .map(({ whole, fraction, zeros, blanks, sign, unit, head, tail }) => {
    const number = `${'0'.repeat(zeros)}${whole}${fraction === '' ? '' : `.${fraction}`}`;
    return { line: `${head}${sign}${' '.repeat(blanks)}${number} ${unit}${tail}`, number, sign, unit };
  });

const LETTERS = [
  '0',
  '1',
  '9',
  '.',
  ',',
  '-',
  '+',
  ' ',
  'k',
  'g',
  'l',
  'b',
  'o',
  'z',
  'G',
  'N',
  'S',
  'T',
  'U',
  'E',
  '?',
  '=',
  '/',
  '\u0002',
  '\u0003',
  '\r',
  'µ',
  '%',
];
const mutation = fc.record({
  what: fc.constantFrom('drop' as const, 'put' as const, 'change' as const, 'double' as const),
  at: fc.nat(60),
  letter: fc.oneof(fc.constantFrom(...LETTERS), fc.string({ minLength: 1, maxLength: 1, unit: 'binary' })),
});

function mutated(line: string, { what, at: place, letter }: { what: string; at: number; letter: string }): string {
  const at = place % (line.length + 1);
  const [head, one, tail] = [line.slice(0, at), line.slice(at, at + 1), line.slice(at + 1)];
  if (what === 'drop') return head + tail;
  if (what === 'put') return head + letter + one + tail;
  return what === 'double' ? head + one + one + tail : head + letter + tail;
}

/** By other means than the parser's: the digits stand in the text with no digit, point or comma of the same number left out. */
function standsIn(text: string, { digits, unit }: ScaleReading): boolean {
  const bare = (number: string) =>
    number
      .replace(',', '.')
      .replace(/^0+(?=\d)/, '')
      .replace(/^\./, '0.')
      .replace(/\.$/, '');
  const numbers = (text.match(/[\d.,]*\d[\d.,]*/g) ?? []).map((one) => bare(one.replace(/^,+|,+$/g, '')));
  const words = text.match(/\p{L}+/gu) ?? [];
  const isNumber = numbers.length > 0 && numbers.every((one) => one === digits.replace('-', ''));
  const isNegative = /[-−][ \p{Cc}\p{Zs}]*[\d.]/u.test(text);
  const isUnit =
    unit === undefined
      ? !words.some((word) => word !== 'G' && word !== 'g' && massUnitOf(word) !== undefined)
      : words.some((word) => massUnitOf(word) === unit);
  return isNumber && isUnit && (digits.startsWith('-') === isNegative || Number(digits) === 0);
}

describe('lines gone wrong', () => {
  it('[W13] a line in one of the shapes is read as it was made', () => {
    fc.assert(
      fc.property(shaped, ({ line, number, sign, unit }) => {
        const read = readScaleText(line);
        // `g` alone is a unit behind its number, as every other one.
        expect(read.ok && read.value.unit).toBe(unit === '' ? undefined : massUnitOf(unit));
        expect(read.ok && read.value.value).toBe(
          Number(number) === 0 ? 0 : Number(`${sign === '-' ? '-' : ''}${number}`),
        );
      }),
      { numRuns: 500 },
    );
  });

  it('[W13] whatever happens to a line, it never gives NaN, a unit or a number that does not stand in it', () => {
    fc.assert(
      fc.property(shaped, fc.array(mutation, { minLength: 1, maxLength: 3 }), ({ line }, mutations) => {
        const text = mutations.reduce(mutated, line).replace(/[\r\n]+$/, '');
        const read = readScaleLine(text);
        if (!read.ok) return;
        expect(Number.isFinite(read.value.value)).toBe(true);
        expect(standsIn(text, read.value), JSON.stringify([text, read.value])).toBe(true);
      }),
      { numRuns: 5000 },
    );
  });

  it('[W13] no text at all makes it throw, and a unit is one of those that are known', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 60, unit: 'binary' }), (text) => {
        const read = readScaleText(text);
        if (read.ok) expect([undefined, ...MASS_UNITS]).toContain(read.value.unit);
        else expect(explain(read.refusal).words.length).toBeGreaterThan(0);
      }),
      { numRuns: 2000 },
    );
  });

  it('[W13] one line says the same whatever was read before it', () => {
    const before = told(readScaleLine('5.0 kg'));
    expect(told(readScaleLine('5.0'))).toBe('5.0 without a unit');
    expect(told(readScaleLine('5.0 kg'))).toBe(before);
  });
});
