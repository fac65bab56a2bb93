/** Where the predicted CG went, by the day things happened, with the range in force on each day. */
import { useCallback, useMemo } from 'react';
import type { DayReport } from '#shared/contract/reports.ts';
import { LENGTH_UNIT_M } from '#shared/quantity/units.ts';
import type { Shown } from '../pieces/units.ts';
import { Chart, type Line } from './chart.tsx';
import { DayTable } from './day-table.tsx';

export function CgChart({ days, shown }: { readonly days: readonly DayReport[]; readonly shown: Shown }) {
  const { length, lengthWithUnit, units } = shown;
  const factor = LENGTH_UNIT_M[units.length];
  const lines = useMemo<readonly Line[]>(() => {
    const inUnit = (stationM: number | undefined) => (stationM === undefined ? null : stationM / factor);
    const range = (name: string, pick: (day: DayReport) => number | undefined, fillToNext: boolean): Line => ({
      name,
      values: days.map((day) => inUnit(pick(day))),
      colour: '--chart-range',
      dash: [8, 4],
      fillToNext,
    });
    return [
      { name: 'CG x, predicted', values: days.map((day) => inUnit(day.cgXM)), colour: '--chart-predicted' },
      range('aft end of the range', (day) => day.cgAftM, true),
      range('forward end', (day) => day.cgForwardM, false),
    ];
  }, [days, factor]);
  const show = useCallback((value: number) => length(value * factor), [length, factor]);
  const dates = useMemo(() => days.map((day) => day.day), [days]);
  const last = days.findLast((day) => day.cgXM !== undefined);
  const summary =
    last === undefined ? 'No part has a station yet.' : `${lengthWithUnit(last.cgXM)} aft of the datum on ${last.day}.`;
  return (
    <Chart
      title="Where the predicted CG went, by day"
      summary={summary}
      days={dates}
      measure="CG x"
      unit={units.length}
      lines={lines}
      show={show}
    >
      <DayTable
        days={days}
        columns={[
          { heading: `CG x ${units.length}`, cell: (day) => length(day.cgXM) },
          { heading: `forward ${units.length}`, cell: (day) => length(day.cgForwardM) },
          { heading: `aft ${units.length}`, cell: (day) => length(day.cgAftM) },
        ]}
      />
    </Chart>
  );
}
