/** What is asked of each kind of material, and what a material says, in plain words with units. */

import type { Material, MaterialKind } from '#shared/layup/material.ts';
import { materialInWords, USUAL_STD, USUAL_UPTAKE_STD } from '#shared/layup/material-words.ts';
import { STARTER_NOTE } from '#shared/layup/starter-materials.ts';
import { say } from '#shared/words/say.ts';

export type MaterialField = {
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  readonly hint?: string | undefined;
};

const DENSITY: MaterialField = { name: 'density', label: say`Density`, unit: 'kg/m³' };

function std(is: MaterialKind): MaterialField {
  return {
    name: 'uncertainty',
    label: say`Uncertainty, ±`,
    unit: '%',
    hint: say`One standard uncertainty of the figure. Left empty: ${Math.round(USUAL_STD[is] * 100)} %, common practice, no source.`,
  };
}

export const FIGURES_OF: Readonly<Record<MaterialKind, readonly MaterialField[]>> = {
  fabric: [
    { name: 'areal', label: say`Dry mass per area`, unit: 'g/m²' },
    { name: 'density', label: say`Density of the fibre`, unit: 'kg/m³' },
    std('fabric'),
  ],
  resin: [{ ...DENSITY, label: say`Density, cured` }, std('resin')],
  core: [
    DENSITY,
    { name: 'thickness', label: say`Thickness`, unit: 'mm' },
    { name: 'uptake', label: say`Resin taken up by one face`, unit: 'g/m²' },
    {
      name: 'uptake uncertainty',
      label: say`Uncertainty of that, ±`,
      unit: '%',
      hint: say`Left empty: ${USUAL_UPTAKE_STD * 100} %, common practice, no source.`,
    },
    std('core'),
  ],
  coat: [
    { name: 'areal', label: say`Mass per area of one face`, unit: 'g/m²', hint: say`As it stays on the part.` },
    std('coat'),
  ],
  filler: [DENSITY, std('filler')],
  adhesive: [DENSITY, std('adhesive')],
  fitting: [{ name: 'mass', label: say`Mass of one`, unit: 'g' }, std('fitting')],
};

export const KIND_TITLES: Readonly<Record<MaterialKind, string>> = {
  fabric: say`Fabrics`,
  resin: say`Resins`,
  core: say`Cores`,
  coat: say`Coats`,
  filler: say`Fillers`,
  adhesive: say`Adhesives`,
  fitting: say`Fittings`,
};

/** `200 g/m², fibre 1780 kg/m³`. */
export function figuresInWords(material: Material): string {
  const words = materialInWords(material);
  const of = (field: string) => (words[field] === undefined ? [] : [inShopUnits(words[field])]);
  switch (material.is) {
    case 'fabric':
      return [...of('areal'), ...of('density').map((density) => say`fibre ${density}`)].join(', ');
    case 'core':
      return [
        ...of('density'),
        ...of('thickness'),
        ...of('uptake').map((uptake) => say`takes up ${uptake} a face`),
      ].join(', ');
    case 'coat':
      return say`${of('areal').join('')} a face`;
    case 'fitting':
      return of('mass').join('');
    default:
      return of('density').join('');
  }
}

/** Figures that nobody typed are kept in SI: they are told in the units of the shop. */
export function inShopUnits(words: string): string {
  const read = /^([\d.e+-]+) (kg\/m²|kg|m)$/.exec(words);
  if (read?.[1] === undefined) return words;
  const unit = { 'kg/m²': 'g/m²', kg: 'g', m: 'mm' }[read[2] ?? ''];
  return `${Number((Number(read[1]) * 1000).toPrecision(12))} ${unit}`;
}

export const BASES = [
  { value: 'stated', words: say`our roll, can or data sheet` },
  { value: 'common practice', words: say`common practice, no source` },
] as const;

/** Where the figures of a material are from. */
export function basisInWords({ basis }: Material): string {
  return basis === 'stated' ? say`stated by the shop` : STARTER_NOTE;
}
