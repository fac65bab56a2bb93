/** Schedules for tests, in words and read. The figures are invented. */
import { layUpFromWords } from '#shared/layup/from-words.ts';
import { type Material, materialKey } from '#shared/layup/material.ts';
import type { LayUp } from '#shared/layup/schedule.ts';

const base = { basis: 'stated', typed: {} } as const;

export const MATERIALS: readonly Material[] = [
  { ...base, is: 'fabric', name: 'Twill', arealKgM2: 0.2, densityKgM3: 1800, std: 0.03 },
  { ...base, is: 'fabric', name: 'Glass', arealKgM2: 0.1, densityKgM3: 2500, std: 0.05 },
  { ...base, is: 'resin', name: 'Epoxy', densityKgM3: 1200, std: 0.02 },
  { ...base, is: 'core', name: 'Foam', densityKgM3: 75, thicknessM: 0.01, uptakeKgM2: 0.3, uptakeStd: 0.2, std: 0.08 },
  { ...base, is: 'coat', name: 'Primer', arealKgM2: 0.1, std: 0.25 },
  { ...base, is: 'filler', name: 'Micro', densityKgM3: 600, std: 0.15 },
  { ...base, is: 'adhesive', name: 'Paste', densityKgM3: 1200, std: 0.1 },
  { ...base, is: 'fitting', name: 'Insert', massKg: 0.005, std: 0.04 },
];

export const LIST: ReadonlyMap<string, Material> = new Map(MATERIALS.map((one) => [materialKey(one.name), one]));

/** A sandwich panel of 1 m x 0.5 m that is worked by hand in `compute.test.ts`. */
export const PANEL = {
  resin: 'Epoxy',
  'fibre by mass': '60 %',
  'fraction uncertainty': '3 %',
  regions: [
    {
      name: 'Panel',
      area: '0.5 m²',
      'area uncertainty': '2 %',
      perimeter: '3 m',
      lines: [
        { is: 'ply', material: 'Twill', layers: '2', angle: '±45' },
        { is: 'core', material: 'Foam', bevel: '45°', outline: 'rectangle', faces: '2' },
        { is: 'ply', material: 'Twill', layers: '1' },
        { is: 'ply', material: 'Glass', layers: '4', area: '500 cm²' },
        { is: 'coat', material: 'Primer', coverage: '80 %' },
        { is: 'bond line', material: 'Paste', length: '3 m', section: '20 mm²' },
        { is: 'fillet', material: 'Micro', length: '1 m', section: '50 mm²', on: 'moulded' },
        { is: 'insert', material: 'Insert', count: '6' },
      ],
    },
  ],
};

export function readSchedule(sent: unknown) {
  return layUpFromWords(sent, { materials: LIST, process: 'wet lay-up' });
}

export function scheduleOf(sent: unknown): LayUp {
  const read = readSchedule(sent);
  if (!read.ok) throw new Error(JSON.stringify(read.refusal));
  return read.value;
}

/** A region of plies and such, in words. */
export function ofLines(...lines: readonly Readonly<Record<string, string>>[]) {
  return {
    resin: 'Epoxy',
    'fibre by mass': '60 %',
    regions: [{ name: 'Skin', area: '1 m²', perimeter: '4 m', lines }],
  };
}

/** The problems of a schedule as `path: code`. */
export function problemsWith(sent: unknown): readonly string[] {
  const read = readSchedule(sent);
  return read.ok ? [] : read.refusal.map(({ path, refusal }) => `${path.join('/')}: ${refusal.code}`);
}
