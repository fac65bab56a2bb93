/**
 * The reports as text for a terminal, in the aircraft's own units. Every figure comes from `shared/rollup/report.ts`; nothing
 * is computed here.
 */

import type { BreakdownReport, DayReport, DriftReport, EntryReport, PartReport } from '#shared/contract/reports.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { type DisplayUnits, showFixed, showLength, showMass, showPercent } from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import type { BreakdownKey } from '#shared/rollup/breakdown.ts';
import { describeEntry, piecesText } from '#shared/rollup/describe-entry.ts';
import {
  aircraftOf,
  breakdownReport,
  type DriftOrder,
  daysReport,
  driftReport,
  entriesReport,
  headlineReport,
  partsReport,
} from '#shared/rollup/report.ts';
import { type Column, tableText } from './table-text.ts';

export const VIEWS = ['headline', 'groups', 'processes', 'assemblies', 'parts', 'drift', 'entries', 'growth'] as const;
export type View = (typeof VIEWS)[number];

export type ViewOptions = { readonly order: DriftOrder; readonly last: number | undefined };

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
        return driftReport(ledger, options.order);
      case 'entries':
        return lastOf(entriesReport(ledger), options.last);
      default:
        return daysReport(ledger);
    }
  };
  return { aircraft: aircraftOf(ledger), ...Object.fromEntries(views.map((view) => [view, dataOf(view)])) };
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
        return partsText(partsReport(ledger), units);
      case 'drift':
        return driftText(driftReport(ledger, options.order), units);
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
  const mass = (massKg: number) => `${showMass(massKg, units.mass)} ${units.mass}`;
  const length = (lengthM: number | undefined) =>
    lengthM === undefined ? 'not known' : `${showLength(lengthM, units.length)} ${units.length}`;
  const { cg, targets } = headline;
  const inMac = cg.percentMac === undefined ? '' : ` (${showFixed(cg.percentMac, 1)} % MAC)`;
  const lines = [
    `${aircraft?.name ?? 'Aircraft'}, as of entry ${headline.seq}`,
    `  Predicted empty weight  ${mass(headline.predictedKg)}  = basic ${mass(headline.basicKg)} + allowance ${mass(headline.allowanceKg)}`,
    targets === undefined
      ? '  Target                  none set yet'
      : `  Target                  ${mass(targets.emptyMassKg)}, reserve ${mass(targets.reserveKg)}  (revision ${targets.revision})`,
    ...(targets === undefined
      ? []
      : [
          `  Margin                  ${showMass(targets.marginKg, units.mass, { sign: true })} ${units.mass}  (${showPercent(targets.marginShareOfTarget, { sign: true })} % of the target)`,
        ]),
    `  CG, predicted           x ${length(cg.xM)}${inMac}, y ${length(cg.yM)}, z ${length(cg.zM)}${cgRangeText(headline.targets, units)}`,
    `  CG, basic               x ${length(headline.cgBasic.xM)}`,
    `  Weighed                 ${headline.weighedShare === undefined ? 'nothing yet' : `${showPercent(headline.weighedShare)} % of the basic mass`}; installed ${mass(headline.installedKg)}, in stock ${mass(headline.inStockKg)}`,
    `  Parts                   ${headline.partCount} (${headline.pieceCount} pieces); drifting ${headline.driftingCount}, watch ${headline.watchCount}`,
    ...(headline.withoutEstimate.length === 0 ? [] : [`  Without estimate        ${someOf(headline.withoutEstimate)}`]),
    ...(headline.withoutArm.length === 0
      ? []
      : [
          `  Without station x       ${mass(headline.withoutArmKg)}, left out of the CG: ${someOf(headline.withoutArm)}`,
        ]),
    '  Planning figures, not approved data: no flight on them. The completed aircraft is weighed by local rules.',
  ];
  return `${lines.join('\n')}\n`;
}

