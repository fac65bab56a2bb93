/**
 * Lay-up schedules of parts of the invented demonstration aircraft (rules E3, E4). They come to what the parts list says of these parts, to a few
 * grams: a test says how close. The left and the right one of a pair have the same schedule.
 */
import { bondLine, coat, core, fillet, inserts, type LayUpRow, laminate, ply, region } from './lay-up-words.ts';
import {
  BIAXIAL,
  INSERT,
  MICRO,
  PASTE,
  PLATE,
  PREPREG,
  RESINS,
  SEAL_COAT,
  TAPE,
  THICK_FOAM,
  THIN_FOAM,
  TWILL,
} from './materials.ts';

const AS_RELEASED = 'Ply by ply, as given to the shop.';
const MIRRORED = 'As the other side.';

const WING_UPPER = laminate(RESINS.infused, '60 %', [
  region('Skin', '4.64 m²', [
    ply(TWILL, 1, '±45'),
    core(THIN_FOAM, { area: '3.00 m²', perimeter: '10.00 m', bevel: '30°', outline: 'rectangle' }),
    ply(BIAXIAL, 1, '±45'),
    ply(TAPE, 2, '0', { area: '0.48 m²' }),
    coat(SEAL_COAT),
    bondLine(PASTE, '4.6 m', '18 mm²'),
    inserts(INSERT, 9),
  ]),
]);

const WING_LOWER = laminate(RESINS.infused, '60 %', [
  region('Skin', '4.40 m²', [
    ply(TWILL, 1, '±45'),
    core(THIN_FOAM, { area: '2.80 m²', perimeter: '9.80 m', bevel: '30°', outline: 'rectangle' }),
    ply(BIAXIAL, 1, '±45'),
    ply(TAPE, 2, '0', { area: '0.42 m²' }),
    coat(SEAL_COAT),
    bondLine(PASTE, '4.6 m', '18 mm²'),
    inserts(INSERT, 4),
  ]),
]);

const AILERON = laminate(RESINS.byHand, '58 %', [
  region('Skins, both', '1.10 m²', [
    ply(TWILL, 1, '±45'),
    core(THIN_FOAM, { area: '0.95 m²', perimeter: '4.40 m', bevel: '45°', outline: 'rectangle' }),
    ply(TWILL, 1, '±45'),
    coat(SEAL_COAT),
    bondLine(PASTE, '0.8 m', '20 mm²'),
    inserts(INSERT, 6),
  ]),
]);

