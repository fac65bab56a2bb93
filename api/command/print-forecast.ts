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
import { tableText } from './table-text.ts';

export function forecastText(
  { groups, ...report }: ForecastReport & { readonly groups: readonly GroupForecastReport[] },
  units: DisplayUnits,
): string {
  const mass = (massKg: number) => `${showMass(massKg, units.mass)} ${units.mass}`;
  const { value, std } = showMassWithStd(report.forecastKg, report.forecastStdKg, units.mass);
  const lines = [
    `Forecast empty weight     ${value}${std === undefined ? '' : ` ± ${std}`} ${units.mass}, nine times in ten ${mass(report.lowKg)} to ${mass(report.highKg)}`,
    `  Predicted               ${mass(report.predictedKg)}`,
    ...scopeLines(report),
    ...chanceLines(report, mass),
    ...stationLines(report, units),
    ...assumedLines(report),
  ];
  return [
    `${lines.join('\n')}\n`,
    ...(groups.length === 0 ? [] : [groupsText(groups, units)]),
    ...(report.processes.length === 0 ? [] : [processesText(report.processes, units)]),
  ].join('\n');
}

function scopeLines({ predictedKg, targets }: ForecastReport): readonly string[] {
  const said = '  It covers the parts that are listed, and no others.';
  if (targets === undefined) return [said];
  const { share, isIncomplete } = scopeOf({ predictedKg, emptyMassKg: targets.emptyMassKg });
  return isIncomplete
    ? [`  The listed parts make ${showPercent(share)} % of the target: this is no forecast of the whole aircraft yet.`]
    : [said];
}

function chanceLines({ targets }: ForecastReport, mass: (massKg: number) => string): readonly string[] {
  if (targets === undefined) return ['  Target                  none set yet'];
  // The figures rest on assumed uncertainties: nothing of them is as good as certain.
  const chance = (share: number) =>
    share > 0.99 ? 'over 99 %' : share < 0.01 ? 'under 1 %' : `about ${showFixed(share * 100, 0)} %`;
  return [
    `  Within the target       ${chance(targets.withinTarget)} (${mass(targets.emptyMassKg)})`,
    ...(targets.reserveKg > 0
      ? [`  And the reserve left    ${chance(targets.withinTargetLessReserve)} (${mass(targets.reserveKg)})`]
      : []),
    ...(targets.cgInRange === undefined ? [] : [`  CG within its range     ${chance(targets.cgInRange)}`]),
  ];
}

function stationLines({ cg }: ForecastReport, units: DisplayUnits): readonly string[] {
  if (cg.x === undefined) return [];
  const { value, std } = showLengthWithStd(cg.x.atM, cg.x.stdM, units.length);
  return [`  CG, forecast            x ${value}${std === undefined ? '' : ` ± ${std}`} ${units.length}`];
}

function assumedLines({ assumed }: ForecastReport): readonly string[] {
  const from = (isOwn: boolean) => (isOwn ? 'the shop’s own' : 'common practice, no source');
  return [
    `  Taken for granted       a process misses by ${showPercent(assumed.processShiftStd)} % (${from(assumed.isOwnShift)}), a piece differs by ${showPercent(assumed.pieceToPieceStd)} % (${from(assumed.isOwnPiece)})`,
  ];
}

function groupsText(rows: readonly GroupForecastReport[], units: DisplayUnits): string {
  const mass = (massKg: number | undefined, sign = false) =>
    massKg === undefined ? '' : showMass(massKg, units.mass, { sign });
  return tableText(rows, [
    { heading: 'Forecast by group', align: 'left', cell: ({ group }) => group },
    { heading: 'parts', align: 'right', cell: ({ partCount }) => String(partCount) },
    { heading: `predicted ${units.mass}`, align: 'right', cell: ({ predictedKg }) => mass(predictedKg) },
    { heading: 'forecast', align: 'right', cell: ({ forecastKg }) => mass(forecastKg) },
    { heading: '±', align: 'right', cell: ({ forecastStdKg }) => mass(forecastStdKg) },
    { heading: 'target', align: 'right', cell: ({ targetKg }) => mass(targetKg) },
    { heading: 'margin of forecast', align: 'right', cell: ({ marginKg }) => mass(marginKg, true) },
  ]);
}

function processesText(rows: readonly ProcessForecastReport[], units: DisplayUnits): string {
  const mass = (massKg: number, sign = false) => showMass(massKg, units.mass, { sign });
  return tableText(rows, [
    { heading: 'Process', align: 'left', cell: ({ process }) => process },
    { heading: 'releases', align: 'right', cell: ({ releaseCount }) => String(releaseCount) },
    {
      heading: 'shift %',
      align: 'right',
      cell: ({ shiftFraction }) => showFixed(shiftFraction * 100, 1, { sign: true }),
    },
    { heading: '±', align: 'right', cell: ({ shiftStdFraction }) => showFixed(shiftStdFraction * 100, 1) },
    { heading: 'open pieces', align: 'right', cell: ({ openPieces }) => String(openPieces) },
    { heading: `open ${units.mass}`, align: 'right', cell: ({ openKg }) => mass(openKg) },
    { heading: 'adds', align: 'right', cell: ({ effectKg }) => mass(effectKg, true) },
    { heading: '±', align: 'right', cell: ({ effectStdKg }) => mass(effectStdKg) },
  ]);
}
