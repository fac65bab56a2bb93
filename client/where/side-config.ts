/**
 * The parts as seen from the side: each at its station and height, its area as its mass, its flag as shape, filling and colour together. What
 * was searched for has a ring.
 */

import type { Chart, ChartConfiguration, Plugin } from 'chart.js';
import type { DriftFlag } from '#shared/contract/drift.ts';
import type { PlacedMass, WhereReport } from '#shared/contract/where.ts';
import { LENGTH_UNIT_M } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { inkOf } from '../ledger/picture.tsx';
import { minus, type Shown } from '../pieces/units.ts';

/** A mass that is seen from the side: it has a station and a height, and is more than nothing. */
export type Seen = PlacedMass & { readonly xM: number; readonly zM: number };

export function seenFromTheSide(masses: readonly PlacedMass[]): readonly Seen[] {
  return masses.filter((one): one is Seen => one.xM !== undefined && one.zM !== undefined && one.massKg > 0);
}

/** The largest part is so many pixels across from its middle; areas are as masses, and the least can still be pointed at. */
const MOST_RADIUS_PX = 20;
const LEAST_RADIUS_PX = 2;
/** More masses than this are drawn smaller, so that they do not cover each other. */
const FULL_SIZE_COUNT = 300;

type Look = {
  readonly flag: DriftFlag | undefined;
  readonly name: string;
  readonly shape: 'circle' | 'triangle';
  readonly turned: number;
  readonly isFull: boolean;
  readonly colour: string;
};

/** The first lies on top of the others: nothing hides what drifts. */
const LOOKS: readonly Look[] = [
  {
    flag: 'drifting light',
    name: say`drifting light`,
    shape: 'triangle',
    turned: 180,
    isFull: true,
    colour: '--light',
  },
  { flag: 'drifting heavy', name: say`drifting heavy`, shape: 'triangle', turned: 0, isFull: true, colour: '--heavy' },
  { flag: 'watch light', name: say`watch: light`, shape: 'triangle', turned: 180, isFull: false, colour: '--light' },
  { flag: 'watch heavy', name: say`watch: heavy`, shape: 'triangle', turned: 0, isFull: false, colour: '--heavy' },
  { flag: 'in line', name: say`in line`, shape: 'circle', turned: 0, isFull: true, colour: '--in-line' },
  { flag: undefined, name: say`not weighed`, shape: 'circle', turned: 0, isFull: false, colour: '--ink-soft' },
];

export type Side = {
  readonly report: WhereReport;
  readonly seen: readonly Seen[];
  readonly found: ReadonlySet<Seen> | undefined;
  readonly shown: Shown;
};

