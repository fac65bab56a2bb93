/**
 * The bridge as bars of change: each cause, group or part from where the one before it ended, and what all of them come to. Zero is where it began: beside
 * the whole weight a change of grams would be no bar at all, or the axis would have to be broken.
 */

import type { Chart, Plugin } from 'chart.js';
import type { BridgeReport } from '#shared/contract/reports.ts';
import { MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { minus, type Shown } from '../pieces/units.ts';
import { BRIDGE_HEADING, bridgeLines } from './bridge-lines.ts';
import { type BarConfiguration, inkOf } from './picture.tsx';

type Bar = {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly figure: string;
  readonly colour: string;
};

export function bridgeConfig(bridge: BridgeReport | undefined, shown: Shown): BarConfiguration {
  const { colour, ink, font } = inkOf();
  const bars = bridge === undefined ? [] : barsOf(bridge, shown);
  const all = bars.flatMap(({ from, to }) => [from, to]);
  const [low, high] = [Math.min(0, ...all), Math.max(0, ...all)];
  const scale = roundScale(low, high);
  return {
    type: 'bar',
    data: {
      labels: bars.map(({ name }) => inLines(name)),
      datasets: [
        {
          data: bars.map(({ from, to }) => [from, to]),
          backgroundColor: bars.map((bar) => colour(bar.colour)),
          borderRadius: 3,
          // Above each bar its figure has room.
          barPercentage: 0.5,
          minBarLength: 2,
        },
      ],
    },
    options: {
      indexAxis: 'y',
      animation: false,
      responsive: true,
      maintainAspectRatio: false,
      scales: {
        x: {
          min: scale.min,
          max: scale.max,
          // The line of no change is seen before the others.
          grid: { color: ({ tick }) => colour(tick?.value === 0 ? '--ink-soft' : '--chart-grid') },
          title: {
            display: true,
            text: say`change, ${shown.units.mass}`,
            color: ink,
            font,
          },
          ticks: {
            color: ink,
            font,
            stepSize: scale.step,
            callback: (value) => minus(String(Number(Number(value).toPrecision(6)))),
          },
        },
        y: {
          grid: { display: false },
          title: { display: true, text: BRIDGE_HEADING[bridge?.by ?? 'cause'].toLowerCase(), color: ink, font },
          ticks: { color: ink, font, autoSkip: false },
        },
      },
      plugins: {
        legend: { display: false },
        tooltip: {
          callbacks: {
            title: (items) => bars[items[0]?.dataIndex ?? 0]?.name ?? '',
            label: (item) => bars[item.dataIndex]?.figure ?? '',
          },
        },
      },
    },
    plugins: [figuresOn(bars, colour('--ink'), font)],
  };
}

/** A scale of round figures, nought among them, with air at both ends for the figures beside the bars. */
function roundScale(low: number, high: number): { readonly min: number; readonly max: number; readonly step: number } {
  const air = (high - low) * 0.2;
  const span = high - low + 2 * air;
  if (!(span > 0)) return { min: -1, max: 1, step: 1 };
  const power = 10 ** Math.floor(Math.log10(span / 4));
  const step = [1, 2, 5, 10].map((times) => times * power).find((one) => span / one <= 5) ?? 10 * power;
  return { min: Math.floor((low - air) / step) * step, max: Math.ceil((high + air) / step) * step, step };
}

function barsOf(bridge: BridgeReport, { massWithUnit, units }: Shown): readonly Bar[] {
  const unit = MASS_UNIT_KG[units.mass];
  let reachedKg = 0;
  const lines = bridgeLines(bridge)
    .filter(({ massKg }) => massKg !== 0)
    .map(({ name, massKg }): Bar => {
      const from = reachedKg;
      reachedKg += massKg;
      return {
        name,
        from: from / unit,
        to: reachedKg / unit,
        figure: massWithUnit(massKg, { sign: true }),
        colour: massKg > 0 ? '--heavy' : '--light',
      };
    });
  const changeKg = bridge.to.predictedKg - bridge.from.predictedKg;
  const whole: Bar = {
    name: say`all together`,
    from: 0,
    to: changeKg / unit,
    figure: massWithUnit(changeKg, { sign: true }),
    colour: '--chart-predicted',
  };
  return [...lines, whole];
}

/** Long causes stand in two lines, so that the bars keep their room on a phone. */
function inLines(name: string): string[] {
  const words = name.split(' ');
  if (name.length <= 14 || words.length < 2) return [name];
  const half = Math.ceil(words.length / 2);
  return [words.slice(0, half).join(' '), words.slice(half).join(' ')];
}

/** The figure above each bar: no colour is needed to tell more from less. */
function figuresOn(
  bars: readonly Bar[],
  ink: string,
  font: { readonly family: string; readonly size: number },
): Plugin<'bar'> {
  return {
    id: 'figures',
    afterDatasetsDraw: (drawing: Chart) => {
      const { ctx: pen, chartArea } = drawing;
      pen.save();
      pen.font = `${font.size}px ${font.family}`;
      pen.fillStyle = ink;
      pen.textBaseline = 'middle';
      const bodies = drawing.getDatasetMeta(0).data as { x: number; y: number; base?: number; height?: number }[];
      for (const [at, { x, y, base = x, height = 0 }] of bodies.entries()) {
        const words = bars[at]?.figure ?? '';
        const room = chartArea.right - pen.measureText(words).width;
        pen.fillText(words, Math.max(chartArea.left, Math.min(x, base, room)), y - height / 2 - 9);
      }
      pen.restore();
    },
  };
}
