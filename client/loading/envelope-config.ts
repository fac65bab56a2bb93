/**
 * Mass against CG: the envelope, what every permitted loading can reach, the empty aircraft with the forecast's band, named cases with their
 * burn, and the worst loading at each edge. Letters, shapes and dashes tell apart what colour does.
 */

import type { Chart, ChartConfiguration, Plugin } from 'chart.js';
import type { AnswerReport, LoadingReport } from '#shared/contract/loading.ts';
import type { Envelope } from '#shared/loading/limits.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { inkOf } from '../ledger/picture.tsx';
import { minus, type Shown } from '../pieces/units.ts';
import { letterOf } from '../where/along-config.ts';

export type Drawn = {
  readonly report: LoadingReport;
  readonly envelope: Envelope;
  readonly answer: AnswerReport;
  readonly shown: Shown;
};

type Point = { x: number; y: number };
type At = { readonly massKg: number; readonly xM: number };

export function envelopeConfig(drawn: Drawn): ChartConfiguration<'line'> {
  const { colour, ink, font } = inkOf();
  const { report, envelope, answer, shown } = drawn;
  const place = placing(drawn);
  const unitKg = MASS_UNIT_KG[shown.units.mass];
  const corners = envelope.points.map(({ massKg, at }): Point => {
    const x = envelope.by === 'station' ? at / LENGTH_UNIT_M[shown.units.length] : at;
    return { x, y: massKg / unitKg };
  });
  const [first] = corners;
  const band = bandOf(report);
  const points = (name: string, at: readonly Point[], style: object) => ({
    label: name,
    data: [...at],
    showLine: false,
    pointRadius: 6,
    pointHoverRadius: 7,
    pointBorderWidth: 2,
    ...style,
  });
  const line = (name: string, at: readonly Point[], style: object) => ({
    label: name,
    data: [...at],
    pointRadius: 0,
    pointHitRadius: 0,
    borderWidth: 2,
    tension: 0,
    ...style,
  });
  const inside = answer.cases.filter(({ state }) => state === 'inside');
  const outside = answer.cases.filter(({ state }) => state === 'outside');
  const bad = colour('--bad');
  const predicted = report.empties.filter(({ name }) => name === 'predicted');
  const forecast = report.empties.filter(({ name }) => name === 'forecast');
  const worst = answer.worst.filter(({ outM }) => outM !== undefined);
  const datasets = [
    points(
      say`worst loading at an edge`,
      worst.map(({ loaded }) => place(loaded)),
      {
        pointStyle: 'crossRot',
        pointRadius: 7,
        pointBorderColor: bad,
        borderColor: bad,
      },
    ),
    points(say`empty, predicted`, predicted.map(place), {
      pointStyle: 'circle',
      pointBackgroundColor: colour('--chart-predicted'),
      pointBorderColor: colour('--chart-predicted'),
    }),
    points(say`empty, forecast`, forecast.map(place), {
      pointStyle: 'rectRot',
      pointBackgroundColor: 'transparent',
      pointBorderColor: colour('--chart-forecast'),
    }),
    line(say`band of the forecast`, band.map(place), { borderColor: colour('--chart-forecast'), borderDash: [4, 3] }),
    ...(inside.length === 0
      ? []
      : [line(say`case, inside`, burns(inside, place), { borderColor: colour('--in-line'), borderWidth: 3 })]),
    ...(outside.length === 0
      ? []
      : [line(say`case, outside`, burns(outside, place), { borderColor: bad, borderWidth: 3, borderDash: [2, 3] })]),
    line('envelope', first === undefined ? corners : [...corners, first], {
      borderColor: colour('--ink'),
      borderWidth: 2.5,
    }),
    line(say`every permitted loading`, outlineOf(answer, place), {
      borderColor: colour('--chart-predicted'),
      borderWidth: 1,
      backgroundColor: `${colour('--chart-predicted')}2e`,
      fill: 'shape',
    }),
  ];
  const axis = (text: string) => ({
    type: 'linear' as const,
    grid: { color: colour('--chart-grid') },
    title: { display: true, text, color: ink, font },
    grace: '5%' as const,
    ticks: {
      color: ink,
      font,
      maxRotation: 0,
      callback: (value: number | string) => minus(String(Number(Number(value).toPrecision(6)))),
    },
  });
  return {
    type: 'line',
    data: { datasets },
    options: {
      animation: false,
      responsive: true,
      maintainAspectRatio: false,
      interaction: { mode: 'nearest', intersect: true },
      scales: {
        x: axis(
          say`CG, ${envelope.by === 'station' ? say`station x, ${shown.units.length}` : say`% MAC`} (aft to the right)`,
        ),
        y: axis(say`mass, ${shown.units.mass}`),
      },
      plugins: {
        legend: {
          position: 'bottom',
          labels: { color: ink, font, usePointStyle: true, pointStyleWidth: 26, padding: 12 },
        },
        tooltip: {
          callbacks: {
            title: () => '',
            label: ({ dataset, parsed: { x, y } }) =>
              say`${dataset.label ?? ''}: ${minus((y ?? 0).toFixed(1))} ${shown.units.mass} at ${minus((x ?? 0).toFixed(envelope.by === 'station' ? 3 : 1))}${envelope.by === 'station' ? ` ${shown.units.length}` : say` % MAC`}`,
          },
        },
      },
    },
    plugins: [lettersAtStart(answer, place)],
  };
}

