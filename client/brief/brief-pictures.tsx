/** The pictures of a brief, drawn from its kept content alone: growth with target and band, the CG with its range, and the bridge by cause. */

import { useCallback, useMemo } from 'react';
import type { BriefContent, BriefDay } from '#shared/contract/brief.ts';
import type { BridgeReport } from '#shared/contract/reports.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { bridgeConfig } from '../ledger/bridge-config.ts';
import { bridgeLines } from '../ledger/bridge-lines.ts';
import { BridgeTable } from '../ledger/bridge-table.tsx';
import { Chart, type Line } from '../ledger/chart.tsx';
import { Picture } from '../ledger/picture.tsx';
import { plusMinus, type Shown } from '../pieces/units.ts';

type Told = { readonly content: BriefContent; readonly shown: Shown };

export function GrowthPicture({ content, shown }: Told) {
  const { days, forecast } = content;
  const { mass, massWithStd, units } = shown;
  const factor = MASS_UNIT_KG[units.mass];
  const lines = useMemo<readonly Line[]>(() => {
    const of = (pick: (day: BriefDay) => number | undefined) => valuesOf(days, pick, factor);
    const edge = { colour: '--chart-forecast', isEdge: true } as const;
    return [
      { name: say`predicted`, values: of((day) => day.predictedKg), colour: '--chart-predicted' },
      { name: say`forecast`, values: of((day) => day.forecastKg), colour: '--chart-forecast', dash: [4, 2.5] },
      { name: say`band of the forecast`, values: of((day) => day.highKg), fillToNext: true, ...edge },
      { name: say`its lower edge`, values: of((day) => day.lowKg), ...edge },
      { name: say`target`, values: of((day) => day.targetKg), colour: '--chart-target', dash: [8, 4] },
    ];
  }, [days, factor]);
  const show = useCallback((value: number) => mass(value * factor).replace(/\.?0+$/, ''), [mass, factor]);
  const dates = useMemo(() => days.map(({ day }) => day), [days]);
  const target =
    forecast.targets === undefined ? '' : say`, target ${shown.massWithUnit(forecast.targets.emptyMassKg)}`;
  const now = plusMinus(massWithStd(forecast.forecastKg, forecast.forecastStdKg), units.mass);
  return (
    <Chart
      title={say`Predicted and forecast empty weight, by day`}
      summary={say`${shown.massWithUnit(forecast.predictedKg)} predicted, forecast ${now}${target}. The band holds nine in ten.`}
      days={dates}
      measure={say`empty weight`}
      unit={units.mass}
      lines={lines}
      show={show}
    >
      <DaysTable
        days={days}
        columns={[
          { heading: say`predicted, ${units.mass}`, cell: (day) => mass(day.predictedKg) },
          { heading: say`forecast, ${units.mass}`, cell: (day) => mass(day.forecastKg) },
          { heading: say`band from, ${units.mass}`, cell: (day) => mass(day.lowKg) },
          { heading: say`to, ${units.mass}`, cell: (day) => mass(day.highKg) },
          { heading: say`target, ${units.mass}`, cell: (day) => mass(day.targetKg) },
        ]}
      />
    </Chart>
  );
}

export function CgPicture({ content, shown }: Told) {
  const { days, figures, forecast } = content;
  const { length, units } = shown;
  const factor = LENGTH_UNIT_M[units.length];
  const lines = useMemo<readonly Line[]>(() => {
    const of = (pick: (day: BriefDay) => number | undefined) => valuesOf(days, pick, factor);
    const edge = { colour: '--chart-forecast', isEdge: true } as const;
    const range = { colour: '--chart-range', dash: [8, 4] } as const;
    return [
      { name: say`CG x, predicted`, values: of((day) => day.cgXM), colour: '--chart-predicted' },
      { name: say`forecast`, values: of((day) => day.cgForecastM), colour: '--chart-forecast', dash: [4, 2.5] },
      { name: say`band of the forecast`, values: of((day) => day.cgHighM), fillToNext: true, ...edge },
      { name: say`its lower edge`, values: of((day) => day.cgLowM), ...edge },
      { name: say`aft end of the range`, values: of((day) => day.cgAftM), ...range },
      { name: say`forward end`, values: of((day) => day.cgForwardM), ...range },
    ];
  }, [days, factor]);
  const show = useCallback((value: number) => length(value * factor), [length, factor]);
  const dates = useMemo(() => days.map(({ day }) => day), [days]);
  const { xM, xStdM } = figures.cg;
  const ahead = forecast.cg.x;
  const summary =
    xM === undefined
      ? say`No part has a station yet.`
      : say`${plusMinus(shown.lengthWithStd(xM, xStdM), units.length)} aft of the datum predicted${ahead === undefined ? '' : say`, forecast ${plusMinus(shown.lengthWithStd(ahead.atM, ahead.stdM), units.length)}`}.`;
  return (
    <Chart
      title={say`Centre of gravity over the build, against its range`}
      summary={summary}
      days={dates}
      measure={say`CG x`}
      unit={units.length}
      lines={lines}
      show={show}
    >
      <DaysTable
        days={days}
        columns={[
          { heading: say`predicted, ${units.length}`, cell: (day) => length(day.cgXM) },
          { heading: say`forecast, ${units.length}`, cell: (day) => length(day.cgForecastM) },
          { heading: say`forward, ${units.length}`, cell: (day) => length(day.cgForwardM) },
          { heading: say`aft, ${units.length}`, cell: (day) => length(day.cgAftM) },
        ]}
      />
    </Chart>
  );
}

export function BridgePicture({ content, shown }: Told) {
  const bridge = useMemo(() => causesOf(content), [content]);
  const configure = useCallback(() => bridgeConfig(bridge, shown), [bridge, shown]);
  const { from, to } = content;
  const since = from.seq === 0 ? say`the beginning` : say`entry ${from.seq}`;
  const summary = say`From ${shown.massWithUnit(from.predictedKg)} at ${since} to ${shown.massWithUnit(to.predictedKg)} at entry ${to.seq}: ${shown.massWithUnit(to.predictedKg - from.predictedKg, { sign: true })}.`;
  return (
    <Picture
      title={say`Change in predicted empty weight, by cause`}
      summary={summary}
      configure={configure}
      barCount={bridgeLines(bridge).filter(({ massKg }) => massKg !== 0).length + 1}
    >
      <BridgeTable bridge={bridge} shown={shown} aircraftId={content.aircraft.id} />
    </Picture>
  );
}

function causesOf({ from, to, bridge }: BriefContent): BridgeReport {
  const end = ({ seq, predictedKg, cgXM, marginKg }: BriefContent['from']) => ({
    ...{ at: String(seq), predictedKg, cgXM, marginKg },
  });
  return { axis: 'entry', by: 'cause', from: end(from), to: end(to), effects: bridge.causes, rows: [] };
}

function valuesOf(
  days: readonly BriefDay[],
  pick: (day: BriefDay) => number | undefined,
  factor: number,
): readonly (number | null)[] {
  return days.map((day) => {
    const value = pick(day);
    return value === undefined ? null : value / factor;
  });
}

function DaysTable(props: {
  readonly days: readonly BriefDay[];
  readonly columns: readonly { readonly heading: string; readonly cell: (day: BriefDay) => string }[];
}) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{say`Day`}</th>
          {props.columns.map(({ heading }) => (
            <th key={heading} scope="col" className="number">
              {heading}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {props.days.toReversed().map((day) => (
          <tr key={day.day}>
            <td>{dayWords(day.day)}</td>
            {props.columns.map(({ heading, cell }) => (
              <td key={heading} className="number">
                {cell(day)}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
