/** Loading limits that are refused, by the code of the refusal; sent to the ledger that `BEGUN` of `reach-entries.ts` makes. */
import type { RefusalCode } from '#shared/problem/registry.ts';
import { METRIC } from '#tests/shared/loading/limits-words.ts';

type Sent = Readonly<Record<string, unknown>>;

const [left, right, shelf, tank] = METRIC.stations;
const [a, b, c, d] = METRIC.envelope;
const limits = (changes: Sent): Sent => ({ kind: 'loading', limits: { ...METRIC, ...changes } });
const stations = (...list: readonly Sent[]) => limits({ stations: list });
const oneCase = (changes: Sent) => limits({ cases: [{ name: 'Solo', ...changes }] });
const pilot = { station: 'Left seat', load: '75 kg' };

/** Ballast is asked for where no limits are stated. */
export const LOADING_BALLASTS: Partial<Record<RefusalCode, Sent>> = {
  'limits-missing': { places: [{ x: '1 m' }] },
};

export const LOADINGS: Partial<Record<RefusalCode, Sent>> = {
  'envelope-too-few': limits({ envelope: [a, b] }),
  'envelope-crosses-itself': limits({ envelope: [a, c, b, d] }),
  'envelope-without-area': limits({ envelope: [a, { ...a, at: '2.1 m' }, { ...a, at: '2.2 m' }] }),
  'envelope-in-two': limits({
    envelope: [a, b, { mass: '650 kg', at: '2.1 m' }, { mass: '400 kg', at: '2.2 m' }, c, d].map((corner) => ({
      ...corner,
    })),
  }),
  'seats-too-many': stations(left, ...Array.from({ length: 12 }, (_, at) => ({ ...right, name: `Seat ${at}` }))),
  'station-twice': stations(left, right, { ...shelf, name: 'LEFT seat' }, tank),
  'station-unknown': oneCase({ loads: [pilot, { station: 'Wing', load: '1 kg' }] }),
  'case-twice': limits({ cases: [...METRIC.cases, ...METRIC.cases] }),
  'least-above-most': stations({ ...left, least: '120 kg' }, right, shelf, tank),
  'table-not-increasing': stations(left, right, shelf, { ...tank, arms: [...tank.arms].reverse() }),
  'table-beyond-tank': stations(left, right, shelf, { ...tank, usable: '80 L' }),
  'load-in-other-unit': oneCase({ loads: [pilot, { station: 'Tank', load: '1 kg' }] }),
  'load-out-of-bounds': oneCase({ loads: [{ ...pilot, load: '20 kg' }] }),
  'fuel-above-capacity': oneCase({ loads: [pilot, { station: 'Tank', load: '91 L' }] }),
  'burn-above-fuel': oneCase({ loads: [pilot], burn: [{ tank: 'Tank', quantity: '1 L' }] }),
  'maximum-below-empty': limits({ 'maximum weight': '1 kg' }),
  'maximum-above-maximum': limits({ 'zero-fuel maximum': '651 kg' }),
  'lateral-reversed': limits({ 'butt line left': '1 m', 'butt line right': '-1 m' }),
  'lateral-without-butt-line': limits({
    ...{ 'butt line left': '-1 m', 'butt line right': '1 m' },
    stations: [{ ...left, y: undefined }, right, shelf, tank],
  }),
  'tank-arm-twice': stations(left, right, shelf, { ...tank, x: '2 m' }),
};
