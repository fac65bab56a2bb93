/** How the predicted empty weight grew, by the day things happened, against the target in force on each day (rule L7). */
import { useCallback, useMemo } from 'react';
import type { DayReport } from '#shared/contract/reports.ts';
import { MASS_UNIT_KG } from '#shared/quantity/units.ts';
import type { Shown } from '../pieces/units.ts';
import { Chart, type Line } from './chart.tsx';
import { DayTable } from './day-table.tsx';

export function GrowthChart({ days, shown }: { readonly days: readonly DayReport[]; readonly shown: Shown }) {
  const { mass, massWithUnit, units } = shown;
  const factor = MASS_UNIT_KG[units.mass];
  const lines = useMemo<readonly Line[]>(() => {
    const inUnit = (massKg: number | undefined) => (massKg === undefined ? null : massKg / factor);
    return [
      { name: 'predicted', values: days.map((day) => inUnit(day.predictedKg)), colour: '--chart-predicted' },
      { name: 'basic', values: days.map((day) => inUnit(day.basicKg)), colour: '--chart-basic', dash: [2, 3] },
      { name: 'target', values: days.map((day) => inUnit(day.targetKg)), colour: '--chart-target', dash: [8, 4] },
    ];
  }, [days, factor]);
  const show = useCallback((value: number) => mass(value * factor).replace(/\.?0+$/, ''), [mass, factor]);
  const dates = useMemo(() => days.map((day) => day.day), [days]);
  const last = days.at(-1);
  const summary =
    last === undefined
      ? ''
      : `${massWithUnit(last.predictedKg)} predicted on ${last.day}${last.targetKg === undefined ? '' : `, target ${massWithUnit(last.targetKg)}`}.`;
  return (
    <Chart
      title="Growth of the empty weight"
      summary={summary}
      days={dates}
      unit={units.mass}
      lines={lines}
      show={show}
    >
      <DayTable
        days={days}
        columns={[
          { heading: `basic ${units.mass}`, cell: (day) => mass(day.basicKg) },
          { heading: `predicted ${units.mass}`, cell: (day) => mass(day.predictedKg) },
          { heading: `target ${units.mass}`, cell: (day) => mass(day.targetKg) },
        ]}
      />
    </Chart>
  );
}
