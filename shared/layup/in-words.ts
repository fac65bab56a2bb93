/** A lay-up schedule in the words that state it again: what was typed where it still says the same, with the materials as they were copied. */
import { inWords, shareInWords } from '#shared/quantity/in-words.ts';
import { readArea, readLength } from '#shared/quantity/typed.ts';
import { lineInWords } from './line-words.ts';
import { type MaterialWords, materialInWords, stated } from './material-words.ts';
import type { LayUp, Region } from './schedule.ts';

type Words = Readonly<Record<string, string>>;
type RegionWords = { readonly lines: readonly Words[] } & { readonly [field: string]: string | readonly Words[] };
export type LayUpWords = {
  readonly materials: readonly MaterialWords[];
  readonly regions: readonly RegionWords[];
} & { readonly [field: string]: string | readonly MaterialWords[] | readonly RegionWords[] };

/** Without the materials the schedule is stated with the figures that the list has now. */
export function layUpInWords({ laminate, materials, regions, typed }: LayUp): LayUpWords {
  return {
    ...(laminate === undefined ? {} : laminateInWords(laminate, typed)),
    materials: materials.map(materialInWords),
    regions: regions.map(regionInWords),
  };
}

function laminateInWords(laminate: NonNullable<LayUp['laminate']>, typed: LayUp['typed']): Words {
  const { resin, fibreBy, fibreFraction, fibreFractionStd, band } = laminate;
  const field = fibreBy === 'mass' ? 'fibre by mass' : 'fibre by volume';
  const isStated = band.from === 'stated';
  return stated({
    resin,
    [field]: shareInWords(typed[field], fibreFraction),
    'fraction uncertainty': shareInWords(typed['fraction uncertainty'], fibreFractionStd),
    // A default stays one, and follows the process.
    'band low': isStated ? shareInWords(typed['band low'], band.lowWf) : undefined,
    'band high': isStated ? shareInWords(typed['band high'], band.highWf) : undefined,
  });
}

function regionInWords({ name, areaM2, areaStd, perimeterM, lines, typed }: Region): RegionWords {
  return {
    ...stated({
      name,
      area: inWords(typed['area'], areaM2, readArea, 'm²'),
      'area uncertainty': shareInWords(typed['area uncertainty'], areaStd),
      perimeter: inWords(typed['perimeter'], perimeterM, readLength, 'm'),
    }),
    lines: lines.map(lineInWords),
  };
}
