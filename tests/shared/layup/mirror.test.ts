/** One part made from another (rule E3): left from right, copies, and lines that move. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { computeLayUp } from '#shared/layup/compute.ts';
import { type Material, materialKey } from '#shared/layup/material.ts';
import {
  mirroredArm,
  mirroredLayUp,
  movedMaterials,
  otherSide,
  otherSideInName,
  withLineMoved,
  withListedMaterials,
} from '#shared/layup/mirror.ts';
import { LIST, ofLines, PANEL, scheduleOf } from './make-schedules.ts';

describe('the other side', () => {
  it.each([
    ['Left wing skin', 'Right wing skin'],
    ['rib 3, RIGHT', 'rib 3, LEFT'],
    ['W-12-L', 'W-12-R'],
    ['Flap LH', 'Flap RH'],
    ['Lower fairing', 'Lower fairing'],
    ['LRU tray', 'LRU tray'],
    ['left of the right rib', 'right of the left rib'],
  ])('[E3] %s is %s', (name, turned) => {
    expect(otherSideInName(name)).toBe(turned);
    expect(otherSideInName(turned)).toBe(name);
  });

  it('[E3] a mirrored part has its butt line on the other side, and nothing else moves', () => {
    // Nobody types minus nothing.
    const station = fc.double({ min: -20, max: 20, noNaN: true }).map((metres) => metres + 0);
    fc.assert(
      fc.property(station, station, station, (xM, yM, zM) => {
        const mirrored = mirroredArm({ xM, yM, zM });
        expect(mirrored.xM).toBe(xM);
        expect(mirrored.zM).toBe(zM);
        expect((mirrored.yM ?? 0) + yM).toBe(0);
        expect(mirroredArm(mirrored)).toEqual({ xM, yM, zM });
      }),
    );
    expect(Object.is(mirroredArm({ yM: 0 }).yM, 0)).toBe(true);
    expect(mirroredArm({ xM: 1 })).toEqual({ xM: 1 });
    expect([otherSide('left'), otherSide('right'), otherSide('centre')]).toEqual(['right', 'left', 'centre']);
  });

  it('[E3] the lay-up is the same, its sides and single angles turned', () => {
    const angles = ['+45', '-30°', '45', '0', '90', '±45', '0/90', 'along the spar'];
    const lines = angles.map((angle) => ({ is: 'ply', material: 'Twill', layers: '1', angle }));
    const sent = ofLines(...lines);
    const layUp = scheduleOf({ ...sent, regions: sent.regions.map((region) => ({ ...region, name: 'Left skin' })) });
    const mirrored = mirroredLayUp(layUp);
    expect(mirrored.regions[0]?.name).toBe('Right skin');
    expect(mirrored.regions[0]?.lines.map((line) => line.is === 'ply' && line.angle)).toEqual([
      ...['-45', '+30°', '-45', '0', '90', '±45', '0/90', 'along the spar'],
    ]);
    expect(computeLayUp(mirrored).massKg).toBe(computeLayUp(layUp).massKg);
  });
});

describe('from another part', () => {
  const layUp = scheduleOf(PANEL);
  const twill = LIST.get('twill');
  if (twill?.is !== 'fabric') throw new Error('no twill');
  const heavier: Material = { ...twill, arealKgM2: 0.22 };
  const list = new Map(LIST).set(materialKey('Twill'), heavier);
  list.delete('glass');

  it('[E3] what the list says otherwise by now is named, with then and now', () => {
    expect(movedMaterials(layUp, LIST)).toEqual([]);
    expect(movedMaterials(layUp, new Map(LIST).set('twill', { ...twill, typed: { areal: '0.2 kg/m²' } }))).toEqual([]);
    expect(movedMaterials(layUp, list)).toMatchObject([
      { was: { name: 'Twill', arealKgM2: 0.2 }, is: { arealKgM2: 0.22 } },
      { was: { name: 'Glass' }, is: undefined },
    ]);
  });

  it('[E3] the copy can take the figures of the list; what is gone stays', () => {
    const anew = withListedMaterials(layUp, list);
    // 0.3 kg of twill fibre at 60 % becomes 0.33 kg: 0.03/0.6 = 0.05 kg more.
    expect(computeLayUp(anew).massKg - computeLayUp(layUp).massKg).toBeCloseTo(0.05, 12);
    expect(layUp.materials.find(({ name }) => name === 'Twill')).toMatchObject({ arealKgM2: 0.2 });
  });

  it('[E3] a line moves, and none is lost', () => {
    const kinds = (one: typeof layUp) => one.regions[0]?.lines.map(({ is }) => is);
    const moved = withLineMoved(layUp, { region: 0, line: 1 }, { region: 0, line: 3 });
    expect(kinds(moved)).toEqual(['ply', 'ply', 'ply', 'core', 'coat', 'bond line', 'fillet', 'insert']);
    expect(kinds(layUp)?.[1]).toBe('core');
    expect(withLineMoved(layUp, { region: 0, line: 99 }, { region: 0, line: 0 })).toBe(layUp);
    expect(withLineMoved(layUp, { region: 0, line: 0 }, { region: 7, line: 0 })).toBe(layUp);
    const [region] = layUp.regions;
    if (region === undefined) throw new Error('no region');
    const two = { ...layUp, regions: [region, { ...region, name: 'Other', lines: [] }] };
    const across = withLineMoved(two, { region: 0, line: 1 }, { region: 1, line: 0 });
    expect(across.regions.map(({ lines }) => lines.length)).toEqual([7, 1]);
    expect(across.regions[1]?.lines[0]?.is).toBe('core');
  });
});
