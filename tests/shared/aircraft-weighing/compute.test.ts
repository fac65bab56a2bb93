/** Empty weight and CG from the scales (rules A1, A2, U1, U2), against figures worked out by hand and a second opinion by Monte Carlo. */
import { describe, expect, it } from 'vitest';
import { computeWeighing } from '#shared/aircraft-weighing/compute.ts';
import { runsAgree } from '#shared/aircraft-weighing/refusals.ts';
import { chanceOf } from '#tests/support/chance.ts';
import { CHECKED, ON_WHEELS, problemsOf, runOf, weighedOf } from './make-weighings.ts';

const plain = { ...ON_WHEELS, level: [runOf(['80 kg', '150 kg', '150 kg'])] };

describe('empty weight and CG', () => {
  it('[A1] net is gross less tare, and the CG is where the nets balance', () => {
    const level = [runOf(['85 kg', '155 kg', '155 kg'], undefined, ['5 kg', '5 kg', '5 kg'])];
    const { asWeighed, netsKg } = computeWeighing(weighedOf({ ...ON_WHEELS, level }));
    expect(netsKg).toEqual([80, 150, 150]);
    expect(asWeighed.massKg).toBe(380);
    // By hand: 2 + (80 x -1.5 + 300 x 0.5)/380.
    expect(asWeighed.xM).toBeCloseTo(2 + 30 / 380, 12);
    expect(asWeighed.yM).toBeCloseTo(0, 12);
  });

  it('[A1] two supports give x and no y', () => {
    const supports = [
      { name: 'Nose', x: '-1.5 m' },
      { name: 'Mains', x: '0.5 m' },
    ];
    const level = [runOf(['80 kg', '300 kg'], ['Nose', 'Mains'])];
    const { empty } = computeWeighing(weighedOf({ ...ON_WHEELS, supports, level }));
    expect(empty.xM).toBeCloseTo(2 + 30 / 380, 12);
    expect(empty.yM).toBeUndefined();
  });

  it('[A1] five supports and a CG off the middle', () => {
    const places = [
      ['A', -1, 0, 50],
      ['B', 0, -2, 60],
      ['C', 0, 2, 70],
      ['D', 2, -1, 80],
      ['E', 2, 1, 90],
    ] as const;
    const supports = places.map(([name, x, y]) => ({ name, x: `${x} m`, y: `${y} m` }));
    const level = [
      runOf(
        places.map(([, , , kg]) => `${kg} kg`),
        places.map(([name]) => name),
      ),
    ];
    const { empty } = computeWeighing(weighedOf({ ...ON_WHEELS, supports, level }));
    expect(empty.xM).toBeCloseTo(2 + (-50 + 160 + 180) / 350, 12);
    expect(empty.yM).toBeCloseTo((-120 + 140 - 80 + 90) / 350, 12);
  });

  it('[A1] what does not belong comes off, and what belongs and is missing goes on', () => {
    const corrections = [
      { way: 'off', name: 'Fuel in the tank', fluid: 'avgas', volume: '20 L', density: '0.72 kg/L', x: '2.4 m' },
      { way: 'on', name: 'Unusable fuel', mass: '1.4 kg', x: '2.4 m' },
      { way: 'off', name: 'Tool box', mass: '3 kg', x: '1 m', y: '0.4 m' },
    ];
    const { empty, asWeighed } = computeWeighing(weighedOf({ ...plain, corrections }));
    const massKg = 380 - 14.4 + 1.4 - 3;
    expect(asWeighed.massKg).toBe(380);
    expect(empty.massKg).toBeCloseTo(massKg, 12);
    expect(empty.xM).toBeCloseTo((380 * (2 + 30 / 380) - 14.4 * 2.4 + 1.4 * 2.4 - 3 * 1) / massKg, 12);
    expect(empty.yM).toBeCloseTo((0 - 3 * 0.4) / massKg, 12);
  });

  it('[A1] a row without a way is signed, as a handbook writes it, and a minus under what comes off is asked about', () => {
    const row = { name: 'Fuel', volume: '-20 L', density: '0.72 kg/L', x: '2.4 m' };
    const off = { ...row, way: 'off', volume: '20 L' };
    const signed = computeWeighing(weighedOf({ ...plain, corrections: [row] }));
    expect(signed.empty).toEqual(computeWeighing(weighedOf({ ...plain, corrections: [off] })).empty);
    expect(weighedOf({ ...plain, corrections: [row] }).corrections[0]?.typed['volume']).toBe('-20 L');
    expect(problemsOf({ ...plain, corrections: [{ ...row, way: 'off' }] })).toEqual([
      { path: ['corrections', '0', 'volume'], refusal: { code: 'sign-twice', text: '-20 L' } },
    ]);
  });

  it('[A1] z follows from a second attitude, as of a rigid body worked out by hand', () => {
    // A body of 400 kg with its CG at (2.1, 0.9), tilted 10 degrees nose up; supports at z 0.2 (nose) and 0.4 (mains).
    const [g, h] = [2.1, 0.9];
    const t = (10 * Math.PI) / 180;
    const along = (x: number, z: number) => x * Math.cos(t) + z * Math.sin(t);
    const share = (noseAt: number, mainAt: number, cgAt: number) => (400 * (mainAt - cgAt)) / (mainAt - noseAt);
    const levelNose = share(0.5, 2.5, g);
    const tiltedNose = share(along(0.5, 0.2), along(2.5, 0.4), along(g, h));
    const supports = [
      { name: 'Nose', x: '-1.5 m', z: '0.2 m' },
      { name: 'Mains', x: '0.5 m', z: '0.4 m' },
    ];
    const run = (noseKg: number) => [runOf([`${noseKg} kg`, `${400 - noseKg} kg`], ['Nose', 'Mains'])];
    const words = { ...ON_WHEELS, supports, level: run(levelNose), tilted: run(tiltedNose), angle: '10°' };
    const { empty } = computeWeighing(weighedOf(words));
    expect(empty.xM).toBeCloseTo(g, 9);
    expect(empty.zM).toBeCloseTo(h, 9);
    expect(empty.zStdM).toBeGreaterThan(empty.xStdM);
    // What comes off without a height leaves the height of the rest open.
    const off = computeWeighing(weighedOf({ ...words, corrections: [{ name: 'Box', mass: '-3 kg', x: '1 m' }] }));
    expect(off.asWeighed.zM).toBeCloseTo(h, 9);
    expect(off.empty.zM).toBeUndefined();
  });

  it('[A2] runs are averaged, and agree within the limit that is stated or common practice', () => {
    const twice = weighedOf(ON_WHEELS);
    const { asWeighed } = computeWeighing(twice);
    expect(asWeighed.massKg).toBeCloseTo(380.1, 12);
    expect(twice.agreement).toMatchObject({ cgM: 0.005, from: 'common practice' });
    expect(twice.agreement.massKg).toBeCloseTo(0.002 * 380.1, 12);
    expect(runsAgree(twice)).toMatchObject({ isOne: false, agree: true });
    const apart = { ...ON_WHEELS, level: [runOf(['80 kg', '150 kg', '150 kg']), runOf(['80 kg', '152 kg', '150 kg'])] };
    expect(problemsOf(apart)).toEqual([
      {
        path: ['level'],
        refusal: { code: 'runs-disagree', apart: '2.000 kg, CG 0.002 m', limit: '0.762 kg, CG 0.005 m' },
      },
    ]);
    expect(runsAgree(weighedOf({ ...apart, 'mass limit': '3 kg' })).agree).toBe(true);
  });

  it('[A2] a run that is set aside with its reason stays in the record and does not count', () => {
    const wrong = { ...runOf(['80 kg', '170 kg', '150 kg']), 'set aside': 'somebody leaned on the wing' };
    const weighed = weighedOf({ ...ON_WHEELS, level: [wrong, ...plain.level, ...plain.level] });
    expect(weighed.level).toHaveLength(3);
    expect(computeWeighing(weighed).asWeighed.massKg).toBe(380);
  });
});

