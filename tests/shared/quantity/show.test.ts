/** Numbers as people read them (rule W2). The rounding to even of NIST SP 811 is in `tests/published`. */
import { describe, expect, it } from 'vitest';
import {
  showFixed,
  showLength,
  showLengthWithStd,
  showMass,
  showMassWithStd,
  showPercent,
} from '#shared/quantity/show.ts';

describe('show', () => {
  it.each([
    ['kg', '4.536'],
    ['g', '4,536'],
    ['lb', '10.00'],
    ['oz', '160.0'],
  ] as const)('[W2] ten pounds are shown in %s as %s', (unit, shown) => {
    expect(showMass(4.5359237, unit)).toBe(shown);
  });

  it.each([
    ['m', '2.540'],
    ['cm', '254.0'],
    ['mm', '2,540'],
    ['in', '100.00'],
    ['ft', '8.333'],
  ] as const)('[W2] a hundred inches are shown in %s as %s', (unit, shown) => {
    expect(showLength(2.54, unit)).toBe(shown);
  });

  it('[W2] a sign is shown on request, and zero has none', () => {
    expect([0.5, 0, -0.0004, -0.5].map((kg) => showMass(kg, 'kg', { sign: true }))).toEqual([
      '+0.500',
      '0.000',
      '0.000',
      '-0.500',
    ]);
    expect(showFixed(-0.0001, 2)).toBe('0.00');
    expect(showPercent(-0.05)).toBe('-5.0');
  });

  it('[W2] half a gram goes to the even gram, in kilograms as in grams', () => {
    expect([2.0005, 2.0015, 0.0005].map((kg) => showMass(kg, 'kg'))).toEqual(['2.000', '2.002', '0.000']);
    for (let grams = 0; grams < 3_000; grams += 1) {
      const kg = Number(`${grams}.5e-3`);
      const even = grams % 2 === 0 ? grams : grams + 1;
      expect(showMass(kg, 'g').replace(',', '')).toBe(String(even));
    }
  });

  it('[W2] a per cent is rounded from its digits, not from the binary product', () => {
    for (let hundredths = 5; hundredths < 10_000; hundredths += 10) {
      const tenths = (hundredths - 5) / 10;
      const even = tenths % 2 === 0 ? tenths : tenths + 1;
      expect(showPercent(Number(`${hundredths}e-4`))).toBe((even / 10).toFixed(1));
    }
  });

  it('[U3] a figure is shown to the decimal of the second digit of its uncertainty', () => {
    const shown = (massKg: number, stdKg: number, unit: 'kg' | 'g' | 'lb' = 'kg') =>
      showMassWithStd(massKg, stdKg, unit);
    expect(shown(371.4267, 0.8512)).toEqual({ value: '371.43', std: '0.85' });
    expect(shown(371.4267, 2.14)).toEqual({ value: '371.4', std: '2.1' });
    expect(shown(371.4267, 12.3)).toEqual({ value: '371', std: '12' });
    expect(shown(371.4267, 123)).toEqual({ value: '371', std: '123' });
    expect(shown(0.0123456, 0.0000123)).toEqual({ value: '0.012346', std: '0.000012' });
    // 0.0996 is 0.10 with two digits, and one decimal less would do.
    expect(shown(1.23456, 0.0996)).toEqual({ value: '1.23', std: '0.10' });
    expect(shown(1.23456, 0.00123, 'g')).toEqual({ value: '1,234.6', std: '1.2' });
    expect(showMassWithStd(-0.5, 0.2, 'kg', { sign: true })).toEqual({ value: '-0.50', std: '0.20' });
  });

  it('[U3] without an uncertainty a figure keeps the usual decimals and says none', () => {
    expect(showMassWithStd(371.4267, 0, 'kg')).toEqual({ value: '371.427', std: undefined });
    expect(showLengthWithStd(2.10449, undefined, 'm')).toEqual({ value: '2.104', std: undefined });
    expect(showLengthWithStd(2.10449, 0.0123, 'm')).toEqual({ value: '2.104', std: '0.012' });
    expect(showLengthWithStd(2.10449, 0.0123, 'mm')).toEqual({ value: '2,104', std: '12' });
  });
});
