/** The unit that was meant, by the slip that a doubt names (rule W4). */
import type { MassUnit } from '#shared/quantity/units.ts';

export const UNIT_MEANT: Readonly<Record<string, MassUnit>> = {
  'kg for lb': 'lb',
  'lb for kg': 'kg',
  'g for kg': 'kg',
  'kg for g': 'g',
};
