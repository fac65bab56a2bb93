/**
 * What was aboard and does not belong, or belongs and was not aboard, in words (rule A1): a fluid by its volume as dipped and its density,
 * anything else by its mass. A row without a way is signed as in the handbooks' tables: with a minus it comes off, without one it goes on.
 * Fields: way, name, fluid, volume, volume uncertainty, density, density uncertainty, mass, mass uncertainty, x, y, z, arm uncertainty.
 */
import type { Typed } from '#shared/quantity/typed.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import type { WeighingCorrection } from './weighing.ts';

export const CORRECTION_FIELDS = [
  ...['way', 'name', 'fluid', 'volume', 'volume uncertainty', 'density', 'density uncertainty'],
  ...['mass', 'mass uncertainty', 'x', 'y', 'z', 'arm uncertainty'],
] as const;

/** Where nothing is stated. Common practice, no source: of a dipped volume, and of a density that follows the temperature. */
export const USUAL_VOLUME_STD = 0.02;
export const USUAL_DENSITY_STD = 0.01;
/** How well the station of a tank's contents or of something aboard is known. */
export const USUAL_ITEM_STD_M = 0.02;

const OF_FLUID = ['volume', 'volume uncertainty', 'density', 'density uncertainty'] as const;
const OF_MASS = ['mass', 'mass uncertainty'] as const;
const WAYS = { 'take off': 'off', 'put on': 'on', aboard: 'off', missing: 'on' } as const;

export function correctionFromWords(reader: FieldReader): WeighingCorrection | undefined {
  const before = reader.problems.length;
  for (const field of ['name', 'x']) reader.need(field);
  const name = reader.text('name', 80);
  const stated = reader.choice('way', ['off', 'on'], WAYS);
  const isFluid = OF_FLUID.some((field) => reader.has(field)) || reader.has('fluid');
  if (isFluid) for (const field of OF_MASS) if (reader.has(field)) reader.problem(field, { code: 'fluid-by-mass' });
  const quantity = signed(reader, isFluid ? 'volume' : 'mass', stated);
  const [x, y, z] = [reader.length('x'), reader.length('y'), reader.length('z')];
  const armStd = std(reader, 'arm uncertainty', reader.length('arm uncertainty'));
  const amount = isFluid ? fluidAmount(reader, quantity) : massAmount(reader, quantity);
  if (name === undefined || x === undefined || quantity === undefined || amount === undefined) return undefined;
  if (reader.problems.length > before) return undefined;
  return {
    ...{ way: quantity.way, name, xM: x.si },
    ...(y === undefined ? {} : { yM: y.si }),
    ...(z === undefined ? {} : { zM: z.si }),
    armStdM: armStd?.si ?? USUAL_ITEM_STD_M,
    ...amount(name),
    typed: { ...reader.typed },
  };
}

type Signed = { readonly way: 'off' | 'on'; readonly amount: Typed };

/** A quantity that may have a minus before it. Two ways to take off one thing would be none: it is asked which was meant. */
function signed(reader: FieldReader, field: 'volume' | 'mass', stated: 'off' | 'on' | undefined): Signed | undefined {
  if (!reader.need(field)) return undefined;
  const text = reader.raw(field) ?? '';
  const isMinus = /^[-−]/.test(text);
  if (isMinus && stated === 'off') {
    reader.problem(field, { code: 'sign-twice', text });
    return undefined;
  }
  const plain = new FieldReader({ [field]: isMinus ? text.slice(1) : text });
  const amount = field === 'volume' ? plain.volume(field) : plain.mass(field);
  for (const { refusal } of plain.problems) reader.problem(field, refusal);
  if (amount === undefined) return undefined;
  reader.typed[field] = isMinus ? `-${amount.typed}` : amount.typed;
  return { way: isMinus ? 'off' : (stated ?? 'on'), amount };
}

function fluidAmount(reader: FieldReader, quantity: Signed | undefined) {
  reader.need('density');
  const density = reader.density('density');
  const fluid = reader.text('fluid', 60);
  const volumeStd = std(reader, 'volume uncertainty', reader.volume('volume uncertainty'));
  const densityStd = std(reader, 'density uncertainty', reader.density('density uncertainty'));
  if (density !== undefined && density.si <= 0)
    reader.problem('density', {
      code: 'out-of-range',
      text: density.typed,
      least: 'more than 0 kg/L',
      most: '25 kg/L',
    });
  if (density === undefined || quantity === undefined) return undefined;
  const { si: volumeM3, lastDigitSi } = quantity.amount;
  return (name: string) => ({
    is: 'fluid' as const,
    ...{ fluid: fluid ?? name, volumeM3, densityKgM3: density.si },
    volumeStdM3: volumeStd?.si ?? Math.max(USUAL_VOLUME_STD * volumeM3, volumeM3 > 0 ? lastDigitSi / Math.sqrt(12) : 0),
    densityStdKgM3: densityStd?.si ?? USUAL_DENSITY_STD * density.si,
  });
}

function massAmount(reader: FieldReader, quantity: Signed | undefined) {
  const massStd = std(reader, 'mass uncertainty', reader.mass('mass uncertainty'));
  if (quantity === undefined) return undefined;
  const { si: massKg, lastDigitSi } = quantity.amount;
  return (_name: string) => ({
    ...{ is: 'mass' as const, massKg },
    massStdKg: massStd?.si ?? (massKg > 0 ? lastDigitSi / Math.sqrt(12) : 0),
  });
}

function std(reader: FieldReader, field: string, read: Typed | undefined): Typed | undefined {
  if (read === undefined || read.si >= 0) return read;
  reader.problem(field, { code: 'negative', what: 'uncertainty' });
  return undefined;
}
