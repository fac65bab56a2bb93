/**
 * How predicted and forecast empty weight went, by the day things happened, with the band of the forecast and the target in force on each
 * day (rules F4, L7).
 */

import { useCallback, useMemo } from 'react';
import type { ForecastDayReport } from '#shared/contract/forecast.ts';
import type { DayReport, TargetReport } from '#shared/contract/reports.ts';
import { MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { plusMinus, type Shown } from '../pieces/units.ts';
import { Chart, type Line } from './chart.tsx';
import { DayTable } from './day-table.tsx';
import { growthWords } from './growth-words.ts';

export function GrowthChart(props: {
  readonly days: readonly DayReport[];
  /** Empty while they are on the way. */
  readonly forecast: readonly ForecastDayReport[];
  readonly targets: TargetReport | undefined;
  readonly shown: Shown;
}) {
  const { days, shown } = props;
  const { mass, massWithStd, units } = shown;
  const factor = MASS_UNIT_KG[units.mass];
  const byDay = useMemo(() => new Map(props.forecast.map((one) => [one.day, one])), [props.forecast]);
  const lines = useMemo<readonly Line[]>(() => {
    const inUnit = (massKg: number | undefined) => (massKg === undefined ? null : massKg / factor);
    const ofForecast = (pick: (day: ForecastDayReport) => number) =>
      days.map(({ day }) => {
        const one = byDay.get(day);
        return one === undefined ? null : pick(one) / factor;
      });
    const edge = { colour: '--chart-forecast', isEdge: true } as const;
    return [
      { name: say`predicted`, values: days.map((day) => inUnit(day.predictedKg)), colour: '--chart-predicted' },
      ...(byDay.size === 0
        ? []
        : ([
            {
              name: say`forecast`,
              values: ofForecast((one) => one.forecastKg),
              colour: '--chart-forecast',
              dash: [4, 2.5],
            },
            { name: say`band of the forecast`, values: ofForecast((one) => one.highKg), fillToNext: true, ...edge },
            { name: say`its lower edge`, values: ofForecast((one) => one.lowKg), ...edge },
          ] as const)),
      { name: say`target`, values: days.map((day) => inUnit(day.targetKg)), colour: '--chart-target', dash: [8, 4] },
    ];
  }, [days, byDay, factor]);
  const show = useCallback((value: number) => mass(value * factor).replace(/\.?0+$/, ''), [mass, factor]);
  const dates = useMemo(() => days.map((day) => day.day), [days]);
  const rounded = (day: DayReport, pick: (one: ForecastDayReport) => number) => {
    const one = byDay.get(day.day);
    return one === undefined ? '–' : massWithStd(pick(one), one.forecastStdKg).value;
  };
  return (
    <Chart
      title={say`Predicted and forecast empty weight, by day`}
      summary={`${summaryOf(days.at(-1), byDay, shown)} ${growthWords(props.forecast, props.targets, shown)}`.trim()}
      days={dates}
      measure={say`empty weight`}
      unit={units.mass}
      lines={lines}
      show={show}
    >
      <DayTable
        days={days}
        columns={[
          { heading: say`basic, ${units.mass}`, cell: (day) => mass(day.basicKg) },
          { heading: say`predicted, ${units.mass}`, cell: (day) => mass(day.predictedKg) },
          { heading: say`forecast, ${units.mass}`, cell: (day) => rounded(day, (one) => one.forecastKg) },
          { heading: say`band from, ${units.mass}`, cell: (day) => rounded(day, (one) => one.lowKg) },
          { heading: say`to, ${units.mass}`, cell: (day) => rounded(day, (one) => one.highKg) },
          { heading: say`target, ${units.mass}`, cell: (day) => mass(day.targetKg) },
        ]}
      />
    </Chart>
  );
}

function summaryOf(
  last: DayReport | undefined,
  byDay: ReadonlyMap<string, ForecastDayReport>,
  { massWithStd, massWithUnit, units }: Shown,
): string {
  if (last === undefined) return '';
  const one = byDay.get(last.day);
  const target = last.targetKg === undefined ? '' : say`, target ${massWithUnit(last.targetKg)}`;
  if (one === undefined) return say`${massWithUnit(last.predictedKg)} predicted on ${dayWords(last.day)}${target}.`;
  const forecast = plusMinus(massWithStd(one.forecastKg, one.forecastStdKg), units.mass);
  return say`${massWithUnit(last.predictedKg)} predicted on ${dayWords(last.day)}, forecast ${forecast}${target}. The band holds nine in ten.`;
}