/** Where a loading lies in the picture. */
function placing({ report, envelope, shown }: Drawn): (at: At) => Point {
  const unitKg = MASS_UNIT_KG[shown.units.mass];
  const { chord } = report;
  const isInMac = envelope.by === 'per cent MAC' && chord !== undefined;
  return ({ massKg, xM }) => ({
    x: isInMac ? ((xM - chord.lemacM) / chord.macM) * 100 : xM / LENGTH_UNIT_M[shown.units.length],
    y: massKg / unitKg,
  });
}

const GAP: Point = { x: Number.NaN, y: Number.NaN };

/** Once around the corners of the band. */
function bandOf({ empties }: LoadingReport): readonly At[] {
  const order = [
    say`light and forward`,
    say`heavy and forward`,
    say`heavy and aft`,
    say`light and aft`,
    say`light and forward`,
  ];
  return order.flatMap((wanted) => empties.filter(({ name }) => name === wanted));
}

/** Up the aft edge and down the forward one; stretches apart from each other are apart. */
function outlineOf({ reach }: AnswerReport, place: (at: At) => Point): readonly Point[] {
  return reach.flatMap((stretch, at) => {
    const aft = stretch.map(({ massKg, aftM }) => place({ massKg, xM: aftM }));
    const forward = stretch.map(({ massKg, forwardM }) => place({ massKg, xM: forwardM })).reverse();
    const [first] = aft;
    return [...(at === 0 ? [] : [GAP]), ...aft, ...forward, ...(first === undefined ? [] : [first])];
  });
}

function burns(cases: AnswerReport['cases'], place: (at: At) => Point): readonly Point[] {
  return cases.flatMap(({ points }, at) => [...(at === 0 ? [] : [GAP]), ...points.map(place)]);
}

/** A ring with its letter where a case starts, and a bar where it ends. */
function lettersAtStart({ cases }: AnswerReport, place: (at: At) => Point): Plugin<'line'> {
  const { colour, font } = inkOf();
  return {
    id: 'letters',
    afterDatasetsDraw: (drawing: Chart) => {
      const { ctx: pen, scales } = drawing;
      const px = ({ x, y }: Point) => ({
        x: scales['x']?.getPixelForValue(x) ?? 0,
        y: scales['y']?.getPixelForValue(y) ?? 0,
      });
      pen.save();
      pen.font = `600 ${font.size}px ${font.family}`;
      pen.textAlign = 'center';
      pen.textBaseline = 'middle';
      for (const [at, { start, landing, state }] of cases.entries()) {
        const ring = px(place(start));
        const end = px(place(landing));
        pen.strokeStyle = colour(state === 'inside' ? '--in-line' : '--bad');
        pen.lineWidth = 2;
        pen.fillStyle = colour('--card');
        pen.beginPath();
        pen.arc(ring.x, ring.y, 10, 0, 2 * Math.PI);
        pen.fill();
        pen.stroke();
        pen.fillStyle = colour('--ink');
        pen.fillText(letterOf(at), ring.x, ring.y);
        pen.beginPath();
        pen.moveTo(end.x - 7, end.y);
        pen.lineTo(end.x + 7, end.y);
        pen.stroke();
      }
      pen.restore();
    },
  };
}
