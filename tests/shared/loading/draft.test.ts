/** Loading limits while they are typed (rule C1). */
import { describe, expect, it } from 'vitest';
import {
  draftOf,
  emptyDraft,
  type LimitsDraft,
  moved,
  newCase,
  newStation,
  pastedCorners,
  sentOf,
} from '#shared/loading/draft.ts';
import { limitsFromWords } from '#shared/loading/from-words.ts';
import { placeOf, readCorners, readDraft } from '#shared/loading/read-draft.ts';
import { POUNDS, METRIC as TYPED } from './limits-words.ts';

/** A draft calls a station in a case as the stations do. */
const METRIC = JSON.parse(
  JSON.stringify(TYPED).replace('"left seat"', '"Left seat"').replace('"tank":"tank"', '"tank":"Tank"'),
) as typeof TYPED;

const KG_M = { mass: 'kg', length: 'm' } as const;
const LB_IN = { mass: 'lb', length: 'in' } as const;
const AGAINST = { emptyKg: 200, hasChord: true };

function keys() {
  let count = 0;
  return () => {
    count += 1;
    return `k${count}`;
  };
}

function limitsOf(sent: unknown) {
  const read = limitsFromWords(sent);
  if (!read.ok) throw new Error(JSON.stringify(read.refusal));
  return read.value;
}

const draftOfMetric = () => draftOf(limitsOf(METRIC), KG_M, keys());
/** The problems as `key field: code`, with the names of rows for keys that were made up. */
const told = (draft: LimitsDraft, units: typeof KG_M | typeof LB_IN = KG_M) =>
  readDraft(draft, units, AGAINST).problems.map(({ key, field, code }) => `${key} ${field}: ${code}`);

