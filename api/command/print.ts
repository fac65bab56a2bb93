/**
 * The reports as text for a terminal, in the aircraft's own units. Every figure comes from `shared/rollup/report.ts`; nothing
 * is computed here.
 */

import { signedWeighings } from '#shared/aircraft-weighing/report.ts';
import type { SplitKey } from '#shared/contract/drift.ts';
import type { BreakdownReport, EntryReport, HeadlineReport, Listed, PartReport } from '#shared/contract/reports.ts';
import { groupDrifts } from '#shared/drift/larger-drift.ts';
import { withoutProcessCause } from '#shared/drift/process-drift.ts';
import { type DriftOrder, findingsReport, splitReport } from '#shared/drift/report.ts';
import { type ShopErrors, shopErrorsOf } from '#shared/estimate/shop-errors.ts';
import { forecastReport, groupForecastReport } from '#shared/forecast/report.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { loadingReport } from '#shared/loading/report.ts';
import { dayBefore, USUAL_DAYS } from '#shared/loading/say.ts';
import {
  type DisplayUnits,
  showFixed,
  showLength,
  showLengthWithStd,
  showMass,
  showMassWithStd,
  showPercent,
} from '#shared/quantity/show.ts';
import type { BreakdownKey } from '#shared/rollup/breakdown.ts';
import { bridgeReport, type Period } from '#shared/rollup/bridge.ts';
import { describeEntry } from '#shared/rollup/describe-entry.ts';
import { partsReport } from '#shared/rollup/parts-report.ts';
import { aircraftOf, breakdownReport, daysReport, entriesReport, headlineReport } from '#shared/rollup/report.ts';
import { pairReport } from '#shared/weighing/pairs.ts';
import { scaleReport } from '#shared/weighing/scale-report.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { findingsText, pairText, scaleText, splitText } from './print-findings.ts';
import { forecastText } from './print-forecast.ts';
import { bridgeText, effectText, growthText } from './print-growth.ts';
import { loadingText } from './print-loading.ts';
import { weighingsText } from './print-weighing.ts';
import { type Column, labelled, tableText } from './table-text.ts';

export const VIEWS = [
  'headline',
  'groups',
  'processes',
  'assemblies',
  'parts',
  'drift',
  'forecast',
  'split',
  'pairs',
  'scales',
  'entries',
  'growth',
  'bridge',
  'loading',
  'aircraft-weighing',
] as const;
export type View = (typeof VIEWS)[number];

export type ViewOptions = {
  readonly order: DriftOrder;
  readonly last: number | undefined;
  readonly splitBy: SplitKey;
  readonly period: Period;
};

const BREAKDOWNS: Readonly<Partial<Record<View, BreakdownKey>>> = {
  groups: 'group',
  processes: 'process',
  assemblies: 'assembly',
};

/** The figures of the chosen views, for `--json`. */
export function viewsData(ledger: Ledger, views: readonly View[], options: ViewOptions): Record<string, unknown> {
  const dataOf = (view: View): unknown => {
    const key = BREAKDOWNS[view];
    if (key !== undefined) return breakdownReport(ledger, key);
    switch (view) {
      case 'headline':
        return headlineReport(ledger);
      case 'parts':
        return partsReport(ledger);
      case 'drift':
        return findingsReport(ledger, options.order);
      case 'forecast':
        return forecastWithGroups(ledger);
      case 'split':
        return splitReport(ledger, options.splitBy);
      case 'pairs':
        return pairReport(ledger);
      case 'scales':
        return scaleReport(ledger);
      case 'loading':
        return loadingReport(ledger, lastDayOf(ledger));
      case 'aircraft-weighing':
        return signedWeighings(ledger);
      case 'bridge':
        return bridgeReport(ledger, options.period);
      case 'entries':
        return lastOf(entriesReport(ledger), options.last);
      default:
        return daysReport(ledger);
    }
  };
  return { aircraft: aircraftOf(ledger), ...Object.fromEntries(views.map((view) => [view, dataOf(view)])) };
}

function forecastWithGroups(ledger: Ledger) {
  return { ...forecastReport(ledger), groups: [...groupForecastReport(ledger)] };
}

