/** Weighings: net, uncertainty and words (rules W1, W2, U1, L4). */
import { describe, expect, it } from 'vitest';
import { weighingFromWords } from '#shared/weighing/from-words.ts';
import { meanNetKg, pieceNetKg, pieceNetStdKg } from '#shared/weighing/net.ts';
import { rowDigitKg } from '#shared/weighing/on-scale.ts';
import { partIdOf, weighingOf } from '../ledger/make-entries.ts';
import { problemsOf, readerOf } from '../words/words.ts';

function read(words: Record<string, string>, quantity = 1) {
  const reader = readerOf({ condition: 'trimmed', ...words });
  const weighing = weighingFromWords(reader, { partId: partIdOf(1), number: 'P-1', quantity });
  return { weighing, problems: problemsOf(reader) };
}

describe('net', () => {
  it('[W1] net is gross less tare, the mean of several readings', () => {
    expect(meanNetKg([{ grossKg: 5, tareKg: 1 }])).toBe(4);
    expect(
      meanNetKg([
        { grossKg: 5, tareKg: 1 },
        { grossKg: 5.5, tareKg: 0.5 },
      ]),
    ).toBe(4.5);
  });

  it('[W1] a count of pieces divides a lot', () => {
    expect(pieceNetKg(weighingOf(1, 6, { pieces: [1, 2, 3, 4] }))).toBe(1.5);
  });
});

describe('uncertainty', () => {
  const still = { grossResolutionKg: 0, tareResolutionKg: 0 };
  const reading = (grossKg: number) => ({ grossKg, tareKg: 0, typed: {} });

  it('[U1] gross and tare each carry the resolution over the root of twelve', () => {
    const weighing = weighingOf(1, 4, { grossResolutionKg: 0.03, tareResolutionKg: 0.04 });
    expect(pieceNetStdKg(weighing)).toBeCloseTo(0.05 / Math.sqrt(12), 15);
    expect(pieceNetStdKg({ ...weighing, tareResolutionKg: 0 })).toBeCloseTo(0.03 / Math.sqrt(12), 15);
  });

  it('[U1] readings that scatter by s add s over the root of their number', () => {
    const readings = [3.9, 4, 4.1].map(reading);
    expect(pieceNetStdKg(weighingOf(1, 4, { ...still, readings }))).toBeCloseTo(0.1 / Math.sqrt(3), 12);
    const both = weighingOf(1, 4, { readings, grossResolutionKg: 0.3, tareResolutionKg: 0 });
    expect(pieceNetStdKg(both)).toBeCloseTo(Math.hypot(0.3 / Math.sqrt(12), 0.1 / Math.sqrt(3)), 12);
  });

  it('[U1] one reading and readings that agree have no scatter', () => {
    expect(pieceNetStdKg(weighingOf(1, 4, still))).toBe(0);
    expect(pieceNetStdKg(weighingOf(1, 4, { ...still, readings: [4, 4, 4].map(reading) }))).toBe(0);
  });

  it('[U1] a lot divides the uncertainty by the count', () => {
    const weighing = weighingOf(1, 4, { grossResolutionKg: 0.012 });
    const lot = { ...weighing, pieces: [1, 2, 3, 4] };
    expect(pieceNetStdKg(lot)).toBeCloseTo(pieceNetStdKg(weighing) / 4, 15);
  });
});

