/** Loading limits in words and back (rules C1, L4, W2). */
import { describe, expect, it } from 'vitest';
import { objectionsTo } from '#shared/ledger/admit.ts';
import { type Entry, Entry as EntryShape } from '#shared/ledger/entry.ts';
import { inForce } from '#shared/ledger/fold.ts';
import { limitsFromWords } from '#shared/loading/from-words.ts';
import { limitsInWords } from '#shared/loading/in-words.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import {
  aircraftOf,
  Chain,
  datumOf,
  estimateOf,
  loadingOf,
  ON,
  partOf,
  TODAY,
  uuidOf,
} from '../ledger/make-entries.ts';
import { METRIC, POUNDS } from './limits-words.ts';

const KG_M = { mass: 'kg', length: 'm' } as const;
const LB_IN = { mass: 'lb', length: 'in' } as const;

function limitsOf(sent: unknown) {
  const read = limitsFromWords(sent);
  if (!read.ok) throw new Error(JSON.stringify(read.refusal));
  return read.value;
}

/** The problems as `path: code`. */
function told(sent: unknown): string[] {
  const read = limitsFromWords(sent);
  return read.ok ? [] : read.refusal.map(({ path, refusal }) => `${path.join('/')}: ${refusal.code}`);
}

function begun(): Chain {
  const chain = new Chain();
  chain.record(aircraftOf({ macM: 1.25, lemacM: 2 }));
  chain.record(partOf(1));
  chain.record(estimateOf(1, { massKg: 300, xM: 2.3, growth: 0 }));
  return chain;
}

function entry(sent: object, chain = begun()): Entry {
  const read = entryFromWords(sent, { ledger: chain.fold(), day: ON, by: 'Ann', newId: () => uuidOf(77, 7) });
  if (!read.ok) throw new Error(JSON.stringify(read.refusal));
  return read.value;
}

function refusalsOf(sent: object, chain = begun()): string[] {
  const read = entryFromWords(sent, { ledger: chain.fold(), day: ON, by: 'Ann', newId: () => uuidOf(77, 7) });
  if (!read.ok) return read.refusal.map(({ path, refusal }) => `${path.join('/')}: ${refusal.code}`);
  return objectionsTo(read.value, chain.fold(), TODAY).map(({ path, refusal }) => `${path.join('/')}: ${refusal.code}`);
}

