/**
 * The list of materials of the invented demonstration aircraft (rule E3), in words as a person states them. Kinds and no products: what the
 * shop has weighed itself is stated, the rest is common practice.
 */
import { type WorkingDay, workingDay } from './calendar.ts';
import type { Planned, Words } from './plan.ts';
import { PEOPLE } from './story.ts';

type Stated = Words & { readonly name: string };

const COMMON = { basis: 'common practice' } as const;

export const TWILL = 'Carbon twill 200 g/m²';
export const BIAXIAL = 'Carbon biaxial 300 g/m²';
export const TAPE = 'Carbon unidirectional 250 g/m²';
export const PREPREG = 'Carbon prepreg tape, 150 g/m² of fibre';
export const THIN_FOAM = 'PVC foam 60 kg/m³ 5 mm';
export const THICK_FOAM = 'PVC foam 75 kg/m³ 10 mm';
export const SEAL_COAT = 'Seal coat, rolled on';
export const PASTE = 'Structural adhesive, epoxy paste';
export const MICRO = 'Micro filler (epoxy and hollow spheres)';
export const INSERT = 'Threaded insert M5';
export const PLATE = 'Hard point plate';
export const RESINS = {
  infused: 'Epoxy, infusion',
  byHand: 'Epoxy, hand lay-up',
  prepreg: 'Epoxy, prepreg',
} as const;

const TWILL_WORDS = { is: 'fabric', name: TWILL, density: '1780 kg/m³', uncertainty: '1.5 %' } as const;

const FIRST_LIST: readonly Stated[] = [
  { ...TWILL_WORDS, areal: '204 g/m²' },
  { is: 'fabric', name: BIAXIAL, areal: '308 g/m²', density: '1780 kg/m³', uncertainty: '1.5 %' },
  { is: 'fabric', name: TAPE, areal: '250 g/m²', density: '1780 kg/m³', ...COMMON },
  { is: 'fabric', name: PREPREG, areal: '151 g/m²', density: '1780 kg/m³', uncertainty: '1.5 %' },
  { is: 'fabric', name: 'Glass 163 g/m²', areal: '161 g/m²', density: '2550 kg/m³', uncertainty: '2 %' },
  { is: 'resin', name: RESINS.infused, density: '1150 kg/m³', ...COMMON },
  { is: 'resin', name: RESINS.byHand, density: '1160 kg/m³', ...COMMON },
  { is: 'resin', name: RESINS.prepreg, density: '1220 kg/m³', ...COMMON },
  {
    ...{ is: 'core', name: THIN_FOAM, density: '61 kg/m³', thickness: '5 mm', uncertainty: '4 %' },
    ...{ uptake: '120 g/m²', 'uptake uncertainty': '10 %' },
  },
  {
    ...{ is: 'core', name: THICK_FOAM, density: '77 kg/m³', thickness: '10 mm', uncertainty: '4 %' },
    ...{ uptake: '130 g/m²', 'uptake uncertainty': '10 %' },
  },
  { is: 'coat', name: SEAL_COAT, areal: '60 g/m²', ...COMMON },
  { is: 'filler', name: MICRO, density: '600 kg/m³', ...COMMON },
  { is: 'adhesive', name: PASTE, density: '1200 kg/m³', ...COMMON },
  { is: 'fitting', name: INSERT, mass: '4.2 g', uncertainty: '2 %' },
  { is: 'fitting', name: PLATE, mass: '31 g', uncertainty: '3 %' },
];

/** A new roll that is heavier than the first: schedules from before keep the figures that they were computed from. */
const NEW_ROLL = {
  week: 34,
  words: { ...TWILL_WORDS, areal: '209 g/m²' },
  remark: 'New roll. Three squares cut and weighed: 5 g more than the first one.',
} as const;

export function planMaterials(): readonly Planned[] {
  return [
    ...FIRST_LIST.map((words, at) => ({
      ...planned(`material ${at + 1}`, words, workingDay(0, 1)),
      ...(words['basis'] === undefined ? { remark: 'Cut and weighed here.' } : {}),
    })),
    { ...planned('material of a new roll', NEW_ROLL.words, workingDay(NEW_ROLL.week, 1)), remark: NEW_ROLL.remark },
  ];
}

/** The list as it was before the new roll came, for a schedule that is stated again with the figures it was computed from. */
export const BEFORE_NEW_ROLL: readonly Words[] = FIRST_LIST;

function planned(name: string, words: Stated, day: WorkingDay): Planned {
  return { name, happenedOn: day, recordedOn: day, by: PEOPLE.lead, words: { kind: 'material', ...words } };
}
