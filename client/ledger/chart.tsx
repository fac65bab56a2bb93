/** Figures over days as lines. */

import type { ChartConfiguration } from 'chart.js';
import { type ReactNode, useCallback } from 'react';
import { dayWords, monthWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { inkOf, Picture } from './picture.tsx';

export type Line = {
  readonly name: string;
  /** One value a day; null where there is none. */
  readonly values: readonly (number | null)[];
  readonly colour: '--chart-predicted' | '--chart-forecast' | '--chart-target' | '--chart-range';
  readonly dash?: readonly number[];
  /** Fill the space down to the next line. */
  readonly fillToNext?: boolean;
  /** A thin line beside another one: the edge of its band. */
  readonly isEdge?: boolean;
};

export function Chart(props: {
  readonly title: string;
  readonly summary: string;
  readonly days: readonly string[];
  /** What the figures are, for their axis. */
  readonly measure: string;
  readonly unit: string;
  readonly lines: readonly Line[];
  readonly show: (value: number) => string;
  readonly children: ReactNode;
}) {
  const { title, summary, days, lines, measure, unit, show } = props;
  const configure = useCallback(
    () => configOf({ days, lines, measure, unit, show }),
    [days, lines, measure, unit, show],
  );
  return (
    <Picture title={title} summary={summary} configure={configure}>
      {props.children}
    </Picture>
  );
}

type Drawn = {
  readonly days: readonly string[];
  readonly lines: readonly Line[];
  readonly measure: string;
  readonly unit: string;
  readonly show: (value: number) => string;
};

function configOf({ days, lines, measure, unit, show }: Drawn): ChartConfiguration<'line'> {
  const { colour, ink, font } = inkOf();
  const points = days.map((day) => Date.parse(day));
  // A line needs two days: of a single one each figure is a point, in the middle, and the ends of a band are dashes.
  const isOneDay = points.length === 1;
  const [first = 0, last = 1] = [points[0], points.at(-1)];
  return {
    type: 'line',
    data: {
      datasets: lines.map((line) => ({
        label: line.name,
        data: line.values.map((value, at) => ({ x: points[at] ?? 0, y: value ?? Number.NaN })),
        borderColor: colour(line.colour),
        backgroundColor: `${colour(line.colour)}22`,
        borderDash: [...(line.dash ?? [])],
        borderWidth: line.isEdge === true ? 1 : 2,
        stepped: 'after' as const,
        pointRadius: isOneDay ? (line.isEdge === true ? 9 : 5) : 0,
        pointStyle: line.isEdge === true ? 'line' : 'circle',
        pointBackgroundColor: colour(line.colour),
        pointHitRadius: 12,
        fill: line.fillToNext === true ? '+1' : false,
      })),
    },
    options: {
      animation: false,
      responsive: true,
      maintainAspectRatio: false,
      interaction: { mode: 'index', intersect: false },
      scales: {
        x: {
          type: 'linear',
          min: isOneDay ? first - DAY_MS : first,
          max: isOneDay ? last + DAY_MS : last,
          title: { display: true, text: say`day on which it happened`, color: ink, font },
          grid: { color: colour('--chart-grid') },
          afterBuildTicks: (axis) => {
            const at = isOneDay ? [first] : monthsBetween(axis.min, axis.max, axis.width / MONTH_LABEL_PX);
            axis.ticks = at.map((value) => ({ value }));
          },
          ticks: {
            color: ink,
            font,
            maxRotation: 0,
            callback: (value) => (isOneDay ? dayWords : monthWords)(dayOf(Number(value))),
          },
        },
        y: {
          grid: { color: colour('--chart-grid') },
          border: { display: false },
          title: { display: true, text: `${measure}, ${unit}`, color: ink, font },
          ticks: { color: ink, font, callback: (value) => show(Number(value)) },
        },
      },
      plugins: {
        legend: {
          position: 'bottom',
          labels: {
            color: ink,
            font,
            boxHeight: 0,
            boxWidth: 28,
            padding: 14,
            // One edge of a band speaks for both.
            filter: ({ datasetIndex = 0 }) =>
              lines[datasetIndex]?.isEdge !== true || lines[datasetIndex].fillToNext === true,
          },
        },
        tooltip: {
          callbacks: {
            title: (items) => dayWords(dayOf(items[0]?.parsed.x ?? 0)),
            label: (item) => `${item.dataset.label}: ${show(item.parsed.y ?? 0)} ${unit}`,
          },
        },
      },
    },
  };
}

const DAY_MS = 86_400_000;
/** What the name of a month takes on the axis, with air around it. */
const MONTH_LABEL_PX = 80;

/** First days of months from one time to another, evenly apart, no more of them than there is room for. */
function monthsBetween(from: number, to: number, most: number): number[] {
  const start = new Date(from);
  const firsts: number[] = [];
  for (let month = 1; firsts.at(-1) === undefined || (firsts.at(-1) ?? 0) <= to; month += 1)
    firsts.push(Date.UTC(start.getUTCFullYear(), start.getUTCMonth() + month, 1));
  firsts.pop();
  const step = [1, 2, 3, 6, 12, 24].find((months) => firsts.length / months <= Math.max(2, most)) ?? 60;
  const shown = firsts.filter((_, at) => at % step === 0);
  // A build younger than a month has no first day in it: its own first day stands there.
  return shown.length === 0 ? [from] : shown;
}

function dayOf(time: number): string {
  return new Date(time).toISOString().slice(0, 10);
}