describe('uncertainty', () => {
  const supports = [
    {
      name: 'Nose',
      x: '-1.5 m',
      'x uncertainty': '3 mm',
      y: '0 m',
      'y uncertainty': '2 mm',
      z: '0.3 m',
      'z uncertainty': '4 mm',
    },
    {
      name: 'Left',
      x: '0.5 m',
      'x uncertainty': '2 mm',
      y: '-1 m',
      'y uncertainty': '2 mm',
      z: '0.2 m',
      'z uncertainty': '4 mm',
    },
    {
      name: 'Right',
      x: '0.52 m',
      'x uncertainty': '2 mm',
      y: '1 m',
      'y uncertainty': '2 mm',
      z: '0.2 m',
      'z uncertainty': '4 mm',
    },
  ].map((support) => ({ ...support, resolution: '0.5 kg' }));
  const names = ['Nose', 'Left', 'Right'];
  const words = {
    reference: 'a frame',
    'reference station': '2 m',
    'reference uncertainty': '1 mm',
    supports,
    level: [runOf(['90 kg', '160 kg', '150 kg'], names, ['5 kg', '5 kg', '5 kg'])],
    tilted: [runOf(['75 kg', '167 kg', '158 kg'], names, ['5 kg', '5 kg', '5 kg'])],
    angle: '8°',
    'angle uncertainty': '0.2°',
    corrections: [
      {
        way: 'off',
        name: 'Left tank',
        fluid: 'avgas',
        volume: '40 L',
        'volume uncertainty': '2 L',
        density: '0.72 kg/L',
        'density uncertainty': '0.01 kg/L',
        x: '2.4 m',
        y: '-1 m',
        z: '1 m',
        'arm uncertainty': '30 mm',
      },
      {
        way: 'off',
        name: 'Right tank',
        fluid: 'avgas',
        volume: '35 L',
        'volume uncertainty': '2 L',
        density: '0.72 kg/L',
        'density uncertainty': '0.01 kg/L',
        x: '2.4 m',
        y: '1 m',
        z: '1 m',
        'arm uncertainty': '30 mm',
      },
      {
        way: 'on',
        name: 'Battery',
        mass: '6 kg',
        'mass uncertainty': '0.1 kg',
        x: '0.8 m',
        y: '0 m',
        z: '0.7 m',
        'arm uncertainty': '20 mm',
      },
    ],
    checklist: CHECKED,
  };

  it('[U2] shifts of every source agree with a seeded Monte Carlo over the inputs, read by a model of its own', () => {
    const weighed = weighedOf(words);
    const gained = { ...weighed, supports: weighed.supports.map((one) => ({ ...one, scale: 'pads', gainStd: 0.002 })) };
    const { empty } = computeWeighing(gained);
    const chance = chanceOf(20260501);
    const drawn = Array.from({ length: 40_000 }, () => drawnResult(chance.normal));
    const stdOf = (axis: 'massKg' | 'xM' | 'yM' | 'zM') => {
      const mean = drawn.reduce((sum, one) => sum + one[axis], 0) / drawn.length;
      return Math.sqrt(drawn.reduce((sum, one) => sum + (one[axis] - mean) ** 2, 0) / (drawn.length - 1));
    };
    expect(stdOf('massKg') / empty.massStdKg).toBeCloseTo(1, 1);
    expect(stdOf('xM') / empty.xStdM).toBeCloseTo(1, 1);
    expect(stdOf('yM') / (empty.yStdM ?? 0)).toBeCloseTo(1, 1);
    expect(stdOf('zM') / (empty.zStdM ?? 0)).toBeCloseTo(1, 1);
  });

  it('[U1] a calibration that all supports share moves the mass and not the CG', () => {
    const weighed = weighedOf(plain);
    const onOne = { ...weighed, supports: weighed.supports.map((one) => ({ ...one, scale: 'pads', gainStd: 0.01 })) };
    const onThree = {
      ...weighed,
      supports: weighed.supports.map((one) => ({ ...one, scale: one.name, gainStd: 0.01 })),
    };
    const gainOf = (of: typeof weighed) =>
      computeWeighing(of).contributions.find(({ from }) => from === 'calibration of the scales');
    expect(gainOf(onOne)?.massStdKg).toBeCloseTo(3.8, 9);
    expect(gainOf(onOne)?.xStdM).toBeCloseTo(0, 12);
    expect(gainOf(onThree)?.massStdKg).toBeCloseTo(Math.hypot(0.8, 1.5, 1.5), 9);
    expect(gainOf(onThree)?.xStdM).toBeGreaterThan(0.001);
  });

  it('[U1] runs that scatter by s add s over the root of their number', () => {
    const level = [runOf(['80 kg', '150 kg', '150 kg']), runOf(['80 kg', '150 kg', '150.6 kg'])];
    const share = computeWeighing(weighedOf({ ...ON_WHEELS, level })).contributions.find(
      ({ from }) => from === 'runs apart',
    );
    // By hand: s of 0 and 0.6 is 0.6/sqrt(2); over sqrt(2).
    expect(share?.massStdKg).toBeCloseTo(0.3, 9);
  });

  it('[A1] the parts of the uncertainty add up to it in squares', () => {
    const { empty, contributions } = computeWeighing(weighedOf(words));
    const sum = (axis: 'massStdKg' | 'xStdM' | 'zStdM') => Math.hypot(...contributions.map((one) => one[axis] ?? 0));
    expect(sum('massStdKg')).toBeCloseTo(empty.massStdKg, 12);
    expect(sum('xStdM')).toBeCloseTo(empty.xStdM, 12);
    expect(sum('zStdM')).toBeCloseTo(empty.zStdM ?? 0, 12);
  });
});