/** The chosen views as text, each under its heading. */
export function viewsText(ledger: Ledger, views: readonly View[], options: ViewOptions): string {
  const aircraft = aircraftOf(ledger);
  const units: DisplayUnits = { mass: aircraft?.massUnit ?? 'kg', length: aircraft?.lengthUnit ?? 'm' };
  const textOf = (view: View): string => {
    const key = BREAKDOWNS[view];
    if (key !== undefined) return breakdownText(breakdownReport(ledger, key), key, units);
    switch (view) {
      case 'headline':
        return headlineText(ledger, aircraft, units);
      case 'parts':
        return partsText(ledger, units);
      case 'drift':
        return findingsText(findingsReport(ledger, options.order), units);
      case 'forecast':
        return forecastText(forecastWithGroups(ledger), units);
      case 'split':
        return splitText(splitReport(ledger, options.splitBy), options.splitBy, units);
      case 'pairs':
        return pairText(pairReport(ledger), units);
      case 'scales':
        return scaleText(scaleReport(ledger), units);
      case 'loading':
        return loadingText(loadingReport(ledger, lastDayOf(ledger)), units);
      case 'aircraft-weighing':
        return weighingsText(signedWeighings(ledger), units);
      case 'bridge':
        return bridgeText(bridgeReport(ledger, options.period), units);
      case 'entries':
        return entriesText(lastOf(entriesReport(ledger), options.last), units);
      default:
        return growthText(daysReport(ledger), units);
    }
  };
  return views.map(textOf).join('\n');
}

function headlineText(ledger: Ledger, aircraft: StatementOf<'aircraft'> | undefined, units: DisplayUnits): string {
  const headline = headlineReport(ledger);
  const called = [...withoutProcessCause(ledger)];
  const groupsOver = groupDrifts(ledger).map(({ group }) => group);
  const mass = (massKg: number) => `${showMass(massKg, units.mass)} ${units.mass}`;
  const length = (lengthM: number | undefined) =>
    lengthM === undefined ? say`not known` : `${showLength(lengthM, units.length)} ${units.length}`;
  const { cg, targets } = headline;
  const std = headline.predictedStdKg;
  const inMac = cg.percentMac === undefined ? '' : ` (${showFixed(cg.percentMac, 1)} % MAC)`;
  const withStd = (massKg: number, sign = false) => {
    const { value, std: off } = showMassWithStd(massKg, std, units.mass, { sign });
    return `${value}${off === undefined ? '' : ` ± ${off}`} ${units.mass}`;
  };
  const station = (stationM: number | undefined, stdM: number | undefined) => {
    if (stationM === undefined) return say`not known`;
    const { value, std: off } = showLengthWithStd(stationM, stdM, units.length);
    return `${value}${off === undefined ? '' : ` ± ${off}`} ${units.length}`;
  };
  const lines = labelled(
    [
      [
        `  ${say`Predicted empty weight`}`,
        say`${withStd(headline.predictedKg)}  = basic ${mass(headline.basicKg)} + allowance ${mass(headline.allowanceKg)}`,
      ],
      [
        `  ${say`Target`}`,
        targets === undefined
          ? say`none set yet`
          : say`${mass(targets.emptyMassKg)}, reserve ${mass(targets.reserveKg)}  (revision ${targets.revision})`,
      ],
      [
        `  ${say`Margin, predicted`}`,
        targets &&
          say`${withStd(targets.marginKg, true)}  (${showPercent(targets.marginShareOfTarget, { sign: true })} % of the target)`,
      ],
      [
        `  ${say`CG, predicted`}`,
        `x ${station(cg.xM, cg.xStdM)}${inMac}, y ${station(cg.yM, cg.yStdM)}, z ${station(cg.zM, cg.zStdM)}${cgRangeText(targets, units)}`,
      ],
      [`  ${say`CG, basic`}`, `x ${length(headline.cgBasic.xM)}`],
      [
        `  ${say`Weighed`}`,
        say`${headline.weighedShare === undefined ? say`nothing yet` : say`${showPercent(headline.weighedShare)} % of the basic mass`}; installed ${mass(headline.installedKg)}, in stock ${mass(headline.inStockKg)}`,
      ],
      [
        `  ${say`Parts`}`,
        say`${headline.partCount} (${headline.pieceCount} pieces); drifting ${headline.driftingCount}, watch ${headline.watchCount}`,
      ],
      [`  ${say`Without estimate`}`, someOf(headline.withoutEstimate)],
      [
        `  ${say`Without station x`}`,
        headline.withoutArm.count === 0
          ? undefined
          : say`${mass(headline.withoutArmKg)}, left out of the CG: ${someOf(headline.withoutArm)}`,
      ],
      [`  ${say`Scale in doubt`}`, someOf(headline.inDoubt)],
      [`  ${say`Groups over target`}`, someOf({ count: groupsOver.length, first: groupsOver })],
      [`  ${say`Processes called`}`, someOf({ count: called.length, first: called.map((process) => term(process)) })],
      [
        `  ${say`Many small ones`}`,
        headline.manySmallCount === 0 ? undefined : say`${headline.manySmallCount} sums of parts that are each in line`,
      ],
    ],
    26,
  );
  return [
    say`${aircraft?.name ?? say`Aircraft`}, as of entry ${headline.seq}`,
    ...lines,
    ...(std > 0 ? [`  ${say`± is one standard uncertainty${assumedText(headline, shopErrorsOf(ledger))}.`}`] : []),
    `  ${say`Planning figures, not approved data: no flight on them. The completed aircraft is weighed by local rules.`}`,
    '',
  ].join('\n');
}