const LAY_UPS: readonly LayUpRow[] = [
  {
    part: 'T-13',
    week: 5,
    remark: AS_RELEASED,
    schedule: laminate(RESINS.prepreg, '66 %', [
      region('Caps', '0.12 m²', [ply(PREPREG, 12, '0')]),
      region('Web', '0.30 m²', [ply(PREPREG, 8, '±45'), bondLine(PASTE, '1.2 m', '20 mm²'), inserts(INSERT, 4)]),
    ]),
  },
  {
    part: 'T-21',
    week: 8,
    remark: AS_RELEASED,
    schedule: laminate(RESINS.infused, '60 %', [
      region(
        'Skin',
        '1.36 m²',
        [
          ply(TWILL, 1, '±45'),
          core(THIN_FOAM, { area: '1.05 m²', perimeter: '5.60 m', bevel: '30°', outline: 'rectangle' }),
          ply(TWILL, 1, '0/90'),
          coat(SEAL_COAT),
          inserts(INSERT, 3),
        ],
        { perimeter: '6.40 m' },
      ),
    ]),
  },
  {
    part: 'W-13',
    week: 12,
    remark: AS_RELEASED,
    schedule: laminate(RESINS.prepreg, '66 %', [
      region('Caps', '0.55 m²', [ply(PREPREG, 20, '0')]),
      region('Web', '0.78 m²', [ply(PREPREG, 10, '±45'), bondLine(PASTE, '4.6 m', '20 mm²'), inserts(INSERT, 12)]),
    ]),
  },
  {
    part: 'H-24',
    week: 19,
    remark: 'Ply by ply, with the hard points of wing and pylon; areas from the drawing.',
    shape: 'main frame',
    schedule: laminate(RESINS.infused, '60 %', [
      region('Web and flange', '1.12 m²', [
        ply(BIAXIAL, 1, '±45'),
        core(THICK_FOAM, { coverage: '60 %', perimeter: '7.20 m', bevel: '45°', outline: 'other' }),
        ply(BIAXIAL, 1, '±45'),
        ply(TWILL, 2, '0/90', { area: '0.36 m²' }),
        inserts(PLATE, 4),
        inserts(INSERT, 10),
        fillet(MICRO, '2.0 m', '20 mm²'),
      ]),
    ]),
  },
  {
    part: 'W-15',
    week: 20,
    remark: 'Same for all fourteen. Plies only.',
    schedule: laminate(RESINS.byHand, '55 %', [
      region('Rib with flange', '0.110 m²', [ply(TWILL, 4, '±45'), ply(TWILL, 2, '0/90', { area: '0.04 m²' })]),
    ]),
  },
  {
    part: 'W-11',
    week: 24,
    remark: 'Ply by ply; area from the drawing of the right one, mirrored.',
    shape: 'wing upper skin, left',
    schedule: WING_UPPER,
  },
  { part: 'W-12', week: 24, remark: AS_RELEASED, schedule: WING_LOWER },
  {
    part: 'W-21',
    week: 24,
    remark: 'Ply by ply; area from the drawing.',
    shape: 'wing upper skin, right',
    schedule: WING_UPPER,
  },
  { part: 'W-22', week: 24, remark: MIRRORED, schedule: WING_LOWER },
  {
    part: 'H-15',
    week: 36,
    remark: 'Ply by ply; area from the drawing.',
    shape: 'bow deck',
    schedule: laminate(RESINS.infused, '60 %', [
      region('Deck', '1.45 m²', [
        ply(TWILL, 1, '±45'),
        ply(BIAXIAL, 1, '±45'),
        core(THICK_FOAM, { area: '1.08 m²', perimeter: '4.60 m', bevel: '30°', outline: 'other' }),
        ply(BIAXIAL, 1, '±45'),
        coat(SEAL_COAT),
        inserts(PLATE, 2),
        bondLine(PASTE, '3.0 m', '20 mm²'),
      ]),
    ]),
  },
  {
    part: 'H-16',
    week: 37,
    remark: 'Core is kerfed lengthwise to go round the turtle back.',
    schedule: laminate(RESINS.infused, '60 %', [
      region('Deck', '2.22 m²', [
        ply(TWILL, 1, '±45'),
        ply(BIAXIAL, 1, '±45'),
        core(THICK_FOAM, {
          ...{ area: '1.75 m²', perimeter: '7.40 m', bevel: '30°', outline: 'rectangle' },
          ...{ 'kerf length': '26 m', 'kerf width': '1.0 mm', 'kerf depth': '8 mm' },
        }),
        ply(BIAXIAL, 1, '±45'),
        coat(SEAL_COAT),
        inserts(PLATE, 2),
        inserts(INSERT, 8),
        bondLine(PASTE, '2.4 m', '20 mm²'),
      ]),
    ]),
  },
  { part: 'W-31', week: 41, remark: AS_RELEASED, schedule: AILERON },
  { part: 'W-32', week: 41, remark: MIRRORED, schedule: AILERON },
  {
    part: 'H-31',
    week: 42,
    remark: AS_RELEASED,
    schedule: laminate(RESINS.infused, '60 %', [
      region(
        'Floor',
        '1.29 m²',
        [
          ply(TWILL, 1, '±45'),
          ply(BIAXIAL, 1, '±45'),
          core(THICK_FOAM, { coverage: '70 %', perimeter: '4.20 m', bevel: '45°', outline: 'rectangle' }),
          ply(TWILL, 1, '0/90'),
          inserts(INSERT, 12),
          inserts(PLATE, 1),
          bondLine(PASTE, '2.0 m', '20 mm²'),
        ],
        { perimeter: '5.00 m' },
      ),
    ]),
  },
];

export function layUpOf(part: string): LayUpRow | undefined {
  return LAY_UPS.find((row) => row.part === part);
}
