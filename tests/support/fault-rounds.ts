/**
 * How long the fault tests go on and what they draw: some rounds within `npm test`, many by `npm run test:faults`. Every failure tells its seed;
 * `TAREBOOK_FAULT_SEED` gives it again, and `TAREBOOK_FAULT_ROUNDS` the number of rounds.
 */
import { randomInt } from 'node:crypto';
import { type Chance, chanceOf } from './chance.ts';

const given = (name: string) => Number(process.env[name] ?? '') || undefined;

/** So many rounds are meant, and `usual` ones within `npm test`. */
export function faultRounds(usual: number): number {
  return given('TAREBOOK_FAULT_ROUNDS') ?? usual;
}

/** Chance with its seed in words, for the message of what fails. */
export function faultChance(): Chance & { readonly seed: string; below(limit: number): number } {
  const seed = given('TAREBOOK_FAULT_SEED') ?? randomInt(1, 2 ** 31);
  const chance = chanceOf(seed);
  return {
    ...chance,
    seed: `TAREBOOK_FAULT_SEED=${seed}`,
    below: (limit) => Math.floor(chance.uniform() * limit),
  };
}
