/**
 * The CG of a part by two supports (rule W6): with net loads F1, F2 at stations x1, x2 it lies at (F1 x1 + F2 x2)/(F1 + F2), the
 * moment formula for two masses.
 */
import { accept, type Result, refuse } from '#shared/result.ts';

export type Support = {
  readonly netKg: number;
  readonly netStdKg: number;
  readonly stationM: number;
  readonly stationStdM: number;
};

/**
 * Station of the CG in metres and its standard uncertainty, of first order (rule U2):
 * u(x)^2 = sum [(x_i - x)/F]^2 u(F_i)^2 + [F_i/F]^2 u(x_i)^2. Refused where nothing rests on the supports.
 */
export function centreOnSupports(
  first: Support,
  second: Support,
): Result<{ readonly xM: number; readonly xStdM: number }, { readonly code: 'supports-bear-nothing' }> {
  const loadKg = first.netKg + second.netKg;
  if (!(loadKg > 0)) return refuse({ code: 'supports-bear-nothing' });
  const xM = (first.netKg * first.stationM + second.netKg * second.stationM) / loadKg;
  const varianceM2 = [first, second].reduce(
    (sum, { netKg, netStdKg, stationM, stationStdM }) =>
      sum + (((stationM - xM) / loadKg) * netStdKg) ** 2 + ((netKg / loadKg) * stationStdM) ** 2,
    0,
  );
  return accept({ xM, xStdM: Math.sqrt(varianceM2) });
}
