/**
 * The two charts of a process as they are drawn (rule D4): the running average with its limits over the single releases, and the two sums
 * with theirs. Where the shift began and where it was called are marked and named.
 */

import type { Chart, ChartConfiguration, ChartDataset, Plugin } from 'chart.js';
import type { ProcessDriftReport, ReleaseReport } from '#shared/contract/forecast.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { inkOf } from '../ledger/picture.tsx';
import { minus } from '../pieces/units.ts';

type Configuration = ChartConfiguration<'line'>;
type Series = ChartDataset<'line'>;

export function averageConfig(report: ProcessDriftReport): Configuration {
  const { colour } = inkOf();
  const limit = (label: string, pick: (point: ReleaseReport) => number): Series => ({
    ...lineOf(label, report.points.map(pick), colour('--chart-target')),
    borderDash: [8, 4],
    stepped: 'middle',
  });
  return configOf(report, say`standard deviations`, [
    lineOf(say`running average`, at(report, 'ewma'), colour('--chart-predicted')),
    {
      ...lineOf(say`single releases, as dots`, at(report, 'deviation'), colour('--ink-soft')),
      showLine: false,
      pointRadius: 3,
      pointStyle: 'circle',
    },
    limit(say`limits of the average`, (point) => point.ewmaUpper),
    limit('', (point) => point.ewmaLower),
  ]);
}

export function sumsConfig(report: ProcessDriftReport): Configuration {
  const { colour } = inkOf();
  const limit = (label: string, sum: number): Series => ({
    ...lineOf(
      label,
      report.points.map(() => sum),
      colour('--chart-target'),
    ),
    borderDash: [8, 4],
  });
  const low = report.points.map(({ cusumLow }) => (cusumLow === 0 ? 0 : -cusumLow));
  return configOf(report, say`summed deviations`, [
    lineOf(say`heavy, summed up`, at(report, 'cusumHigh'), colour('--heavy')),
    { ...lineOf(say`light, summed down`, low, colour('--light')), borderDash: [4, 2.5] },
    limit(say`limits of the sums`, report.limits.h),
    limit('', -report.limits.h),
  ]);
}

function at(report: ProcessDriftReport, field: 'ewma' | 'deviation' | 'cusumHigh'): number[] {
  return report.points.map((point) => point[field]);
}

function lineOf(label: string, values: readonly number[], colour: string): Series {
  return {
    label,
    data: values.map((y, place) => ({ x: place + 1, y })),
    borderColor: colour,
    backgroundColor: colour,
    borderWidth: 2,
    pointRadius: values.length === 1 ? 3 : 0,
    pointHitRadius: 12,
  };
}

function configOf(report: ProcessDriftReport, measure: string, datasets: Series[]): Configuration {
  const { colour, ink, font } = inkOf();
  const { points } = report;
  const partAt = (place: number) => points[place - 1]?.part ?? '';
  return {
    type: 'line',
    data: { datasets },
    options: {
      animation: false,
      responsive: true,
      maintainAspectRatio: false,
      interaction: { mode: 'x', intersect: false },
      // What the marks are called stands above the picture, where no dot lies behind it.
      layout: { padding: { top: report.signal === undefined ? 0 : 2 * markLine(font.size) } },
      scales: {
        x: {
          type: 'linear',
          min: 0.5,
          max: points.length + 0.5,
          grid: { color: colour('--chart-grid') },
          title: { display: true, text: say`releases in their order, by part`, color: ink, font },
          afterBuildTicks: (axis) => {
            axis.ticks = everySo(points.length, axis.width / PART_LABEL_PX).map((value) => ({ value }));
          },
          ticks: { color: ink, font, maxRotation: 0, autoSkip: false, callback: (value) => partAt(Number(value)) },
        },
        y: {
          grid: { color: colour('--chart-grid') },
          border: { display: false },
          title: { display: true, text: measure, color: ink, font },
          ticks: { color: ink, font, callback: (value) => minus(String(Number(Number(value).toPrecision(6)))) },
          grace: '15%',
        },
      },
      plugins: {
        legend: {
          position: 'bottom',
          labels: { color: ink, font, boxHeight: 0, boxWidth: 28, padding: 14, filter: ({ text }) => text !== '' },
        },
        tooltip: {
          filter: ({ dataset }) => dataset.label !== '',
          callbacks: {
            title: (items) => titleOf(points[(items[0]?.parsed.x ?? 0) - 1]),
            label: (item) => `${item.dataset.label}: ${minus((item.parsed.y ?? 0).toFixed(2))}`,
          },
        },
      },
    },
    plugins: [marksOn(report, { ink: colour('--ink'), font })],
  };
}

function titleOf(point: ReleaseReport | undefined): string {
  return point === undefined ? '' : say`${point.part}, ${dayWords(point.on)}, entry ${point.seq}`;
}

/** What the number of a part takes on the axis, with air around it. */
const PART_LABEL_PX = 52;

function everySo(count: number, most: number): number[] {
  const step = Math.max(1, Math.ceil(count / Math.max(1, Math.floor(most))));
  return Array.from({ length: count }, (_, place) => place + 1).filter((place) => (place - 1) % step === 0);
}

/** So high is a line of the names of marks. */
function markLine(fontPx: number): number {
  return fontPx + 5;
}

/** A line down the picture where the shift began, and one where it was called, each with its part. */
function marksOn(
  { points, signal }: ProcessDriftReport,
  look: { readonly ink: string; readonly font: { readonly family: string; readonly size: number } },
): Plugin<'line'> {
  const placeOf = (seq: number) => points.findIndex((point) => point.seq === seq) + 1;
  const marks =
    signal === undefined
      ? []
      : [
          { place: placeOf(signal.began.seq), words: say`began: ${signal.began.part}`, row: 0, dash: [2, 3] },
          { place: placeOf(signal.seq), words: say`called: ${signal.part}`, row: 1, dash: [] },
        ];
  return {
    id: 'marks',
    afterDatasetsDraw: ({ ctx: pen, chartArea, scales }: Chart) => {
      pen.save();
      pen.strokeStyle = look.ink;
      pen.fillStyle = look.ink;
      pen.lineWidth = 1;
      pen.font = `${look.font.size}px ${look.font.family}`;
      pen.textBaseline = 'middle';
      for (const { place, words, row, dash } of marks) {
        const x = scales['x']?.getPixelForValue(place) ?? 0;
        pen.setLineDash(dash);
        pen.beginPath();
        const y = chartArea.top - (1.5 - row) * markLine(look.font.size);
        pen.moveTo(x, y);
        pen.lineTo(x, chartArea.bottom);
        pen.stroke();
        const isTight = x + 6 + pen.measureText(words).width > chartArea.right;
        pen.textAlign = isTight ? 'right' : 'left';
        pen.fillText(words, isTight ? x - 6 : x + 6, y);
      }
      pen.restore();
    },
  };
}