describe('from words', () => {
  it('[C1] limits in words become limits in SI, and keep what was typed', () => {
    const limits = limitsOf(METRIC);
    expect(limits).toMatchObject({ maximumKg: 650, typed: { 'maximum weight': '650 kg' } });
    expect(limits.stations).toMatchObject([
      { what: 'seat', name: 'Left seat', xM: 1.9, yM: -0.3, leastKg: 55, mostKg: 110, isPilot: true },
      { what: 'seat', leastKg: 40 },
      { what: 'baggage', mostKg: 15, typed: { most: '15 kg' } },
      {
        ...{ what: 'tank', densityKgPerL: 0.72, usableL: 90, unusableL: 2 },
        arm: [
          { quantityL: 0, xM: 2.4 },
          { quantityL: 90, xM: 2.44 },
        ],
        typed: { 'quantity 2': '90 L', 'x 2': '2.44 m' },
      },
    ]);
    expect(limits.stations[1]).not.toHaveProperty('isPilot');
    expect(limits.envelope).toMatchObject({ by: 'station', points: [{ massKg: 300, at: 2 }, {}, {}, {}] });
    expect(limits.cases).toMatchObject([
      {
        name: 'Solo',
        loads: [
          { station: 'left seat', massKg: 75 },
          { quantityL: 60, typed: { load: '60 L' } },
        ],
        burn: [{ tank: 'tank', quantityL: 50 }],
      },
    ]);
  });

  it('[C1] pounds, inches, US gallons and per cent MAC are read by their exact factors; y is positive to the right', () => {
    const { maximumKg, zeroFuelMaximumKg, lateral, stations, envelope } = limitsOf(POUNDS);
    expect(maximumKg).toBeCloseTo(635.029318, 9);
    expect(zeroFuelMaximumKg).toBeCloseTo(1300 * 0.45359237, 9);
    expect(lateral).toEqual({ leftM: -0.0508, rightM: 0.0508 });
    // 6 lb/US gal is 0.718 958 56 kg/L (NIST SP 811, derived).
    expect(stations).toMatchObject([
      { xM: 1.905, yM: -0.2794 },
      { usableL: 75.70823568, unusableL: 0, arm: 2.0828, densityKgPerL: expect.closeTo(0.71895856, 7) },
    ]);
    expect(envelope.by).toBe('per cent MAC');
    expect(envelope.points.map(({ at }) => at)).toEqual([15, 18, 30, 32]);
    expect(envelope.points[1]?.typed).toEqual({ mass: '1400 lb', at: '18 % MAC' });
  });

  it('[C1] a corner ahead of the chord is less than 0 per cent, and whether by station or by MAC the first corner tells', () => {
    const { 'envelope by': _, ...words } = POUNDS;
    const sent = { ...words, envelope: [{ mass: '600 lb', at: '-5 % MAC' }, ...words.envelope.slice(1)] };
    expect(limitsOf(sent).envelope).toMatchObject({ by: 'per cent MAC', points: [{ at: -5 }, {}, {}, {}] });
    expect(
      told({
        ...sent,
        envelope: [
          { mass: '600 lb', at: '2 m' },
          { mass: '600 lb', at: '5 % MAC' },
        ],
      }),
    ).toEqual(['envelope/1/at: unit-unknown']);
    expect(told({ ...sent, envelope: [{ mass: '600 lb', at: '1001 % MAC' }] })).toEqual([
      'envelope/0/at: out-of-range',
    ]);
    expect(told({ ...sent, 'envelope by': 'mac', envelope: [{ mass: '600 lb', at: '2 m' }] })).toEqual([
      'envelope/0/at: not-a-number',
    ]);
  });

  it('[C1] every problem is told at its field', () => {
    const [left, , , tank] = METRIC.stations;
    const sent = {
      ...{ 'maximum weight': '650', 'butt line left': '-1 m', colour: 'red' },
      stations: [
        { ...left, x: 'far', pilot: 'perhaps' },
        { what: 'bench', name: '' },
        { what: 'seat', name: 'Back', x: '2 m' },
        { ...tank, x: '2 m', density: '0 kg/L', usable: '20 gal' },
        { what: 'tank', name: 'Second', fluid: 'oil', density: '0.9 kg/L', usable: '5 L' },
        { what: 'baggage', name: 'Box', x: '1 m', most: '1 kg', fluid: 'oil' },
        'a text',
      ],
      envelope: [{ mass: '300 kg' }],
      cases: [
        {
          loads: [
            { station: 'Left seat', load: 'heavy' },
            { station: 'Tank', load: '7' },
          ],
          burn: [{}],
        },
      ],
    };
    expect(told(sent).sort()).toEqual(
      [
        'colour: field-unknown',
        'maximum weight: unit-missing',
        'butt line right: missing',
        'stations/0/x: not-a-number',
        'stations/0/pilot: not-a-choice',
        'stations/1/name: missing',
        'stations/1/what: not-a-choice',
        'stations/2/most: missing',
        'stations/3/x: tank-arm-twice',
        'stations/3/density: out-of-range',
        'stations/3/usable: unit-unknown',
        'stations/4/x: missing',
        'stations/5/fluid: field-unknown',
        'stations/6: shape-refused',
        'envelope/0/at: missing',
        'cases/0/name: missing',
        'cases/0/loads/0/load: not-a-number',
        'cases/0/loads/1/load: unit-missing',
        'cases/0/burn/0/tank: missing',
        'cases/0/burn/0/quantity: missing',
      ].sort(),
    );
    expect(told(undefined)).toEqual([': shape-refused']);
    expect(told({ ...METRIC, stations: Array.from({ length: 31 }, () => left) })).toContain('stations: shape-refused');
  });

  it.each([
    ['metric', METRIC, KG_M],
    ['pounds', POUNDS, LB_IN],
  ] as const)('[C1] %s limits in words again are the same limits', (_, sent, units) => {
    const limits = limitsOf(sent);
    const again = limitsInWords(limits, units);
    expect(limitsOf(again)).toEqual(limits);
    expect(again['maximum weight']).toBe(sent['maximum weight']);
    expect(again.stations[0]).toEqual(sent.stations[0]);
  });

  it('[C1] what was not typed so is told in the units of the aircraft', () => {
    const { limits } = loadingOf();
    expect(limitsInWords(limits, LB_IN).stations[2]).toMatchObject({
      density: expect.stringMatching(/^6\.0086912\d+ lb\/US gal$/),
    });
    expect(limitsInWords(limits, KG_M)).toMatchObject({
      'maximum weight': '650 kg',
      stations: [{ x: '1.5 m', pilot: 'yes' }, { most: '20 kg' }, { usable: '90 L', density: '0.72 kg/L' }],
    });
  });
});