function assumedText({ assumedStdCount, exactArmCount }: HeadlineReport, { pieceToPieceStd }: ShopErrors): string {
  const parts = (count: number) => (count === 1 ? say`one part` : say`${count} parts`);
  const assumed =
    assumedStdCount === 0
      ? ''
      : say`; where an estimate states none (${parts(assumedStdCount)}) it is taken for ${showPercent(pieceToPieceStd)} %`;
  return exactArmCount === 0 ? assumed : say`${assumed}; stations without one (${parts(exactArmCount)}) count as exact`;
}

function cgRangeText(targets: ReturnType<typeof headlineReport>['targets'], units: DisplayUnits): string {
  if (targets === undefined || targets.cgStanding === undefined) return '';
  const end = (stationM: number | undefined) =>
    stationM === undefined ? say`open` : showLength(stationM, units.length);
  return say`; ${term(targets.cgStanding)}${targets.cgIsNearEnd ? say`, within one standard uncertainty of an end,` : ''} ${end(targets.cgForwardM)} to ${end(targets.cgAftM)} ${units.length}`;
}

function breakdownText(rows: readonly BreakdownReport[], key: BreakdownKey, units: DisplayUnits): string {
  const mass = (massKg: number | undefined, sign = false) =>
    massKg === undefined ? '' : showMass(massKg, units.mass, { sign });
  const columns: Column<BreakdownReport>[] = [
    { heading: say`By ${term(key)}`, align: 'left', cell: (row) => (key === 'process' ? term(row.name) : row.name) },
    { heading: say`parts`, align: 'right', cell: (row) => String(row.partCount) },
    { heading: say`basic ${units.mass}`, align: 'right', cell: (row) => mass(row.basicKg) },
    { heading: say`predicted ${units.mass}`, align: 'right', cell: (row) => mass(row.predictedKg) },
    { heading: '±', align: 'right', cell: (row) => mass(row.predictedStdKg) },
    {
      heading: say`weighed %`,
      align: 'right',
      cell: (row) => (row.weighedShare === undefined ? '' : showPercent(row.weighedShare)),
    },
    {
      heading: say`CG x ${units.length}`,
      align: 'right',
      cell: (row) => (row.cgXM === undefined ? '' : showLength(row.cgXM, units.length)),
    },
    ...(key === 'group'
      ? ([
          { heading: say`target ${units.mass}`, align: 'right', cell: (row) => mass(row.targetKg) },
          { heading: say`margin of predicted ${units.mass}`, align: 'right', cell: (row) => mass(row.marginKg, true) },
        ] satisfies Column<BreakdownReport>[])
      : []),
  ];
  return tableText(rows, columns);
}

