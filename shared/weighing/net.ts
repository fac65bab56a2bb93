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
 * 100, F.2.2.1); the net carries the resolution of gross and of tare; n readings that scatter by s add s/sqrt(n). `gainStd` is
 * the relative standard uncertainty of the scale, which acts on the net (rule U1).
 */
export function pieceNetStdKg(weighing: Weighing, gainStd = 0): number {
  const tareStdKg = resolutionStdKg(weighing.tareResolutionKg);
  return Math.hypot(readingStdKg(weighing), tareStdKg, gainStd * weighing.netKg) / weighing.pieces.length;
}

/** What a reading resolved to d leaves open: d/sqrt(12). */
export function resolutionStdKg(resolutionKg: number): number {
  return resolutionKg / Math.sqrt(12);
}

/** Standard uncertainty of the mean gross reading in kilograms: its resolution and the scatter of the readings. */
export function readingStdKg(weighing: Omit<Weighing, 'pieces'>): number {
  return Math.sqrt(resolutionStdKg(weighing.grossResolutionKg) ** 2 + scatterVariance(weighing));
}

function scatterVariance(weighing: Omit<Weighing, 'pieces'>): number {
  const count = weighing.readings.length;
  if (count < 2) return 0;
  const squares = weighing.readings.reduce(
    (sum, reading) => sum + (reading.grossKg - reading.tareKg - weighing.netKg) ** 2,
    0,
  );
  return squares / (count - 1) / count;
}