describe('in the ledger', () => {
  it('[C1] limits are an entry that the ledger takes, and the next statement takes their place with a reason', () => {
    const chain = begun();
    const sent = { kind: 'loading', limits: METRIC };
    const first = entry(sent);
    expect(EntryShape.safeParse(first).success).toBe(true);
    expect(refusalsOf(sent)).toEqual([]);
    chain.add(first);
    expect(refusalsOf(sent, chain)).toEqual(['reason: reason-missing']);
    const heavier = { ...sent, limits: { ...METRIC, 'maximum weight': '660 kg' }, reason: 'tested to more' };
    expect(refusalsOf(heavier, chain)).toEqual([]);
    chain.add({ ...entry(heavier, chain), id: uuidOf(78, 7) } as Entry);
    expect(inForce(chain.fold(), 'loading')?.limits.maximumKg).toBe(660);
  });

  it('[C1] a corrected statement is replaced as a whole, and what is struck out leaves the one before', () => {
    const chain = begun();
    const [first, second] = [chain.record(loadingOf()), chain.record(loadingOf({ maximumKg: 700, reason: 'more' }))];
    const replacement = { limits: METRIC };
    const sent = { kind: 'correction', entry: first.seq, reason: 'typed wrongly', replacement };
    expect(refusalsOf(sent, chain)).toEqual([]);
    chain.add(entry(sent, chain));
    chain.correct(second, undefined);
    expect(inForce(chain.fold(), 'loading')?.limits.stations).toHaveLength(4);
  });

  it('[C1] limits that make no sense together are refused at their field', () => {
    const sent = (changes: object) => ({ kind: 'loading', limits: { ...METRIC, ...changes } });
    expect(refusalsOf(sent({ 'maximum weight': '290 kg' }))).toContain('limits/maximum weight: maximum-below-empty');
    expect(refusalsOf(sent({ envelope: METRIC.envelope.slice(0, 2) }))).toEqual(['limits/envelope: envelope-too-few']);
    const [a, b, c, d] = METRIC.envelope;
    expect(refusalsOf(sent({ envelope: [a, c, b, d] }))).toEqual(['limits/envelope: envelope-crosses-itself']);
    const [left, ...others] = METRIC.stations;
    expect(refusalsOf(sent({ stations: [{ ...left, least: '120 kg' }, ...others] }))).toContain(
      'limits/stations/0/least: least-above-most',
    );
    const loads = [
      { station: 'Left seat', load: '70 kg' },
      { station: 'Tank', load: '95 L' },
    ];
    expect(refusalsOf(sent({ cases: [{ name: 'Far', loads }] }))).toEqual([
      'limits/cases/0/loads/1: fuel-above-capacity',
    ]);
    const weighed = [loads[0], { station: 'Tank', load: '40 kg' }];
    expect(refusalsOf(sent({ cases: [{ name: 'Far', loads: weighed }] }))).toEqual([
      'limits/cases/0/loads/1: load-in-other-unit',
    ]);
    const poured = [{ station: 'Left seat', load: '70 L' }];
    expect(refusalsOf(sent({ cases: [{ name: 'Odd', loads: poured }] }))).toContain(
      'limits/cases/0/loads/0: load-in-other-unit',
    );
    expect(refusalsOf({ kind: 'loading', limits: POUNDS }, new Chain())).toContain('limits/envelope: chord-unknown');
  });

  it('[C1] stations, arm tables and corners by station move with the datum to the last digit; those by MAC stay', () => {
    const chain = begun();
    chain.record(loadingOf({ stationM: 2.1 }));
    const before = inForce(chain.fold(), 'loading')?.limits;
    chain.record(datumOf(0.137));
    const moved = inForce(chain.fold(), 'loading')?.limits;
    expect(moved?.stations).toMatchObject([
      { xM: 1.463 },
      { xM: 2.963 },
      { arm: [{ xM: 1.963 }, { quantityL: 90, xM: 2.063 }] },
    ]);
    expect(moved?.envelope.points.map(({ at }) => at)).toEqual([1.663, 1.763, 2.163, 2.263]);
    chain.record(datumOf(-0.137));
    expect(inForce(chain.fold(), 'loading')?.limits).toEqual(before);

    const inMac = begun();
    inMac.add(entry({ kind: 'loading', limits: POUNDS }, inMac));
    inMac.record(datumOf(1));
    const ledger = inMac.fold();
    expect(inForce(ledger, 'loading')?.limits.envelope.points.map(({ at }) => at)).toEqual([15, 18, 30, 32]);
    expect(inForce(ledger, 'aircraft')?.lemacM).toBe(1);
  });
});