describe('a draft of loading limits', () => {
  it.each([
    ['metric', METRIC, KG_M],
    ['pounds', POUNDS, LB_IN],
  ] as const)('[C1] %s limits that nobody touched are the same limits again', (_, sent, units) => {
    const limits = limitsOf(sent);
    expect(readDraft(draftOf(limits, units, keys()), units, AGAINST)).toEqual({ limits, problems: [] });
  });

  it('[C1] a bare number has the unit of its field: kilograms or pounds, litres or gallons, metres, per cent', () => {
    const bare = (draft: LimitsDraft): LimitsDraft =>
      JSON.parse(
        JSON.stringify(draft).replaceAll(/"(-?[\d.]+) (?:kg\/L|lb\/US gal|US gal|kg|lb|m|in|L|% MAC)"/g, '"$1"'),
      );
    for (const [sent, units] of [
      [METRIC, KG_M],
      [POUNDS, LB_IN],
    ] as const) {
      const draft = bare(draftOf(limitsOf(sent), units, keys()));
      expect(JSON.stringify(draft)).not.toMatch(/\d (?:kg|lb|m|in|L|US gal)"/);
      expect(readDraft(draft, units, AGAINST).limits).toEqual(limitsOf(sent));
    }
  });

  it('[C1] a station that is renamed keeps its loads, and one that goes takes them with it', () => {
    const draft = draftOfMetric();
    const [left, ...others] = draft.stations;
    if (left === undefined) throw new Error('there is a station');
    const renamed = { ...draft, stations: [{ ...left, words: { ...left.words, name: 'Port' } }, ...others] };
    expect(sentOf(renamed, KG_M).cases[0]?.['loads']).toEqual([
      { station: 'Port', load: '75 kg' },
      { station: 'Tank', load: '60 L' },
    ]);
    const without = { ...draft, stations: draft.stations.slice(0, 3) };
    expect(sentOf(without, KG_M).cases[0]?.['loads']).toEqual([{ station: 'Left seat', load: '75 kg' }]);
    // What is burnt from a tank that is no more has to be put right.
    expect(told(without)[0]).toMatch(/tank: missing$/);
  });

  it('[C1] every problem is at its field: of a row, of a load, of the envelope, of all', () => {
    const draft = draftOfMetric();
    const [left, right, shelf, tank] = draft.stations;
    if (left === undefined || right === undefined || shelf === undefined || tank === undefined) throw new Error('four');
    const [solo] = draft.cases;
    if (solo === undefined) throw new Error('one');
    const broken: LimitsDraft = {
      ...draft,
      words: { ...draft.words, 'maximum weight': 'much' },
      stations: [
        { ...left, words: { ...left.words, x: '' } },
        right,
        { ...shelf, words: { ...shelf.words, most: '1 stone' } },
        { ...tank, arms: tank.arms.map((row) => ({ ...row, words: { ...row.words, x: 'aft' } })) },
      ],
      corners: draft.corners.map((corner, at) => (at === 1 ? { ...corner, words: { mass: '650' } } : corner)),
      cases: [{ ...solo, loads: { ...solo.loads, [left.key]: 'heavy' }, words: {} }],
    };
    expect(told(broken).sort()).toEqual(
      [
        'whole maximum weight: not-a-number',
        `${left.key} x: missing`,
        `${shelf.key} most: unit-unknown`,
        ...tank.arms.map(({ key }) => `${key} x: not-a-number`),
        `${draft.corners[1]?.key} at: missing`,
        `${solo.key} load ${left.key}: not-a-number`,
        `${solo.key} name: missing`,
      ].sort(),
    );
    const over = { ...draft, cases: [{ ...solo, loads: { ...solo.loads, [tank.key]: '95' } }] };
    expect(told(over)).toEqual([`${solo.key} load ${tank.key}: fuel-above-capacity`]);
    expect(told({ ...draft, corners: draft.corners.slice(0, 2) })).toEqual(['envelope : envelope-too-few']);
    expect(told({ ...draft, cases: [{ ...solo, loads: { [tank.key]: '60' } }] })).toEqual([
      `${solo.key} loads: load-out-of-bounds`,
    ]);
    expect(placeOf(draft, ['lateral'])).toEqual({ key: 'whole', field: 'butt line right' });
    expect(placeOf(draft, ['stations'])).toEqual({ key: 'stations', field: '' });
    expect(placeOf(draft, ['cases', '0', 'burn', '0', 'tank'])).toEqual({ key: solo.burn[0]?.key, field: 'tank' });
    expect(placeOf(draft, ['cases', '7', 'name'])).toEqual({ key: 'whole', field: 'cases' });
  });

  it('[C1] an empty draft asks for what is needed and shows no envelope; rows without words are no corners', () => {
    const draft = emptyDraft(keys());
    expect(told(draft)).toEqual(['whole maximum weight: missing']);
    const begun = { ...draft, words: { ...draft.words, 'maximum weight': '600' }, cases: [newCase('c')] };
    expect(told(begun)).toEqual(['c name: missing']);
    expect(told({ ...begun, cases: [] })).toEqual(['envelope : envelope-too-few']);
    expect(readCorners(draft, KG_M).points).toEqual([]);
    const tank = newStation('t', 'tank', { fluid: 'avgas', density: '6.0 lb/US gal' });
    expect(sentOf({ ...draft, stations: [tank] }, KG_M).stations).toEqual([
      { what: 'tank', fluid: 'avgas', density: '6.0 lb/US gal' },
    ]);
  });

  it('[C1] corners are read one by one for the picture, by station or by per cent MAC', () => {
    const draft = draftOfMetric();
    const half = { ...draft, corners: [...draft.corners, { key: 'x', words: { mass: '300', at: 'later' } }] };
    expect(readCorners(half, KG_M).points).toHaveLength(4);
    const inMac = {
      ...draft,
      words: { 'envelope by': 'per cent MAC' },
      corners: [
        { key: 'x', words: { mass: '600 lb', at: '18 % MAC' } },
        { key: 'y', words: { mass: '300', at: '-2' } },
      ],
    };
    expect(readCorners(inMac, KG_M)).toMatchObject({
      by: 'per cent MAC',
      points: [{ at: 18 }, { massKg: 300, at: -2 }],
    });
  });

  it('[C1] copied rows go in from the row that they are pasted into; headings are passed over', () => {
    const draft = draftOfMetric();
    const [first, second] = draft.corners;
    if (first === undefined || second === undefined) throw new Error('corners');
    const text = 'mass\tstation\n400\t2.1\n500 kg\t2.2 m\r\n600\t2.3\n650\t2.4\n';
    const pasted = pastedCorners(draft, { key: second.key, text }, keys());
    expect(pasted?.corners.map(({ words }) => words)).toEqual([
      first.words,
      { mass: '400', at: '2.1' },
      { mass: '500 kg', at: '2.2 m' },
      { mass: '600', at: '2.3' },
      { mass: '650', at: '2.4' },
    ]);
    expect(pastedCorners(draft, { key: first.key, text: '400 kg' }, keys())).toBeUndefined();
    expect(pastedCorners(draft, { key: first.key, text: '400;2,1\n500;2,2' }, keys())?.corners[1]?.words).toEqual({
      mass: '500',
      at: '2,2',
    });
    expect(pastedCorners(draft, { key: first.key, text: '400  2.1\n500  2.2' }, keys())?.corners[0]?.words['at']).toBe(
      '2.1',
    );
  });

  it('[C1] a row goes one place up or down, and not past the end', () => {
    const rows = [{ key: 'a' }, { key: 'b' }, { key: 'c' }];
    expect(moved(rows, 'c', -1).map(({ key }) => key)).toEqual(['a', 'c', 'b']);
    expect(moved(rows, 'a', -1)).toBe(rows);
    expect(moved(rows, 'c', 1)).toBe(rows);
  });
});