function cgRangeText(targets: ReturnType<typeof headlineReport>['targets'], units: DisplayUnits): string {
  if (targets === undefined || targets.cgStanding === undefined) return '';
  const end = (stationM: number | undefined) => (stationM === undefined ? 'open' : showLength(stationM, units.length));
  return `; ${targets.cgStanding} ${end(targets.cgForwardM)} to ${end(targets.cgAftM)} ${units.length}`;
}

function breakdownText(rows: readonly BreakdownReport[], key: BreakdownKey, units: DisplayUnits): string {
  const mass = (massKg: number | undefined, sign = false) =>
    massKg === undefined ? '' : showMass(massKg, units.mass, { sign });
  const columns: Column<BreakdownReport>[] = [
    { heading: `By ${key}`, align: 'left', cell: (row) => row.name },
    { heading: 'parts', align: 'right', cell: (row) => String(row.partCount) },
    { heading: `basic ${units.mass}`, align: 'right', cell: (row) => mass(row.basicKg) },
    { heading: `predicted ${units.mass}`, align: 'right', cell: (row) => mass(row.predictedKg) },
    {
      heading: 'weighed %',
      align: 'right',
      cell: (row) => (row.weighedShare === undefined ? '' : showPercent(row.weighedShare)),
    },
    {
      heading: `CG x ${units.length}`,
      align: 'right',
      cell: (row) => (row.cgXM === undefined ? '' : showLength(row.cgXM, units.length)),
    },
    ...(key === 'group'
      ? ([
          { heading: `target ${units.mass}`, align: 'right', cell: (row) => mass(row.targetKg) },
          { heading: `margin ${units.mass}`, align: 'right', cell: (row) => mass(row.marginKg, true) },
        ] satisfies Column<BreakdownReport>[])
      : []),
  ];
  return tableText(rows, columns);
}

function partsText(rows: readonly PartReport[], units: DisplayUnits): string {
  const mass = (massKg: number | undefined) => (massKg === undefined ? '' : showMass(massKg, units.mass));
  const length = (lengthM: number | undefined) => (lengthM === undefined ? '' : showLength(lengthM, units.length));
  return tableText(rows, [
    { heading: 'Part', align: 'left', cell: (row) => row.number },
    { heading: 'name', align: 'left', cell: (row) => row.name },
    { heading: 'group', align: 'left', cell: (row) => row.group },
    { heading: 'assembly', align: 'left', cell: (row) => row.assembly ?? '' },
    { heading: 'weighed', align: 'right', cell: (row) => `${row.weighed.length} of ${row.quantity}` },
    { heading: `estimate ${units.mass}`, align: 'right', cell: (row) => mass(row.estimateKg) },
    { heading: `basic ${units.mass}`, align: 'right', cell: (row) => mass(row.basicKg) },
    { heading: `predicted ${units.mass}`, align: 'right', cell: (row) => mass(row.predictedKg) },
    { heading: `x ${units.length}`, align: 'right', cell: (row) => length(row.xM) },
    { heading: 'flag', align: 'left', cell: (row) => row.flag ?? '' },
  ]);
}

function driftText(rows: readonly DriftReport[], units: DisplayUnits): string {
  if (rows.length === 0) return 'No weighed part drifts.\n';
  const signed = (massKg: number) => showMass(massKg, units.mass, { sign: true });
  return tableText(rows, [
    { heading: 'Drift', align: 'left', cell: (row) => row.flag },
    { heading: 'part', align: 'left', cell: (row) => piecesText(row.number, row.pieces, row.quantity) },
    { heading: 'name', align: 'left', cell: (row) => row.name },
    { heading: 'weighed', align: 'left', cell: (row) => `${row.weighedOn} ${row.condition}` },
    { heading: `expected ${units.mass}`, align: 'right', cell: (row) => showMass(row.expectedKg, units.mass) },
    { heading: `net ${units.mass}`, align: 'right', cell: (row) => showMass(row.netKg, units.mass) },
    { heading: 'difference', align: 'right', cell: (row) => signed(row.differenceKg) },
    {
      heading: '%',
      align: 'right',
      cell: (row) => (row.differenceFraction === undefined ? '' : showPercent(row.differenceFraction, { sign: true })),
    },
    { heading: 'limit', align: 'right', cell: (row) => showMass(row.limitKg, units.mass) },
    { heading: 'margin', align: 'right', cell: (row) => signed(row.marginEffectKg) },
    {
      heading: 'CG x mm',
      align: 'right',
      cell: (row) => (row.cgEffectM === undefined ? '' : showFixed(row.cgEffectM * 1000, 2, { sign: true })),
    },
    { heading: 'cause', align: 'left', cell: (row) => row.cause ?? 'not stated' },
  ]).concat(
    rows.some((row) => row.flag.endsWith('light')) ? 'A light part can be a weak part: inspect before use.\n' : '',
  );
}