/** One draw of the same weighing, written out anew: nothing of the product is used. */
function drawnResult(normal: () => number) {
  const reading = 0.5 / Math.sqrt(12);
  const gain = 1 + 0.002 * normal();
  const net = (kg: number) => (kg + reading * normal() - reading * normal()) * gain;
  const level = [net(85), net(155), net(145)];
  const tilted = [net(70), net(162), net(153)];
  const reference = 2 + 0.001 * normal();
  const xs = [-1.5 + 0.003 * normal(), 0.5 + 0.002 * normal(), 0.52 + 0.002 * normal()];
  const ys = [0.002 * normal(), -1 + 0.002 * normal(), 1 + 0.002 * normal()];
  const zs = [0.3 + 0.004 * normal(), 0.2 + 0.004 * normal(), 0.2 + 0.004 * normal()];
  const t = ((8 + 0.2 * normal()) * Math.PI) / 180;
  const dot = (a: readonly number[], b: readonly number[]) =>
    a.reduce((sum, value, at) => sum + value * (b[at] ?? 0), 0);
  const total = (values: readonly number[]) =>
    dot(
      values,
      values.map(() => 1),
    );
  const W = total(level);
  const x = reference + dot(level, xs) / W;
  const y = dot(level, ys) / W;
  const V = total(tilted);
  const z = dot(tilted, zs) / V + (reference + dot(tilted, xs) / V - x) / Math.tan(t);
  const density = 0.72 + 0.01 * normal();
  const items = [
    [-(40 + 2 * normal()) * density, 2.4, -1, 1, 0.03],
    [-(35 + 2 * normal()) * density, 2.4, 1, 1, 0.03],
    [6 + 0.1 * normal(), 0.8, 0, 0.7, 0.02],
  ] as const;
  const massKg = W + items.reduce((sum, [kg]) => sum + kg, 0);
  const about = (at: number, arm: 1 | 2 | 3, fixed = false) =>
    (W * at + items.reduce((sum, item) => sum + item[0] * (item[arm] + (fixed ? 0 : item[4] * normal())), 0)) / massKg;
  return { massKg, xM: about(x, 1), yM: about(y, 2), zM: about(z, 3) };
}
