/** How fast the weight has grown of late and where that leads, in words that claim no more than a line through some days can (rule F10). */

import type { ForecastDayReport } from '#shared/contract/forecast.ts';
import type { TargetReport } from '#shared/contract/reports.ts';
import {
  type Crossing,
  crossingOf,
  GROWTH_WINDOW_DAYS,
  type GrowthRate,
  growthRate,
  LEAST_GROWTH_DAYS,
} from '#shared/forecast/growth-rate.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { plusMinus, type Shown } from '../pieces/units.ts';

/** The rate is told for so many days: grams a day are no figure to steer by. */
const TOLD_DAYS = 30;

/** Empty while the days of the forecast are on the way. */
export function growthWords(
  days: readonly ForecastDayReport[],
  targets: TargetReport | undefined,
  shown: Shown,
): string {
  if (days.length === 0) return '';
  const rate = growthRate(days);
  const aimKg = targets === undefined ? undefined : targets.emptyMassKg - targets.reserveKg;
  const crossing = aimKg === undefined ? undefined : crossingOf(days, aimKg);
  const aim = targets?.reserveKg === 0 ? say`the target` : say`the target less reserve`;
  return [rateWords(rate, shown), crossingWords(crossing, rate, aim)].filter((words) => words !== '').join(' ');
}

function rateWords(rate: GrowthRate | undefined, { massWithStd, units }: Shown): string {
  if (rate === undefined)
    return say`No rate of growth is told: there are fewer than ${LEAST_GROWTH_DAYS} days with entries in the last ${GROWTH_WINDOW_DAYS}.`;
  const { kgPerDay, kgPerDayStd, dayCount, lastDay, isTold } = rate;
  const figure = plusMinus(massWithStd(kgPerDay * TOLD_DAYS, kgPerDayStd * TOLD_DAYS, { sign: true }), units.mass);
  const words = say`Over the ${GROWTH_WINDOW_DAYS} days up to ${dayWords(lastDay)} (${dayCount} with entries) the predicted weight changed by ${figure} every ${TOLD_DAYS} days`;
  return isTold ? `${words}.` : say`${words}, which is not told from none.`;
}

function crossingWords(crossing: Crossing | undefined, rate: GrowthRate | undefined, aim: string): string {
  switch (crossing?.is) {
    case 'crossed':
      return say`The forecast has been above ${aim} since ${dayWords(crossing.since)}.`;
    case 'ahead':
      return crossing.on === crossing.notBefore
        ? say`If it went on like that, the forecast would reach ${aim} about ${dayWords(crossing.on)}.`
        : say`If it went on like that, the forecast would reach ${aim} about ${dayWords(crossing.on)}, and hardly before ${dayWords(crossing.notBefore)}.`;
    case 'not before':
      return say`At most like that, the forecast would not reach ${aim} before ${dayWords(crossing.notBefore)}.`;
    case 'not in sight':
      return rate === undefined ? '' : say`Like that, the forecast would not reach ${aim} within five years.`;
    default:
      return '';
  }
}
