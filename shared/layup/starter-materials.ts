/**
 * Materials that a shop may begin with. Every figure is common practice and has no source: what counts is what the roll, the can and the data
 * sheet in the shop say. They are kinds and not products.
 */
import { say } from '#shared/words/say.ts';
import type { Material } from './material.ts';

export const STARTER_NOTE = say`common practice, no source: check your roll`;

const base = { basis: 'common practice', typed: {} } as const;
const CARBON_KG_M3 = 1780;
const GLASS_KG_M3 = 2550;
const ARAMID_KG_M3 = 1440;

function fabric(name: string, arealKgM2: number, densityKgM3: number): Material {
  return { ...base, is: 'fabric', name, arealKgM2, densityKgM3, std: 0.03 };
}

function core(name: string, densityKgM3: number, thicknessM: number, uptakeKgM2: number): Material {
  return { ...base, is: 'core', name, densityKgM3, thicknessM, uptakeKgM2, uptakeStd: 0.3, std: 0.07 };
}

function coat(name: string, arealKgM2: number): Material {
  return { ...base, is: 'coat', name, arealKgM2, std: 0.25 };
}

function fitting(name: string, massKg: number): Material {
  return { ...base, is: 'fitting', name, massKg, std: 0.05 };
}

export const STARTER_MATERIALS: readonly Material[] = [
  fabric('Carbon twill 200 g/m²', 0.2, CARBON_KG_M3),
  fabric('Carbon biaxial 300 g/m²', 0.3, CARBON_KG_M3),
  fabric('Carbon unidirectional 250 g/m²', 0.25, CARBON_KG_M3),
  fabric('Glass 80 g/m²', 0.08, GLASS_KG_M3),
  fabric('Glass 163 g/m²', 0.163, GLASS_KG_M3),
  fabric('Glass twill 280 g/m²', 0.28, GLASS_KG_M3),
  fabric('Aramid plain 170 g/m²', 0.17, ARAMID_KG_M3),
  { ...base, is: 'resin', name: 'Epoxy, infusion', densityKgM3: 1150, std: 0.02 },
  { ...base, is: 'resin', name: 'Epoxy, hand lay-up', densityKgM3: 1160, std: 0.02 },
  { ...base, is: 'resin', name: 'Epoxy, prepreg', densityKgM3: 1220, std: 0.02 },
  core('PVC foam 75 kg/m³ 6.35 mm', 75, 0.00635, 0.3),
  core('PVC foam 75 kg/m³ 15.875 mm', 75, 0.015875, 0.3),
  core('PVC foam 60 kg/m³ 10 mm', 60, 0.01, 0.3),
  core('Aramid honeycomb 48 kg/m³ 6 mm', 48, 0.006, 0.15),
  { ...base, is: 'filler', name: 'Micro filler (epoxy and hollow spheres)', densityKgM3: 600, std: 0.15 },
  { ...base, is: 'filler', name: 'Flox (epoxy and cotton fibre)', densityKgM3: 1100, std: 0.1 },
  { ...base, is: 'adhesive', name: 'Structural adhesive, epoxy paste', densityKgM3: 1200, std: 0.1 },
  coat('Gel coat, in the mould', 0.5),
  coat('Surface filler, sanded', 0.2),
  coat('Primer, sprayed and sanded', 0.1),
  coat('Top coat, two coats', 0.15),
  fitting('Threaded insert M5', 0.004),
  fitting('Threaded insert M6', 0.007),
  fitting('Hard point plate', 0.03),
];
