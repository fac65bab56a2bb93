/** The figures of a brief's headline, and its pictures day by day, as tables (rule B4). */

import { driftingProcesses, shownByProcessesKg, sparingProcesses } from '#shared/brief/process-lists.ts';
import type { BriefContent, BriefDay } from '#shared/contract/brief.ts';
import { say } from '#shared/words/say.ts';
import { type BriefTable, type Column, type NumberKind, tableOf, unitOf } from './table.ts';

type Figure = {
  readonly name: string;
  readonly kind: NumberKind;
  readonly value: number | undefined;
  readonly std?: number | undefined;
  readonly low?: number;
  readonly high?: number;
  readonly before?: number | undefined;
};

/** One figure a row, whatever it measures: so its unit has a column. */
export function headlineTable(content: BriefContent): BriefTable {
  const { aircraft } = content;
  const figures = [...massFigures(content), ...cgFigures(content), ...otherFigures(content)];
  const kind = (row: Figure) => row.kind;
  return tableOf(
    'headline',
    aircraft,
    figures.filter(({ value }) => value !== undefined),
    [
      { heading: say`figure`, kind: 'text', cell: ({ name }) => name },
      { heading: say`value`, kind, cell: ({ value }) => value },
      { heading: say`unit`, kind: 'text', cell: (row) => unitOf(row.kind, aircraft) },
      { heading: say`standard uncertainty`, kind, cell: ({ std }) => std },
      { heading: say`nine in ten from`, kind, cell: ({ low }) => low },
      { heading: say`nine in ten to`, kind, cell: ({ high }) => high },
      { heading: say`at entry ${content.from.seq}`, kind, cell: ({ before }) => before },
    ],
  );
}

function massFigures({ figures, forecast, from }: BriefContent): readonly Figure[] {
  const mass = (name: string, value: number | undefined, more: Partial<Figure> = {}): Figure => ({
    ...{ name, kind: 'mass', value },
    ...more,
  });
  const earlier = from.seq === 0 ? undefined : from;
  return [
    mass(say`forecast empty weight`, forecast.forecastKg, {
      ...{ std: forecast.forecastStdKg, low: forecast.lowKg, high: forecast.highKg, before: earlier?.forecastKg },
    }),
    mass(say`predicted empty weight`, figures.predictedKg, {
      std: figures.predictedStdKg,
      before: earlier?.predictedKg,
    }),
    mass('basic mass', figures.basicKg),
    mass('growth allowance', figures.allowanceKg),
    mass(say`what processes have shown, in the forecast`, shownByProcessesKg({ forecast })),
    mass('target', figures.targets?.emptyMassKg),
    mass('reserve', figures.targets?.reserveKg),
    mass(say`margin of the predicted weight`, figures.targets?.marginKg, { before: earlier?.marginKg }),
    mass(say`margin of the forecast`, forecast.targets?.marginKg),
    mass('weighed', figures.weighedKg),
    mass('installed', figures.installedKg),
    mass('in stock', figures.inStockKg),
    mass(say`without a station`, figures.withoutArmKg),
  ];
}

function cgFigures({ figures: { cg, targets }, forecast, from }: BriefContent): readonly Figure[] {
  const { x } = forecast.cg;
  const share = (percent: number | undefined) => (percent === undefined ? undefined : percent / 100);
  return [
    {
      ...{ name: say`CG x, forecast`, kind: 'station', value: x?.atM, std: x?.stdM },
      ...(x === undefined ? {} : { low: x.lowM, high: x.highM }),
    },
    { name: say`CG x, predicted`, kind: 'station', value: cg.xM, std: cg.xStdM, before: from.cgXM },
    { name: say`CG y, predicted`, kind: 'station', value: cg.yM, std: cg.yStdM },
    { name: say`CG z, predicted`, kind: 'station', value: cg.zM, std: cg.zStdM },
    { name: say`CG in MAC, predicted`, kind: 'per cent', value: share(cg.percentMac), std: share(cg.percentMacStd) },
    { name: say`forward end of the CG range`, kind: 'station', value: targets?.cgForwardM },
    { name: say`aft end of the CG range`, kind: 'station', value: targets?.cgAftM },
  ];
}

function otherFigures({ figures, forecast, from, to, drift, open }: BriefContent): readonly Figure[] {
  const count = (name: string, value: number): Figure => ({ name, kind: 'count', value });
  return [
    { name: say`chance to be within the target`, kind: 'per cent', value: forecast.targets?.withinTarget },
    { name: say`chance of the CG in its range`, kind: 'per cent', value: forecast.targets?.cgInRange },
    { name: say`weighed, by mass`, kind: 'per cent', value: to.weighedShare, before: from.weighedShare },
    count('parts', figures.partCount),
    count('pieces', figures.pieceCount),
    count(say`weighings beyond their limit`, drift.parts.count),
    count(say`weighings on watch`, figures.watchCount),
    count(say`processes that drift`, driftingProcesses(drift).length),
    count(say`processes with allowance to spare`, sparingProcesses(drift).length),
    count('open things', open.count),
    count('overdue proposals', open.overdueProposals),
  ];
}

const day: Column<BriefDay> = { heading: say`day`, kind: 'day', cell: (row) => row.day };

export function growthTable({ aircraft, days }: BriefContent): BriefTable {
  return tableOf('growth', aircraft, days, [
    day,
    { heading: say`predicted`, kind: 'mass', cell: (row) => row.predictedKg },
    { heading: say`forecast`, kind: 'mass', cell: (row) => row.forecastKg },
    { heading: say`nine in ten from`, kind: 'mass', cell: (row) => row.lowKg },
    { heading: say`nine in ten to`, kind: 'mass', cell: (row) => row.highKg },
    { heading: say`target`, kind: 'mass', cell: (row) => row.targetKg },
  ]);
}

export function cgTable({ aircraft, days }: BriefContent): BriefTable {
  return tableOf('CG', aircraft, days, [
    day,
    { heading: say`CG x, predicted`, kind: 'station', cell: (row) => row.cgXM },
    { heading: say`CG x, forecast`, kind: 'station', cell: (row) => row.cgForecastM },
    { heading: say`nine in ten from`, kind: 'station', cell: (row) => row.cgLowM },
    { heading: say`nine in ten to`, kind: 'station', cell: (row) => row.cgHighM },
    { heading: say`range, forward`, kind: 'station', cell: (row) => row.cgForwardM },
    { heading: say`range, aft`, kind: 'station', cell: (row) => row.cgAftM },
  ]);
}
