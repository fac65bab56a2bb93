/**
 * From gross and tare to the net mass of a piece, and how well the scale knows it (rules W1, U1).
 */
import type { StatementOf } from '#shared/ledger/entry.ts';

type Weighing = Pick<
  StatementOf<'weighing'>,
  'readings' | 'pieces' | 'netKg' | 'grossResolutionKg' | 'tareResolutionKg'
>;

/** Mean net of the readings in kilograms, all pieces on the scale together: gross less tare (rule W1). */
export function meanNetKg(readings: readonly { readonly grossKg: number; readonly tareKg: number }[]): number {
  const totalKg = readings.reduce((sumKg, reading) => sumKg + (reading.grossKg - reading.tareKg), 0);
  return totalKg / readings.length;
}

/** Net mass of one piece in kilograms: a count divides a lot (rule W1). */
export function pieceNetKg(weighing: Weighing): number {
  return weighing.netKg / weighing.pieces.length;
}

/**
 * Standard uncertainty of the net mass of one piece, in kilograms. A reading resolved to d has d/sqrt(12) (GUM, JCGM
 * 100, F.2.2.1); the net carries the resolution of gross and of tare; n readings that scatter by s add s/sqrt(n).
 */
export function pieceNetStdKg(weighing: Weighing): number {
  const resolutionVariance = (weighing.grossResolutionKg ** 2 + weighing.tareResolutionKg ** 2) / 12;
  return Math.sqrt(resolutionVariance + scatterVariance(weighing)) / weighing.pieces.length;
}

function scatterVariance(weighing: Weighing): number {
  const count = weighing.readings.length;
  if (count < 2) return 0;
  const squares = weighing.readings.reduce(
    (sum, reading) => sum + (reading.grossKg - reading.tareKg - weighing.netKg) ** 2,
    0,
  );
  return squares / (count - 1) / count;
}
