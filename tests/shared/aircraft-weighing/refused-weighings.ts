/** Weighings of an aircraft that are refused, by the code: sent in words, by the rules' own tests and to the doors. All figures are invented. */
import type { RefusalCode } from '#shared/problem/registry.ts';
import { ON_WHEELS, runOf } from './make-weighings.ts';

type Sent = Readonly<Record<string, unknown>>;

export const SIGNED = {
  kind: 'aircraft weighing',
  weighed: ON_WHEELS,
  'signed by': 'A. Signer',
} as const satisfies Sent;

const weighed = (changes: Sent): Sent => ({ ...SIGNED, weighed: { ...ON_WHEELS, ...changes } });
const [nose, left, right] = ON_WHEELS.supports;
const [first, second] = ON_WHEELS.level;
const box = { name: 'Tool box', x: '1 m' };

export const REFUSED_WEIGHINGS: Partial<Record<RefusalCode, Sent>> = {
  'supports-too-few': weighed({ supports: [nose], level: [runOf(['80 kg'], ['Nose'])] }),
  'supports-in-line': weighed({ supports: [nose, { ...left, y: '0 m' }, { ...right, x: '0.9 m', y: '0 m' }] }),
  'support-twice': weighed({
    supports: [nose, left, { ...right, name: ' left MAIN' }],
    level: [runOf(['80 kg', '150 kg', '150 kg'], ['Nose', 'Left main', 'Left main'])],
  }),
  'support-y-missing': weighed({ supports: [nose, left, { name: 'Right main', x: '0.5 m' }] }),
  'support-z-missing': weighed({ tilted: [first], angle: '8°' }),
  'tilt-too-small': weighed({
    supports: ON_WHEELS.supports.map((one) => ({ ...one, z: '0 m' })),
    tilted: [first],
    angle: '0.2°',
  }),
  'no-run': weighed({ level: [] }),
  'all-runs-set-aside': weighed({ level: [{ ...first, 'set aside': 'draught' }] }),
  'reading-missing': weighed({ level: [first, runOf(['80 kg', '150 kg'], ['Nose', 'Left main'])] }),
  'runs-disagree': weighed({ level: [first, second, runOf(['90 kg', '150 kg', '150 kg'])] }),
  'sign-twice': weighed({ corrections: [{ ...box, way: 'off', mass: '-3 kg' }] }),
  'fluid-by-mass': weighed({ corrections: [{ ...box, volume: '3 L', density: '0.7 kg/L', mass: '3 kg' }] }),
  'nothing-left': weighed({ corrections: [{ ...box, way: 'off', mass: '3000 kg' }] }),
  'checklist-open': weighed({ checklist: ON_WHEELS.checklist.slice(1) }),
  'check-without-words': weighed({ checklist: [{ check: 'level', so: 'no' }, ...ON_WHEELS.checklist.slice(1)] }),
  unsigned: { ...SIGNED, 'signed by': '' },
  'signed-before-weighed': { ...SIGNED, 'signed on': '2020-01-01' },
};
