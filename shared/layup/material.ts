/**
 * What a lay-up is made of (rule E3): the figures that make a mass of an area, a length or a count, and how far each may be off. A schedule
 * keeps copies of these, so that a list that is edited later rewrites nothing. Masses in kilograms, lengths in metres.
 */
import { z } from 'zod';
import { plainText } from '#shared/ledger/plain-text.ts';
import { MOST_AREAL_KG_PER_M2, MOST_DENSITY_KG_PER_M3, MOST_LENGTH_M, MOST_MASS_KG } from '#shared/quantity/typed.ts';

const arealKgM2 = z.number().positive().max(MOST_AREAL_KG_PER_M2);
const densityKgM3 = z.number().positive().max(MOST_DENSITY_KG_PER_M3);
const common = {
  name: plainText(80),
  /** Relative standard uncertainty of the figure that makes the mass: areal weight, density, or mass of one. */
  std: z.number().min(0).max(1),
  basis: z.enum(['stated', 'common practice']),
  typed: z.record(z.string(), z.string().max(80)).default({}),
};

/** Dry fibre by area; the density is that of the fibre itself. */
const fabric = z.strictObject({ ...common, is: z.literal('fabric'), arealKgM2, densityKgM3 });
const resin = z.strictObject({ ...common, is: z.literal('resin'), densityKgM3 });
/** `uptakeKgM2` is the resin that one face takes up, with its own relative standard uncertainty. */
const core = z.strictObject({
  ...common,
  is: z.literal('core'),
  densityKgM3,
  thicknessM: z.number().positive().max(MOST_LENGTH_M),
  uptakeKgM2: z.number().min(0).max(MOST_AREAL_KG_PER_M2),
  uptakeStd: z.number().min(0).max(1),
});
/** Mass per area as applied, one face. */
const coat = z.strictObject({ ...common, is: z.literal('coat'), arealKgM2 });
const filler = z.strictObject({ ...common, is: z.literal('filler'), densityKgM3 });
const adhesive = z.strictObject({ ...common, is: z.literal('adhesive'), densityKgM3 });
const fitting = z.strictObject({
  ...common,
  is: z.literal('fitting'),
  massKg: z.number().positive().max(MOST_MASS_KG),
});

export const Material = z.discriminatedUnion('is', [fabric, resin, core, coat, filler, adhesive, fitting]);
export type Material = z.infer<typeof Material>;
export type MaterialKind = Material['is'];
export type MaterialOf<Kind extends MaterialKind> = Extract<Material, { is: Kind }>;

export const MATERIAL_KINDS: readonly MaterialKind[] = [
  'fabric',
  'resin',
  'core',
  'coat',
  'filler',
  'adhesive',
  'fitting',
];

/** Names of materials are one name whatever their case and outer spaces. */
export function materialKey(name: string): string {
  return name.trim().toLowerCase().normalize('NFC');
}

/** True where both say the same of the material, whatever their words for it. */
export function isSameMaterial(one: Material, other: Material): boolean {
  const figures = ({ name: _name, basis: _basis, typed: _typed, ...rest }: Material) =>
    JSON.stringify(rest, Object.keys(rest).sort());
  return figures(one) === figures(other);
}
