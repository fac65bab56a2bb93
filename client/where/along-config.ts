/**
 * The mass along the fuselage as bars, a stretch each, its groups on top of one another; the CG with its ± and its range across them. A group
 * has a letter on its share and beside its name: no colour is needed to tell it from another.
 */

import { type Chart, Chart as Drawing, type LegendItem, type Plugin } from 'chart.js';
import type { WhereReport } from '#shared/contract/where.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import type { Stretches } from '#shared/rollup/where.ts';
import { say } from '#shared/words/say.ts';
import { type BarConfiguration, inkOf } from '../ledger/picture.tsx';
import { minus, type Shown } from '../pieces/units.ts';

/** Taken in turn; the letter tells apart what has the same one. */
const COLOURS = ['--chart-predicted', '--chart-forecast', '--warn', '--ink-soft'] as const;

export type Along = { readonly report: WhereReport; readonly along: Stretches; readonly shown: Shown };

/** A, B, … Z, then A2, B2 and so on. */
export function letterOf(at: number): string {
  const turn = Math.floor(at / 26);
  return `${String.fromCharCode(65 + (at % 26))}${turn === 0 ? '' : turn + 1}`;
}

export function alongConfig({ report, along, shown }: Along): BarConfiguration {
  const { colour, ink, font } = inkOf();
  const { stretches, groups } = along;
  const { units, mass } = shown;
  const factor = MASS_UNIT_KG[units.mass];
  const bars = barsOf(along, factor);
  return {
    type: 'bar',
    data: {
      labels: stretches.map(({ fromM }) => plainStation(fromM, shown)),
      datasets: groups.map((group, at) => ({
        label: `${letterOf(at)} ${group}`,
        data: bars[at] ?? [],
        backgroundColor: colour(COLOURS[at % COLOURS.length] ?? '--ink-soft'),
        borderColor: colour('--card'),
        borderWidth: 1,
        borderSkipped: false,
        // The bars of one stretch stand in one place: each begins where the one before it ends.
        grouped: false,
        categoryPercentage: 1,
        barPercentage: 0.92,
      })),
    },
    options: {
      animation: false,
      responsive: true,
      maintainAspectRatio: false,
      layout: { padding: { top: 34 } },
      scales: {
        x: {
          grid: { display: false },
          title: {
            display: true,
            text: say`station x, ${units.length}`,
            color: ink,
            font,
          },
          ticks: { color: ink, font, maxRotation: 0 },
        },
        y: {
          grid: { color: colour('--chart-grid') },
          border: { display: false },
          title: { display: true, text: say`predicted weight, ${units.mass}`, color: ink, font },
          ticks: { color: ink, font, callback: (value) => minus(String(Number(Number(value).toPrecision(6)))) },
        },
      },
      plugins: {
        legend: {
          position: 'bottom',
          labels: { color: ink, font, boxHeight: 12, boxWidth: 12, padding: 10, generateLabels: fittedLabels },
        },
        tooltip: {
          callbacks: {
            title: (items) => stretchName(along, items[0]?.dataIndex ?? 0, shown),
            label: ({ datasetIndex, dataIndex }) => {
              const group = groups[datasetIndex] ?? '';
              return `${group}: ${mass(stretches[dataIndex]?.byGroup.get(group) ?? 0)} ${units.mass}`;
            },
          },
        },
      },
    },
    plugins: [lettersOn(groups.length, colour('--card'), font), cgAcross({ report, along, shown })],
  };
}

/** A name that is wider than the picture ends in three dots, and is not cut at both its ends; the table has it whole. */
function fittedLabels(drawing: Chart): LegendItem[] {
  const most = Math.floor((drawing.width - LEGEND_BOX_PX) / LETTER_PX);
  return Drawing.defaults.plugins.legend.labels.generateLabels(drawing).map((item) => ({
    ...item,
    text: item.text.length > most ? `${item.text.slice(0, most - 1)}…` : item.text,
  }));
}

/** The box before a name in the legend, with the air around both. */
const LEGEND_BOX_PX = 44;
/** What a letter of a name takes. */
const LETTER_PX = 7.4;

export function stretchName({ stretches }: Stretches, at: number, { length, lengthWithUnit }: Shown): string {
  const stretch = stretches[at];
  return stretch === undefined ? '' : say`${length(stretch.fromM)} to ${lengthWithUnit(stretch.toM)}`;
}