describe('words', () => {
  it('[W1] one tare serves all readings, or each has its own', () => {
    expect(read({ gross: '4.12 kg / 4.14 kg', tare: '120 g' }).weighing?.netKg).toBeCloseTo(4.01, 12);
    const own = read({ gross: '4.12 kg / 4.14 kg', tare: '120 g / 100 g' }).weighing;
    expect(own?.netKg).toBeCloseTo(4.02, 12);
    expect(read({ gross: '4 kg/4 kg/4 kg', tare: '1 g/1 g' }).problems).toEqual(['tare: readings-differ']);
  });

  it('[W1] a net of zero or less is refused, for every reading', () => {
    expect(read({ gross: '1 kg', tare: '1 kg' }).problems).toEqual(['gross: gross-not-above-tare']);
    expect(read({ gross: '0 kg' }).problems).toEqual(['gross: gross-not-above-tare']);
    expect(read({ gross: '4 kg / 1 kg', tare: '2 kg' }).problems).toEqual(['gross: gross-not-above-tare']);
    expect(read({ gross: '1.001 kg', tare: '1 kg' }).problems).toEqual([]);
  });

  it('[L4] every reading is kept as typed, gross and tare', () => {
    expect(read({ gross: '9 lb 2 oz / 4.14 kg', tare: '120 g' }).weighing?.readings.map(({ typed }) => typed)).toEqual([
      { gross: '9 lb 2 oz', tare: '120 g' },
      { gross: '4.14 kg', tare: '120 g' },
    ]);
  });

  it('[U1] without a stated resolution the digits typed tell it, and it is said which', () => {
    expect(read({ gross: '4.120 kg', tare: '0.1 kg' }).weighing).toMatchObject({
      grossResolutionKg: 0.001,
      tareResolutionKg: 0.001,
      resolutionFrom: 'digits typed',
    });
    expect(read({ gross: '4.120 kg', tare: '0.1 kg', resolution: '5 g' }).weighing).toMatchObject({
      grossResolutionKg: 0.005,
      tareResolutionKg: 0.005,
      resolutionFrom: 'stated',
    });
    expect(read({ gross: '4.120 kg', resolution: '5 g' }).weighing?.tareResolutionKg).toBe(0);
    expect(read({ gross: '4.120 kg', tare: '0 kg' }).weighing?.tareResolutionKg).toBe(0);
  });

  it('[U1] the finest digit of a row is read in the unit of its own column', () => {
    const units = { gross: 'lb', tare: 'g' } as const;
    expect(rowDigitKg(readerOf({ gross: '9.1 / 9.25', tare: '120' }, { units }))).toBe(0.001);
    expect(rowDigitKg(readerOf({ gross: '9.1 / 9.25' }, { units }))).toBeCloseTo(0.0045359237, 15);
    expect(rowDigitKg(readerOf({ gross: 'x' }))).toBe(Number.POSITIVE_INFINITY);
    const coarse = readerOf({ gross: '4 kg', condition: 'trimmed' });
    const part = { partId: partIdOf(1), number: 'P-1', quantity: 1 };
    expect(weighingFromWords(coarse, part, 0.005)?.grossResolutionKg).toBe(0.005);
  });

  it('[W1] of several pieces it must be said which stood on the scale', () => {
    expect(read({ gross: '4 kg' }).weighing?.pieces).toEqual([1]);
    expect(read({ gross: '4 kg' }, 3).problems).toEqual(['piece: which-piece']);
    expect(read({ gross: '4 kg', pieces: '2' }, 3).problems).toEqual(['piece: which-piece']);
    expect(read({ gross: '4 kg', pieces: '3' }, 3).weighing?.pieces).toEqual([1, 2, 3]);
    expect(read({ gross: '4 kg', piece: '2-3' }, 3).weighing?.pieces).toEqual([2, 3]);
    expect(read({ gross: '4 kg', piece: '2-3', pieces: '2' }, 3).weighing?.pieces).toEqual([2, 3]);
  });

  it('[W1] pieces that disagree or are not there are refused', () => {
    expect(read({ gross: '4 kg', piece: '2-3', pieces: '3' }, 3).problems).toEqual(['pieces: pieces-disagree']);
    expect(read({ gross: '4 kg', piece: '4' }, 3).problems).toEqual(['piece: no-such-piece']);
    expect(read({ gross: '4 kg', pieces: '2' }).problems).toEqual(['pieces: no-such-piece']);
    expect(read({ gross: '4 kg', pieces: 'x' }).problems).toEqual(['pieces: not-a-number']);
  });

  it('[E2] the condition is asked for and known by its usual words', () => {
    expect(read({ gross: '4 kg', condition: '' }).problems).toEqual(['condition: missing']);
    expect(read({ gross: '4 kg', condition: 'painted' }).problems).toEqual(['condition: not-a-choice']);
    expect(read({ gross: '4 kg', condition: 'As-Released' }).weighing?.condition).toBe('as released');
    expect(read({ gross: '4 kg', condition: 'released' }).weighing?.condition).toBe('as released');
  });

  it('[L4] scale, lot and cause go into the entry where they are given', () => {
    const { weighing } = read({ gross: '4 kg', scale: 'S1', lot: 'B7', cause: 'Resin rich' });
    expect(weighing).toMatchObject({ scale: 'S1', lot: 'B7', cause: 'resin-rich' });
    expect(read({ gross: '4 kg' }).weighing).not.toHaveProperty('scale');
    expect(read({ gross: '4 kg', cause: 'bad luck' }).problems).toEqual(['cause: not-a-choice']);
  });

  it('[E2] fitted is a condition of its own', () => {
    expect(read({ gross: '4 kg', condition: 'Fitted out' }).weighing?.condition).toBe('fitted');
  });

  it('[W10] lot, batch, operator, temperature and humidity are kept, the last two as typed as well', () => {
    const words = {
      lot: 'L7',
      batch: 'R-31',
      operator: 'Bo',
      temperature: '71.6 F',
      humidity: '55 %',
      fixture: 'tray 2',
    };
    expect(read({ gross: '4 kg', ...words }).weighing).toMatchObject({
      lot: 'L7',
      batch: 'R-31',
      operator: 'Bo',
      temperatureC: 22,
      humidityFraction: 0.55,
      fixture: 'tray 2',
      typed: { temperature: '71.6 °F', humidity: '55 %' },
    });
    expect(read({ gross: '4 kg', temperature: '-5 °C' }).weighing?.typed).toEqual({ temperature: '-5 °C' });
    const plain = read({ gross: '4 kg' }).weighing;
    for (const field of ['batch', 'operator', 'temperatureC', 'humidityFraction', 'fixture', 'typed'])
      expect(plain).not.toHaveProperty(field);
  });

  it.each([
    [{ temperature: '22' }, 'temperature: unit-missing'],
    [{ temperature: '22 K' }, 'temperature: unit-unknown'],
    [{ temperature: 'warm' }, 'temperature: not-a-number'],
    [{ temperature: '500 °C' }, 'temperature: out-of-range'],
    [{ humidity: '140 %' }, 'humidity: out-of-range'],
    [{ humidity: '0.55' }, 'humidity: ambiguous-share'],
    [{ humidity: '-5 %' }, 'humidity: out-of-range'],
    [{ operator: 'x'.repeat(61) }, 'operator: text-refused'],
  ])('[W10] %j is refused: %s', (words, problem) => {
    expect(read({ gross: '4 kg', ...words })).toEqual({ weighing: undefined, problems: [problem] });
  });
});