export function sideConfig({ report, seen, found, shown }: Side): ChartConfiguration<'line'> {
  const { colour, ink, font } = inkOf();
  const unit = LENGTH_UNIT_M[shown.units.length];
  const mostKg = seen.reduce((most, { massKg }) => Math.max(most, massKg), 0);
  const largestPx = MOST_RADIUS_PX * Math.min(1, Math.sqrt(FULL_SIZE_COUNT / Math.max(1, seen.length)));
  const radiusOf = ({ massKg }: Seen) => Math.max(LEAST_RADIUS_PX, largestPx * Math.sqrt(massKg / mostKg));
  const layers = LOOKS.map((look) => ({ look, points: seen.filter(({ flag }) => flag === look.flag) })).filter(
    ({ points }) => points.length > 0,
  );
  const axis = (text: string, stations: readonly number[]) => ({
    ...leastSpan(
      stations.map((stationM) => stationM / unit),
      LEAST_SPAN_M / unit,
    ),
    type: 'linear' as const,
    grid: { color: colour('--chart-grid') },
    title: { display: true, text, color: ink, font },
    ticks: {
      color: ink,
      font,
      maxRotation: 0,
      callback: (value: number | string) => minus(String(Number(Number(value).toPrecision(6)))),
    },
    grace: '6%' as const,
  });
  return {
    type: 'line',
    data: {
      datasets: layers.map(({ look, points }) => ({
        label: look.name,
        data: points.map(({ xM, zM }) => ({ x: xM / unit, y: zM / unit })),
        showLine: false,
        pointStyle: look.shape,
        pointRotation: look.turned,
        pointRadius: points.map(radiusOf),
        pointHoverRadius: points.map((one) => radiusOf(one) + 1),
        pointBackgroundColor: look.isFull ? `${colour(look.colour)}b0` : 'transparent',
        pointBorderColor: colour(look.colour),
        pointBorderWidth: 1.5,
        pointHitRadius: 4,
      })),
    },
    options: {
      animation: false,
      responsive: true,
      maintainAspectRatio: false,
      interaction: { mode: 'nearest', intersect: true },
      scales: {
        x: axis(
          say`station x, ${shown.units.length} (aft to the right)`,
          seen.map(({ xM }) => xM),
        ),
        y: axis(
          say`height z, ${shown.units.length}`,
          seen.map(({ zM }) => zM),
        ),
      },
      plugins: {
        legend: { position: 'bottom', labels: { color: ink, font, usePointStyle: true, padding: 14 } },
        tooltip: {
          callbacks: {
            title: () => '',
            label: ({ datasetIndex, dataIndex }) => {
              const one = layers[datasetIndex]?.points[dataIndex];
              return one === undefined ? '' : `${one.number} ${one.name}: ${shown.massWithUnit(one.massKg)}`;
            },
          },
        },
      },
    },
    plugins: [marksOn({ report, found, shown, radiusOf, unit })],
  };
}

/** Masses that all lie at one height, or nearly so, have an axis that can be read. */
const LEAST_SPAN_M = 1;

function leastSpan(values: readonly number[], least: number): { min?: number; max?: number } {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const value of values) [low, high] = [Math.min(low, value), Math.max(high, value)];
  const middle = (low + high) / 2;
  return high - low < least / 2 ? { min: middle - least / 2, max: middle + least / 2 } : {};
}

/** The CG as a cross with its name, and a ring around everything that was found. */
function marksOn(given: {
  readonly report: WhereReport;
  readonly found: ReadonlySet<Seen> | undefined;
  readonly shown: Shown;
  readonly radiusOf: (one: Seen) => number;
  readonly unit: number;
}): Plugin<'line'> {
  const { colour, font } = inkOf();
  const { report, found, radiusOf, unit } = given;
  return {
    id: 'marks',
    afterDatasetsDraw: (drawing: Chart) => {
      const { ctx: pen, scales } = drawing;
      const px = (stationM: number) => scales['x']?.getPixelForValue(stationM / unit) ?? 0;
      const py = (heightM: number) => scales['y']?.getPixelForValue(heightM / unit) ?? 0;
      pen.save();
      pen.strokeStyle = colour('--ink');
      pen.lineWidth = 2.5;
      for (const one of found ?? []) {
        pen.beginPath();
        pen.arc(px(one.xM), py(one.zM), radiusOf(one) + 5, 0, 2 * Math.PI);
        pen.stroke();
      }
      const { xM, zM } = report.cg;
      if (xM !== undefined && zM !== undefined) {
        const [x, y, arm] = [px(xM), py(zM), 11];
        for (const [look, width] of [
          ['--card', 6],
          ['--ink', 2.5],
        ] as const) {
          pen.strokeStyle = colour(look);
          pen.lineWidth = width;
          pen.beginPath();
          pen.moveTo(x - arm, y);
          pen.lineTo(x + arm, y);
          pen.moveTo(x, y - arm);
          pen.lineTo(x, y + arm);
          pen.stroke();
        }
        pen.font = `600 ${font.size}px ${font.family}`;
        pen.fillStyle = colour('--ink');
        pen.textBaseline = 'bottom';
        pen.fillText('CG', x + arm, y - 4);
      }
      pen.restore();
    },
  };
}
