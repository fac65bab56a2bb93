/** Where the predicted CG went, by the day things happened, with the range in force on each day. */

import { useCallback, useMemo } from 'react';
import type { DayReport } from '#shared/contract/reports.ts';
import { LENGTH_UNIT_M } from '#shared/quantity/units.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
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
      { name: say`CG x, predicted`, values: days.map((day) => inUnit(day.cgXM)), colour: '--chart-predicted' },
      range(say`aft end of the range`, (day) => day.cgAftM, true),
      range(say`forward end`, (day) => day.cgForwardM, false),
    ];
  }, [days, factor]);
  const show = useCallback((value: number) => length(value * factor), [length, factor]);
  const dates = useMemo(() => days.map((day) => day.day), [days]);
  const last = days.findLast((day) => day.cgXM !== undefined);
  const summary =
    last === undefined
      ? say`No part has a station yet.`
      : say`${lengthWithUnit(last.cgXM)} aft of the datum on ${dayWords(last.day)}.`;
  return (
    <Chart
      title={say`Where the predicted CG went, by day`}
      summary={summary}
      days={dates}
      measure={say`CG x`}
      unit={units.length}
      lines={lines}
      show={show}
    >
      <DayTable
        days={days}
        columns={[
          { heading: say`CG x, ${units.length}`, cell: (day) => length(day.cgXM) },
          { heading: say`forward, ${units.length}`, cell: (day) => length(day.cgForwardM) },
          { heading: say`aft, ${units.length}`, cell: (day) => length(day.cgAftM) },
        ]}
      />
    </Chart>
  );
}
