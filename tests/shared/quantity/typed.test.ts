/** Quantities as people type them (rules W2, I5, L4). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  readArea,
  readArealWeight,
  readDensity,
  readLength,
  readMass,
  readNumber,
  readShare,
  readTemperature,
  readVolume,
} from '#shared/quantity/typed.ts';
import { LENGTH_UNITS, lengthUnitOf, MASS_UNIT_KG, MASS_UNITS, massUnitOf } from '#shared/quantity/units.ts';

type Read = ReturnType<typeof readMass>;
const siOf = (read: Read) => (read.ok ? read.value.si : read.refusal.code);

describe('units', () => {
  it.each([
    ['4.12 kg', 4.12],
    ['4120 g', 4.12],
    ['4120g', 4.12],
    ['10 lb', 4.5359237],
    ['10 Lbs.', 4.5359237],
    ['16 oz', 0.45359237],
    ['1,5 kg', 1.5],
    ['.5 kg', 0.5],
    ['5. kg', 5],
    ['1.2e3 g', 1.2],
    ['+2 kg', 2],
    ['0 kg', 0],
  ])('[W2] %s is read with its exact factor', (text, kg) => {
    expect(siOf(readMass(text))).toBe(kg);
  });

  it.each([
    ['2540 mm', 2.54],
    ['100 in', 2.54],
    ['100"', 2.54],
    ['10 ft', 3.048],
    ['−12,5 cm', -0.125],
    ['-0.35 m', -0.35],
  ])('[W2] %s is a station in metres', (text, metres) => {
    expect(siOf(readLength(text))).toBe(metres);
  });

  it.each([
    [readArea, ['0.82 m²', '0.82 m2', '0.82m^2', '0.82 sq m', '8200 cm²', '820000 mm2'], 0.82],
    [readArea, ['100 in²', '100 sq in'], 0.064516],
    [readArea, ['10 ft^2', '10 sq ft'], 0.9290304],
    [readArealWeight, ['200 g/m²', '200 g / m2', '200 gsm', '0.2 kg/m²', '200 g per m2'], 0.2],
    [readDensity, ['1150 kg/m³', '1150 kg/m^3', '1.15 g/cm³', '1.15 g/cc', '1.15 kg/L'], 1150],
    [readVolume, ['90 L', '90 l', '90 litres', '90 Liters'], 0.09],
    [readVolume, ['10 US gal', '10 us gallons', '10 U.S. gal.', '10 USG'], 0.03785411784],
  ] as const)('[W2] %o reads %o as one quantity', (read, texts, si) => {
    for (const text of texts) expect(siOf(read(text))).toBe(si);
  });

  it('[W2] ounces by the square yard and pounds by the cubic foot have exact factors', () => {
    // 28.349523125 g/0.83612736 m²; 0.45359237 kg/0.028316846592 m³.
    expect(siOf(readArealWeight('1 oz/yd²'))).toBeCloseTo(0.028349523125 / 0.83612736, 15);
    expect(siOf(readDensity('1 lb/ft3'))).toBeCloseTo(0.45359237 / 0.028316846592, 12);
  });

  it('[W2] what is no area, areal weight or density is refused', () => {
    for (const read of [readArea, readArealWeight, readDensity]) {
      expect(siOf(read('5'))).toBe('unit-missing');
      expect(siOf(read('5 kg'))).toBe('unit-unknown');
      expect(siOf(read('5 constructor'))).toBe('unit-unknown');
      expect(siOf(read(`5${'0'.repeat(90)} m²`))).toBe('number-too-long');
    }
    // A bare gallon may be the imperial one.
    for (const text of ['10 gal', '10 gallons', '10 imp gal', '10 kg'])
      expect(siOf(readVolume(text))).toBe('unit-unknown');
    expect(siOf(readVolume('10'))).toBe('unit-missing');
    expect(siOf(readVolume('-1 L'))).toBe('out-of-range');
    expect(siOf(readVolume('100001 L'))).toBe('out-of-range');
    expect(siOf(readArea('-1 m²'))).toBe('out-of-range');
    expect(siOf(readArealWeight('101 kg/m²'))).toBe('out-of-range');
    expect(siOf(readDensity('26 g/cm³'))).toBe('out-of-range');
  });

  it('[W2] pounds and ounces add up', () => {
    const kg = 12 * 0.45359237 + 3.5 * 0.028349523125;
    for (const text of ['12 lb 3.5 oz', '12lb3.5oz', '12 pounds, 3.5 ounces', '12 lbs. 3.5 oz.'])
      expect(siOf(readMass(text))).toBeCloseTo(kg, 14);
    for (const text of ['12 lb 16 oz', '-0.5 lb 15 oz', '1 lb -3 oz'])
      expect(siOf(readMass(text))).toBe('out-of-range');
    expect(siOf(readMass('twelve lb 3 oz'))).toBe('not-a-number');
  });

  it('[W2] a unit is never guessed', () => {
    expect(readMass('4.12')).toEqual({
      ok: false,
      refusal: { code: 'unit-missing', text: '4.12', known: ['kg', 'g', 'lb', 'oz'] },
    });
    expect(siOf(readMass('4.12 stone'))).toBe('unit-unknown');
    expect(siOf(readMass('4.12 m'))).toBe('unit-unknown');
    expect(siOf(readLength('4.12 kg'))).toBe('unit-unknown');
    for (const word of ['constructor', 'toString', '__proto__']) expect(massUnitOf(word)).toBeUndefined();
  });

  it('[W2] the unit above a column counts where a cell brings none, and the cell counts where it does', () => {
    expect(siOf(readMass('5', { unit: 'lb' }))).toBe(2.26796185);
    expect(siOf(readMass('5 kg', { unit: 'lb' }))).toBe(5);
  });

  it('[W2] every unit is its own spelling', () => {
    expect(MASS_UNITS.map(massUnitOf)).toEqual(MASS_UNITS);
    expect(LENGTH_UNITS.map(lengthUnitOf)).toEqual(LENGTH_UNITS);
  });

  it('[W2] the product of number and factor carries no binary dust', () => {
    expect(siOf(readLength('6.35 mm'))).toBe(0.00635);
    const grams = fc.property(fc.integer({ min: 0, max: 999_999_999 }), (thousandths) => {
      expect(siOf(readMass(`${thousandths / 1000} g`))).toBe(Number(`${thousandths}e-6`));
    });
    fc.assert(grams, { seed: 20_260_101, numRuns: 300 });
  });
});

describe('what was typed', () => {
  it('[L4] the number and its unit stay as typed', () => {
    const read = readMass(' 4.120 KG ');
    expect(read).toMatchObject({ ok: true, value: { typed: '4.120 kg', si: 4.12 } });
    expect(readMass('5', { unit: 'lb' })).toMatchObject({ value: { typed: '5 lb' } });
    expect(readShare('24')).toMatchObject({ value: { typed: '24 %', si: 0.24 } });
  });

  it.each([
    ['4.12 kg', 0.01],
    ['4 kg', 1],
    ['4.120 kg', 0.001],
    ['412 g', 0.001],
    ['1.5e-3 kg', 0.0001],
    ['2e2 kg', 100],
    ['0e400 kg', 1],
    ['0.00 kg', 0.01],
    ['1 lb 2.5 oz', 0.1 * MASS_UNIT_KG.oz],
  ])('[U1] the last digit of %s tells what the display could tell apart', (text, lastDigitSi) => {
    const read = readMass(text);
    expect(read.ok && read.value.lastDigitSi).toBeCloseTo(lastDigitSi, 15);
  });
});

describe('doubt', () => {
  it.each(['1,234 kg', '12,500 kg', '-1,234 kg'])('[I5] %s can be read two ways and is refused', (text) => {
    expect(siOf(readMass(text))).toBe('ambiguous-comma');
  });

  it.each([
    ['1,234 kg', 1.234],
    ['0,5 kg', 0.5],
  ])('[I5] %s is plain where the file writes decimals with a comma', (text, kg) => {
    expect(siOf(readMass(text, { decimalComma: true }))).toBe(kg);
  });

  it.each([
    ['12,5 kg', 12.5],
    ['0,234 kg', 0.234],
    ['1234,567 kg', 1234.567],
    ['1,2345 kg', 1.2345],
  ])('[I5] %s cannot be read two ways', (text, kg) => {
    expect(siOf(readMass(text))).toBe(kg);
  });

  it.each([
    'NaN kg',
    'Infinity kg',
    '-Infinity kg',
    '1e400 kg',
    '',
    'kg',
    '1 234 kg',
    "1'234 kg",
    '1.2.3 kg',
    '1,234,567 kg',
    '--1 kg',
    '- 1 kg',
    '1,5e3 kg',
  ])('[I5] "%s" is no number', (text) => {
    expect(siOf(readMass(text))).toBe('not-a-number');
  });

  it('[I5] masses and stations beyond all aircraft are refused', () => {
    expect(siOf(readMass('-0.001 kg'))).toBe('out-of-range');
    expect(siOf(readMass('1000001 kg'))).toBe('out-of-range');
    expect(siOf(readMass('1000000 kg'))).toBe(1e6);
    expect(siOf(readLength('1001 m'))).toBe('out-of-range');
    expect(siOf(readLength('-1000 m'))).toBe(-1000);
  });

  it('[I5] a share that could be a fraction is refused, with its sign or its heading it is taken', () => {
    expect(siOf(readShare('0.24'))).toBe('ambiguous-share');
    expect(siOf(readShare('0.24 %'))).toBe(0.0024);
    expect(siOf(readShare('0.24', { unit: '%' }))).toBe(0.0024);
    expect(siOf(readShare('24'))).toBe(0.24);
    expect(siOf(readShare('0'))).toBe(0);
    expect(siOf(readShare('501 %'))).toBe('out-of-range');
    expect(siOf(readShare('a lot'))).toBe('not-a-number');
  });

  it('[I5] no text at all is read as a number that is not finite', () => {
    const any = fc.property(fc.string({ unit: fc.constantFrom(..."0123456789.,eE+-− 'kgNaInfity") }), (text) => {
      const read = readNumber(text, false);
      if (!read.ok) return;
      expect(Number.isFinite(read.value.number)).toBe(true);
      expect(Object.is(read.value.number, -0)).toBe(false);
      if (Math.abs(read.value.number) <= 1e6) expect(read.value.lastDigit).toBeLessThanOrEqual(1e6);
    });
    fc.assert(any, { seed: 20_260_101, numRuns: 1_000 });
  });
});

describe('temperature', () => {
  it.each([
    ['21.5 °C', 21.5, '21.5 °C'],
    ['21.5C', 21.5, '21.5 °C'],
    ['70 deg F', 21.1111111111111, '70 °F'],
    ['-40 degrees Fahrenheit', -40, '-40 °F'],
    ['0 celsius', 0, '0 °C'],
    ['21,5 °C', 21.5, '21,5 °C'],
  ])('[W2] "%s" is %d degrees Celsius', (text, celsius, typed) => {
    expect(readTemperature(text)).toMatchObject({ ok: true, value: { si: celsius, typed } });
  });

  it.each([
    ['21', 'unit-missing'],
    ['21 °', 'unit-unknown'],
    ['294 K', 'unit-unknown'],
    ['°C', 'not-a-number'],
    ['', 'not-a-number'],
    ['NaN °C', 'not-a-number'],
    ['1e3 °C', 'out-of-range'],
    ['-91 °C', 'out-of-range'],
  ])('[W2] "%s" is refused: %s', (text, code) => {
    expect(readTemperature(text)).toMatchObject({ ok: false, refusal: { code } });
  });

  it('[W2] the unit above a column holds where a cell has none', () => {
    expect(readTemperature('50', { unit: '°F' })).toMatchObject({ value: { si: 10, typed: '50 °F' } });
    expect(readTemperature('10 C', { unit: '°F' })).toMatchObject({ value: { si: 10, typed: '10 °C' } });
  });
});