/** Each share from where the one below it ends; what is less than nothing goes down from nought. */
function barsOf({ stretches, groups }: Stretches, factor: number): [number, number][][] {
  const reached = stretches.map(() => ({ up: 0, down: 0 }));
  return groups.map((group) =>
    stretches.map(({ byGroup }, at): [number, number] => {
      const share = (byGroup.get(group) ?? 0) / factor;
      const side = share < 0 ? 'down' : 'up';
      const stack = reached[at];
      if (stack === undefined) return [0, 0];
      const from = stack[side];
      stack[side] += share;
      return [from, from + share];
    }),
  );
}

/** Round figures need no decimals. */
function plainStation(stationM: number, { units }: Shown): string {
  return minus(String(Number((stationM / LENGTH_UNIT_M[units.length]).toPrecision(6))));
}

type Font = { readonly family: string; readonly size: number };
const LEAST_LETTER_PX = 13;

function lettersOn(count: number, paper: string, font: Font): Plugin<'bar'> {
  return {
    id: 'letters',
    afterDatasetsDraw: (drawing: Chart) => {
      const { ctx: pen } = drawing;
      pen.save();
      pen.font = `600 ${font.size - 1}px ${font.family}`;
      pen.fillStyle = paper;
      pen.textAlign = 'center';
      pen.textBaseline = 'middle';
      for (let at = 0; at < count; at += 1) {
        if (!drawing.isDatasetVisible(at)) continue;
        const bodies = drawing.getDatasetMeta(at).data as { x: number; y: number; base?: number; width?: number }[];
        for (const { x, y, base = y, width = 0 } of bodies)
          if (Math.abs(base - y) >= LEAST_LETTER_PX && width >= LEAST_LETTER_PX)
            pen.fillText(letterOf(at), x, (y + base) / 2);
      }
      pen.restore();
    },
  };
}

/** The CG as a line in its ±, the ends of its range dashed, each with its name above the bars. */
function cgAcross({ report, along, shown }: Along): Plugin<'bar'> {
  const { colour, font } = inkOf();
  const first = along.stretches[0];
  const { cg, cgForwardM, cgAftM } = report;
  return {
    id: 'cg',
    afterDatasetsDraw: (drawing: Chart) => {
      const { ctx: pen, chartArea: area } = drawing;
      if (first === undefined) return;
      const wholeM = along.lengthM * along.stretches.length;
      const at = (stationM: number) => area.left + ((stationM - first.fromM) / wholeM) * (area.right - area.left);
      const isSeen = (px: number) => px >= area.left - 1 && px <= area.right + 1;
      pen.save();
      pen.font = `${font.size}px ${font.family}`;
      pen.textBaseline = 'bottom';
      const line = (stationM: number, look: string, dash: readonly number[], width: number) => {
        pen.strokeStyle = colour(look);
        pen.lineWidth = width;
        pen.setLineDash([...dash]);
        pen.beginPath();
        pen.moveTo(at(stationM), area.top - 14);
        pen.lineTo(at(stationM), area.bottom);
        pen.stroke();
      };
      if (cgForwardM !== undefined && cgAftM !== undefined) {
        pen.fillStyle = colour('--chart-range');
        pen.globalAlpha = 0.16;
        const [from, to] = [Math.max(area.left, at(cgForwardM)), Math.min(area.right, at(cgAftM))];
        if (to > from) pen.fillRect(from, area.top - 14, to - from, area.bottom - area.top + 14);
        pen.globalAlpha = 1;
      }
      for (const end of [cgForwardM, cgAftM])
        if (end !== undefined && isSeen(at(end))) line(end, '--chart-range', [6, 4], 1.5);
      if (cg.xM !== undefined && isSeen(at(cg.xM))) {
        const halfPx = ((cg.xStdM ?? 0) / wholeM) * (area.right - area.left);
        pen.fillStyle = colour('--ink');
        pen.globalAlpha = 0.25;
        pen.fillRect(at(cg.xM) - halfPx, area.top - 14, 2 * halfPx, area.bottom - area.top + 14);
        pen.globalAlpha = 1;
        line(cg.xM, '--card', [], 5);
        line(cg.xM, '--ink', [], 2);
        pen.fillStyle = colour('--ink');
        pen.textAlign = at(cg.xM) > (area.left + area.right) / 2 ? 'right' : 'left';
        pen.fillText(say`CG ${shown.length(cg.xM)} ${shown.units.length}`, at(cg.xM), area.top - 16);
      }
      pen.restore();
    },
  };
}