function partsText(ledger: Ledger, units: DisplayUnits): string {
  const mass = (massKg: number | undefined) => (massKg === undefined ? '' : showMass(massKg, units.mass));
  const length = (lengthM: number | undefined) => (lengthM === undefined ? '' : showLength(lengthM, units.length));
  return tableText(partsReport(ledger), [
    { heading: say`Part`, align: 'left', cell: (row) => row.number },
    { heading: say`name`, align: 'left', cell: (row) => row.name },
    { heading: say`group`, align: 'left', cell: (row) => row.group },
    { heading: say`assembly`, align: 'left', cell: (row) => row.assembly ?? '' },
    { heading: say`weighed`, align: 'right', cell: (row) => weighedText(row, ledger) },
    { heading: say`estimate ${units.mass}`, align: 'right', cell: (row) => mass(row.estimateKg) },
    { heading: say`basic ${units.mass}`, align: 'right', cell: (row) => mass(row.basicKg) },
    { heading: say`predicted ${units.mass}`, align: 'right', cell: (row) => mass(row.predictedKg) },
    { heading: say`x ${units.length}`, align: 'right', cell: (row) => length(row.xM) },
    { heading: say`flag`, align: 'left', cell: (row) => term(row.flag) ?? '' },
  ]);
}

/** An assembly is weighed as a whole or not at all; it need not have a piece of its own. */
function weighedText({ partId, weighed, quantity }: PartReport, { books }: Ledger): string {
  if (books.byPart.get(partId)?.state.assemblyByLife.at(-1) !== undefined) return say`as a whole`;
  const isAssembly = (books.byParent.get(partId)?.size ?? 0) > 0;
  return isAssembly && weighed.length === 0 ? say`not as a whole` : say`${weighed.length} of ${quantity}`;
}

function entriesText(rows: readonly EntryReport[], units: DisplayUnits): string {
  const signed = (massKg: number) => showMass(massKg, units.mass, { sign: true });
  const effects = (row: EntryReport) => row.effects.map((effect) => effectText(effect, units));
  return tableText(rows, [
    { heading: say`Entry`, align: 'right', cell: (row) => String(row.seq) },
    { heading: say`day`, align: 'left', cell: (row) => dayWords(row.entry.happenedOn) },
    { heading: say`by`, align: 'left', cell: (row) => row.entry.by },
    { heading: say`what`, align: 'left', cell: (row) => entryText(row, units) },
    { heading: say`effect ${units.mass}`, align: 'left', cell: (row) => effects(row).join(', ') },
    { heading: say`predicted ${units.mass}`, align: 'right', cell: (row) => showMass(row.predictedKg, units.mass) },
    {
      heading: say`CG x ${units.length}`,
      align: 'right',
      cell: (row) => (row.cgXM === undefined ? '' : showLength(row.cgXM, units.length)),
    },
    {
      heading: say`margin of predicted ${units.mass}`,
      align: 'right',
      cell: (row) => (row.marginKg === undefined ? '' : signed(row.marginKg)),
    },
  ]);
}

/** In one line, with the remark of whoever recorded it; remarks and findings may have been typed in several. */
function entryText(row: EntryReport, units: DisplayUnits): string {
  const { remark } = row.entry;
  return `${describeEntry(row, units)}${remark === undefined ? '' : say`; remark: ${remark}`}`.replace(/\s+/g, ' ');
}

function someOf({ count, first }: Listed): string | undefined {
  if (count === 0) return undefined;
  const shown = first.slice(0, 8);
  return count > shown.length ? say`${shown.join(', ')} and ${count - shown.length} more` : shown.join(', ');
}

/** A command knows no today: it compares with the week before the last thing that happened. */
function lastDayOf(ledger: Ledger): string {
  const last =
    ledger.entries
      .map(({ entry }) => entry.happenedOn)
      .sort()
      .at(-1) ?? '1900-01-08';
  return dayBefore(last, USUAL_DAYS);
}

function lastOf<Row>(rows: readonly Row[], count: number | undefined): readonly Row[] {
  return count === undefined ? rows : rows.slice(Math.max(0, rows.length - count));
}
