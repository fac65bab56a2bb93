/**
 * How fast the predicted mass has grown of late, and where that leads (rule F10): the slope of a plain least-squares line over the last 90 days,
 * and the day on which the forecast, growing on at that rate, would meet what it is aimed at. It says what would be if nothing changed, and no
 * more; where the days are too few, or the rate cannot be told from none, it says so.
 */
import type { ForecastDayReport } from '#shared/contract/forecast.ts';

/** How far back the rate looks, and how many days with entries it needs. Common practice, no source. */
export const GROWTH_WINDOW_DAYS = 90;
export const LEAST_GROWTH_DAYS = 5;
/** How many standard errors tell a rate from none. */
const COVERAGE = 2;
/** Beyond this nothing is told: a shop plans no further by such a line. */
export const FURTHEST_DAYS = 5 * 365;

const DAY_MS = 86_400_000;

export type GrowthRate = {
  /** The last day with entries; the window ends with it. */
  readonly lastDay: string;
  /** Days with entries in the window. */
  readonly dayCount: number;
  readonly kgPerDay: number;
  readonly kgPerDayStd: number;
  /** The rate is more than two standard errors from none. */
  readonly isTold: boolean;
};

type GrowthDay = Pick<ForecastDayReport, 'day' | 'predictedKg' | 'forecastKg'>;

/** The rate over the window that ends with the last day; undefined where it has too few days. Days oldest first, one each. */
export function growthRate(days: readonly GrowthDay[]): GrowthRate | undefined {
  const last = days.at(-1);
  if (last === undefined) return undefined;
  const atOf = (day: string) => (Date.parse(day) - Date.parse(last.day)) / DAY_MS;
  const window = days
    .map(({ day, predictedKg }) => ({ at: atOf(day), predictedKg }))
    .filter(({ at }) => at > -GROWTH_WINDOW_DAYS);
  const dayCount = window.length;
  if (dayCount < LEAST_GROWTH_DAYS) return undefined;
  const meanAt = window.reduce((sum, { at }) => sum + at, 0) / dayCount;
  const meanKg = window.reduce((sum, { predictedKg }) => sum + predictedKg, 0) / dayCount;
  const spread = window.reduce((sum, { at }) => sum + (at - meanAt) ** 2, 0);
  const kgPerDay =
    window.reduce((sum, { at, predictedKg }) => sum + (at - meanAt) * (predictedKg - meanKg), 0) / spread;
  const leftKg2 = window.reduce(
    (sum, { at, predictedKg }) => sum + (predictedKg - meanKg - kgPerDay * (at - meanAt)) ** 2,
    0,
  );
  const kgPerDayStd = Math.sqrt(leftKg2 / (dayCount - 2) / spread);
  return {
    lastDay: last.day,
    dayCount,
    kgPerDay,
    kgPerDayStd,
    isTold: Math.abs(kgPerDay) > COVERAGE * kgPerDayStd,
  };
}

/** Where the forecast stands to what it is aimed at, target less reserve. */
export type Crossing =
  /** It is above, and has been since this day, by the aim of today. */
  | { readonly is: 'crossed'; readonly since: string }
  /** It is within, and the rate does not lead there, or not within five years. */
  | { readonly is: 'not in sight' }
  /** It would get there on this day; `notBefore` where the rate were two standard errors higher. */
  | { readonly is: 'ahead'; readonly on: string; readonly notBefore: string }
  /** The rate may be none; were it two standard errors higher, the forecast would not get there before this day. */
  | { readonly is: 'not before'; readonly notBefore: string };

/** Undefined where there is no day. `aimKg`: target less reserve, as they are today. */
export function crossingOf(days: readonly GrowthDay[], aimKg: number): Crossing | undefined {
  const last = days.at(-1);
  if (last === undefined) return undefined;
  if (last.forecastKg > aimKg) {
    const within = days.findLastIndex(({ forecastKg }) => forecastKg <= aimKg);
    return { is: 'crossed', since: days[within + 1]?.day ?? last.day };
  }
  const rate = growthRate(days);
  if (rate === undefined) return { is: 'not in sight' };
  const dayAt = (kgPerDay: number) => dayReached(last.day, (aimKg - last.forecastKg) / kgPerDay);
  const notBefore = dayAt(rate.kgPerDay + COVERAGE * rate.kgPerDayStd);
  const on = dayAt(rate.kgPerDay);
  if (notBefore === undefined) return { is: 'not in sight' };
  return rate.isTold && on !== undefined ? { is: 'ahead', on, notBefore } : { is: 'not before', notBefore };
}

/** The day so many days after another; undefined where it is never reached, or too far off to be told. */
function dayReached(from: string, dayCount: number): string | undefined {
  if (!(dayCount >= 0 && dayCount <= FURTHEST_DAYS)) return undefined;
  return new Date(Date.parse(from) + Math.ceil(dayCount) * DAY_MS).toISOString().slice(0, 10);
}
