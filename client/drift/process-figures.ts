/** What a process has shown and what that adds, as figures with their uncertainty (rules F1, F2). */

import type { ProcessForecastReport } from '#shared/contract/forecast.ts';
import { decimalsFor, showFixed } from '#shared/quantity/show.ts';
import { say } from '#shared/words/say.ts';
import { minus, plusMinus, type Shown } from '../pieces/units.ts';

/** `+11.9 ± 1.0 %`, beyond estimate and allowance. */
export function shiftWords(
  forecast: Pick<ProcessForecastReport, 'shiftFraction' | 'shiftStdFraction'> | undefined,
): string {
  if (forecast === undefined) return '–';
  const [value, std] = [forecast.shiftFraction * 100, forecast.shiftStdFraction * 100];
  const decimals = Math.min(1, decimalsFor(std, 1));
  return `${minus(showFixed(value, decimals, { sign: true }))}\u00a0±\u00a0${showFixed(std, decimals)}\u00a0%`;
}

/** `+1.29 ± 0.11 kg` */
export function addsWords(forecast: ProcessForecastReport | undefined, { massWithStd, units }: Shown): string {
  if (forecast === undefined || forecast.openPieces === 0) return say`nothing: no piece is open`;
  return plusMinus(massWithStd(forecast.effectKg, forecast.effectStdKg, { sign: true }), units.mass);
}
