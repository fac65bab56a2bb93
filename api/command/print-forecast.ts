/** The forecast as text (rules F1-F3, D3): the whole, by group against its target, and what each process adds. */
import type { ForecastReport, GroupForecastReport, ProcessForecastReport } from '#shared/contract/forecast.ts';
import { scopeOf } from '#shared/forecast/scope.ts';
import {
  type DisplayUnits,
  showFixed,
  showLengthWithStd,
  showMass,
  showMassWithStd,
  showPercent,
} from '#shared/quantity/show.ts';
import { say, term } from '#shared/words/say.ts';
import { type Line, labelled, tableText } from './table-text.ts';

export function forecastText(
  { groups, ...report }: ForecastReport & { readonly groups: readonly GroupForecastReport[] },
  units: DisplayUnits,
): string {
  const mass = (massKg: number) => `${showMass(massKg, units.mass)} ${units.mass}`;
  const { value, std } = showMassWithStd(report.forecastKg, report.forecastStdKg, units.mass);
  const [first, predicted, ...others] = labelled(
    [
      [
        say`Forecast empty weight`,
        say`${value}${std === undefined ? '' : ` ± ${std}`} ${units.mass}, nine times in ten ${mass(report.lowKg)} to ${mass(report.highKg)}`,
      ],
      [`  ${say`Predicted`}`, mass(report.predictedKg)],
      ...chanceLines(report, mass),
      ...stationLines(report, units),
      ...assumedLines(report),
    ],
    26,
  );
  return [
    `${[first, predicted, `  ${scopeText(report)}`, ...others].join('\n')}\n`,
    ...(groups.length === 0 ? [] : [groupsText(groups, units)]),
    ...(report.processes.length === 0 ? [] : [processesText(report.processes, units)]),
  ].join('\n');
}

function scopeText({ predictedKg, targets }: ForecastReport): string {
  const scope = targets && scopeOf({ predictedKg, emptyMassKg: targets.emptyMassKg });
  return scope?.isIncomplete === true
    ? say`The listed parts make ${showPercent(scope.share)} % of the target: this is no forecast of the whole aircraft yet.`
    : say`It covers the parts that are listed, and no others.`;
}

function chanceLines({ targets }: ForecastReport, mass: (massKg: number) => string): readonly Line[] {
  if (targets === undefined) return [[`  ${say`Target`}`, say`none set yet`]];
  // The figures rest on assumed uncertainties: nothing of them is as good as certain.
  const chance = (share: number) =>
    share > 0.99 ? say`over 99 %` : share < 0.01 ? say`under 1 %` : say`about ${showFixed(share * 100, 0)} %`;
  return [
    [`  ${say`Within the target`}`, `${chance(targets.withinTarget)} (${mass(targets.emptyMassKg)})`],
    [
      `  ${say`And the reserve left`}`,
      targets.reserveKg > 0 ? `${chance(targets.withinTargetLessReserve)} (${mass(targets.reserveKg)})` : undefined,
    ],
    [`  ${say`CG within its range`}`, targets.cgInRange === undefined ? undefined : chance(targets.cgInRange)],
  ];
}

function stationLines({ cg }: ForecastReport, units: DisplayUnits): readonly Line[] {
  if (cg.x === undefined) return [];
  const { value, std } = showLengthWithStd(cg.x.atM, cg.x.stdM, units.length);
  return [[`  ${say`CG, forecast`}`, `x ${value}${std === undefined ? '' : ` ± ${std}`} ${units.length}`]];
}

function assumedLines({ assumed }: ForecastReport): readonly Line[] {
  const from = (isOwn: boolean) => (isOwn ? say`the shop’s own` : say`common practice, no source`);
  return [
    [
      `  ${say`Taken for granted`}`,
      say`a process misses by ${showPercent(assumed.processShiftStd)} % (${from(assumed.isOwnShift)}), a piece differs by ${showPercent(assumed.pieceToPieceStd)} % (${from(assumed.isOwnPiece)})`,
    ],
  ];
}

function groupsText(rows: readonly GroupForecastReport[], units: DisplayUnits): string {
  const mass = (massKg: number | undefined, sign = false) =>
    massKg === undefined ? '' : showMass(massKg, units.mass, { sign });
  return tableText(rows, [
    { heading: say`Forecast by group`, align: 'left', cell: ({ group }) => group },
    { heading: say`parts`, align: 'right', cell: ({ partCount }) => String(partCount) },
    { heading: say`predicted ${units.mass}`, align: 'right', cell: ({ predictedKg }) => mass(predictedKg) },
    { heading: say`forecast`, align: 'right', cell: ({ forecastKg }) => mass(forecastKg) },
    { heading: '±', align: 'right', cell: ({ forecastStdKg }) => mass(forecastStdKg) },
    { heading: say`target`, align: 'right', cell: ({ targetKg }) => mass(targetKg) },
    { heading: say`margin of forecast`, align: 'right', cell: ({ marginKg }) => mass(marginKg, true) },
  ]);
}

function processesText(rows: readonly ProcessForecastReport[], units: DisplayUnits): string {
  const mass = (massKg: number, sign = false) => showMass(massKg, units.mass, { sign });
  return tableText(rows, [
    { heading: say`Process`, align: 'left', cell: ({ process }) => term(process) },
    { heading: say`releases`, align: 'right', cell: ({ releaseCount }) => String(releaseCount) },
    {
      heading: say`shift %`,
      align: 'right',
      cell: ({ shiftFraction }) => showFixed(shiftFraction * 100, 1, { sign: true }),
    },
    { heading: '±', align: 'right', cell: ({ shiftStdFraction }) => showFixed(shiftStdFraction * 100, 1) },
    { heading: say`open pieces`, align: 'right', cell: ({ openPieces }) => String(openPieces) },
    { heading: say`open ${units.mass}`, align: 'right', cell: ({ openKg }) => mass(openKg) },
    { heading: say`adds`, align: 'right', cell: ({ effectKg }) => mass(effectKg, true) },
    { heading: '±', align: 'right', cell: ({ effectStdKg }) => mass(effectStdKg) },
  ]);
}