function entriesText(rows: readonly EntryReport[], units: DisplayUnits): string {
  const signed = (massKg: number) => showMass(massKg, units.mass, { sign: true });
  const effects = (row: EntryReport) =>
    row.effects.map((effect) => {
      const name = effect.isCorrection ? `${effect.cause} (corrected)` : effect.cause;
      if (effect.massKg !== 0) return `${name} ${signed(effect.massKg)}`;
      if (effect.marginKg !== 0) return `${name} ${signed(effect.marginKg)} margin`;
      return `${name} ${showFixed(effect.momentXKgM / MASS_UNIT_KG[units.mass] / LENGTH_UNIT_M[units.length], 2, { sign: true })} ${units.mass} ${units.length}`;
    });
  return tableText(rows, [
    { heading: 'Entry', align: 'right', cell: (row) => String(row.seq) },
    { heading: 'day', align: 'left', cell: (row) => row.entry.happenedOn },
    { heading: 'by', align: 'left', cell: (row) => row.entry.by },
    { heading: 'what', align: 'left', cell: (row) => describeEntry(row, units) },
    { heading: `effect ${units.mass}`, align: 'left', cell: (row) => effects(row).join(', ') },
    { heading: `predicted ${units.mass}`, align: 'right', cell: (row) => showMass(row.predictedKg, units.mass) },
    {
      heading: `CG x ${units.length}`,
      align: 'right',
      cell: (row) => (row.cgXM === undefined ? '' : showLength(row.cgXM, units.length)),
    },
    {
      heading: `margin ${units.mass}`,
      align: 'right',
      cell: (row) => (row.marginKg === undefined ? '' : signed(row.marginKg)),
    },
  ]);
}

function growthText(rows: readonly DayReport[], units: DisplayUnits): string {
  const signed = (massKg: number | undefined) =>
    massKg === undefined ? '' : showMass(massKg, units.mass, { sign: true });
  return tableText(rows, [
    { heading: 'Day', align: 'left', cell: (row) => row.day },
    { heading: `basic ${units.mass}`, align: 'right', cell: (row) => showMass(row.basicKg, units.mass) },
    { heading: `predicted ${units.mass}`, align: 'right', cell: (row) => showMass(row.predictedKg, units.mass) },
    {
      heading: `target ${units.mass}`,
      align: 'right',
      cell: (row) => (row.targetKg === undefined ? '' : showMass(row.targetKg, units.mass)),
    },
    { heading: `margin ${units.mass}`, align: 'right', cell: (row) => signed(row.marginKg) },
    {
      heading: 'change',
      align: 'left',
      cell: (row) =>
        row.effects
          .filter((effect) => effect.massKg !== 0)
          .map((effect) => `${effect.cause} ${signed(effect.massKg)}`)
          .join(', '),
    },
  ]);
}

function someOf(names: readonly string[]): string {
  const shown = names.slice(0, 8).join(', ');
  return names.length > 8 ? `${shown} and ${names.length - 8} more` : shown;
}

function lastOf<Row>(rows: readonly Row[], count: number | undefined): readonly Row[] {
  return count === undefined ? rows : rows.slice(Math.max(0, rows.length - count));
}
