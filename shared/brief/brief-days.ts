/** The days of a brief's pictures (rules B1, F4, L7): predicted, forecast and CG by the day things happened, as known at its entry. */
import type { BriefDay } from '#shared/contract/brief.ts';
import { forecastByDay } from '#shared/forecast/history.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { daysReport } from '#shared/rollup/report.ts';

/** More days than a picture has room for are thinned to the last one of so many spans of time. */
export const MOST_BRIEF_DAYS = 400;

export function briefDays(ledger: Ledger): readonly BriefDay[] {
  const forecasts = new Map(forecastByDay(ledger).map((day) => [day.day, day]));
  const days = daysReport(ledger).flatMap(({ day, cgXM, cgForwardM, cgAftM }): BriefDay[] => {
    const forecast = forecasts.get(day);
    if (forecast === undefined) return [];
    const { predictedKg, forecastKg, lowKg, highKg, targetKg, cgX } = forecast;
    const cgForecast = { cgForecastM: cgX?.atM, cgLowM: cgX?.lowM, cgHighM: cgX?.highM };
    return [{ day, predictedKg, forecastKg, lowKg, highKg, targetKg, cgXM, ...cgForecast, cgForwardM, cgAftM }];
  });
  return thinned(days);
}

/** Oldest first; the first and the last day stay. */
export function thinned<Day extends { readonly day: string }>(days: readonly Day[]): readonly Day[] {
  const [first, last] = [days[0], days.at(-1)];
  if (days.length <= MOST_BRIEF_DAYS || first === undefined || last === undefined) return days;
  const from = Date.parse(first.day);
  const spanMs = (Date.parse(last.day) - from) / (MOST_BRIEF_DAYS - 1);
  const spanOf = ({ day }: Day) => Math.ceil((Date.parse(day) - from) / spanMs);
  return days.filter((day, at) => {
    const next = days[at + 1];
    return next === undefined || spanOf(next) > spanOf(day);
  });
}
