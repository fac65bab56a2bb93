/** What drifts, as text for a terminal. Every figure comes from `shared/drift` and `shared/weighing`; nothing is computed here. */
import type {
  AssemblyDriftReport,
  CgDriftReport,
  DriftReport,
  FindingsReport,
  GroupDriftReport,
  ManySmallReport,
  MarkReport,
  PairReport,
  ScaleReport,
  SplitKey,
  SplitReport,
} from '#shared/contract/drift.ts';
import { type DisplayUnits, showFixed, showLength, showMass, showPercent } from '#shared/quantity/show.ts';
import { piecesText } from '#shared/rollup/describe-entry.ts';
import { type Column, tableText } from './table-text.ts';

export function findingsText(findings: FindingsReport, units: DisplayUnits): string {
  const flagged = findings.assemblies.filter(({ flag }) => flag !== 'in line');
  const parts = [
    findings.parts.length === 0 ? 'No weighed part drifts.\n' : partsText(findings.parts, units),
    ...(findings.cg === undefined ? [] : [cgText(findings.cg, units)]),
    ...(findings.groups.length === 0 ? [] : [groupsText(findings.groups, units)]),
    ...(findings.assemblies.length === 0 ? [] : [assembliesText(findings.assemblies, units)]),
    ...(findings.manySmall.length === 0 ? [] : [manySmallText(findings.manySmall, units)]),
    ...([...findings.parts, ...flagged].some(({ flag }) => flag.endsWith('light'))
      ? ['A light part can be a weak part: inspect before use.\n']
      : []),
  ];
  return parts.join('\n');
}

function partsText(rows: readonly DriftReport[], units: DisplayUnits): string {
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
    { heading: 'effect on margin', align: 'right', cell: (row) => signed(row.marginEffectKg) },
    { heading: 'CG x mm', align: 'right', cell: (row) => millimetres(row.cgEffectM) },
    { heading: 'cause', align: 'left', cell: (row) => row.cause ?? 'not stated' },
    ...(rows.some((row) => row.disposition !== undefined) ? [DECISION] : []),
    ...(rows.some((row) => row.marks.length > 0) ? [MARKS] : []),
  ]);
}

const DECISION: Column<DriftReport> = {
  heading: 'decision',
  align: 'left',
  cell: (row) => (row.disposition === undefined ? '' : `${row.disposition} by ${row.decidedBy ?? ''}`),
};
const MARKS: Column<DriftReport> = {
  heading: 'scale',
  align: 'left',
  cell: (row) => row.marks.map(markText).join('; '),
};

function markText(mark: MarkReport): string {
  return mark.mark === 'calibration out of date'
    ? `calibration was due ${mark.dueOn}`
    : `check weight failed on ${mark.checkedOn} (entry ${mark.checkSeq})`;
}

function cgText({ level, standing, xM, xStdM, cgForwardM, cgAftM }: CgDriftReport, units: DisplayUnits): string {
  const end = (stationM: number | undefined) => (stationM === undefined ? 'open' : showLength(stationM, units.length));
  const where = level === 'drifting' ? `is ${standing}` : 'is within one standard uncertainty of an end of its range';
  const off = xStdM === undefined ? '' : ` ± ${showFixed(xStdM * 1000, 1)} mm`;
  return `The CG ${where}: x ${showLength(xM, units.length)} ${units.length}${off}, range ${end(cgForwardM)} to ${end(cgAftM)} ${units.length}.\n`;
}

function groupsText(rows: readonly GroupDriftReport[], units: DisplayUnits): string {
  return tableText(rows, [
    { heading: 'Group over its target', align: 'left', cell: (row) => row.group },
    { heading: `predicted ${units.mass}`, align: 'right', cell: (row) => showMass(row.predictedKg, units.mass) },
    { heading: 'forecast', align: 'right', cell: (row) => showMass(row.forecastKg, units.mass) },
    { heading: '±', align: 'right', cell: (row) => showMass(row.forecastStdKg, units.mass) },
    { heading: 'target', align: 'right', cell: (row) => showMass(row.targetKg, units.mass) },
    { heading: 'margin', align: 'right', cell: (row) => showMass(row.marginKg, units.mass, { sign: true }) },
    { heading: 'CG x mm', align: 'right', cell: (row) => millimetres(row.cgEffectM) },
  ]);
}

function assembliesText(rows: readonly AssemblyDriftReport[], units: DisplayUnits): string {
  const mass = (massKg: number, sign = false) => showMass(massKg, units.mass, { sign });
  return tableText(rows, [
    { heading: 'Weighed assembly', align: 'left', cell: (row) => row.number },
    { heading: 'name', align: 'left', cell: (row) => row.name },
    { heading: 'weighed', align: 'left', cell: (row) => `${row.weighedOn} ${row.condition}` },
    { heading: 'parts in it', align: 'right', cell: (row) => String(row.partCount) },
    { heading: `as weighed ${units.mass}`, align: 'right', cell: (row) => mass(row.projectedKg) },
    { heading: 'sum of parts', align: 'right', cell: (row) => mass(row.partsKg) },
    { heading: 'residual', align: 'right', cell: (row) => mass(row.residualKg, true) },
    { heading: 'moment kg m', align: 'right', cell: (row) => showFixed(row.residualMomentXKgM, 3, { sign: true }) },
    { heading: 'CG x mm', align: 'right', cell: (row) => millimetres(row.cgEffectM) },
    { heading: 'flag', align: 'left', cell: (row) => row.flag },
  ]);
}

function manySmallText(rows: readonly ManySmallReport[], units: DisplayUnits): string {
  return tableText(rows, [
    { heading: 'Each in line, adding up', align: 'left', cell: (row) => `${row.by} ${row.name}` },
    { heading: 'parts', align: 'right', cell: (row) => String(row.partCount) },
    { heading: `sum ${units.mass}`, align: 'right', cell: (row) => showMass(row.sumKg, units.mass, { sign: true }) },
    { heading: 'sd', align: 'right', cell: (row) => showMass(row.sdKg, units.mass) },
    {
      heading: 'effect on margin',
      align: 'right',
      cell: (row) => showMass(row.marginEffectKg, units.mass, { sign: true }),
    },
    { heading: 'CG x mm', align: 'right', cell: (row) => millimetres(row.cgEffectM) },
    { heading: 'cause', align: 'left', cell: (row) => row.cause?.cause ?? 'not stated' },
  ]);
}

export function splitText(rows: readonly SplitReport[], key: SplitKey, units: DisplayUnits): string {
  const share = (fraction: number | undefined, sign: boolean) =>
    fraction === undefined ? '' : showPercent(fraction, { sign });
  return tableText(rows, [
    { heading: `Differences by ${key}`, align: 'left', cell: (row) => row.name },
    { heading: 'pieces', align: 'right', cell: (row) => String(row.pieceCount) },
    { heading: `sum ${units.mass}`, align: 'right', cell: (row) => showMass(row.sumKg, units.mass, { sign: true }) },
    { heading: 'mean %', align: 'right', cell: (row) => share(row.meanFraction, true) },
    { heading: 'sd %', align: 'right', cell: (row) => share(row.sdFraction, false) },
  ]);
}

export function pairText(rows: readonly PairReport[], units: DisplayUnits): string {
  if (rows.length === 0) return 'No piece has been weighed both before and after trim, or before and after finish.\n';
  const lessons = tableText(rows, [
    { heading: 'Weighed twice', align: 'left', cell: (row) => `${row.process}: ${row.what}` },
    { heading: 'pairs', align: 'right', cell: (row) => String(row.pairCount) },
    { heading: 'found % of trimmed', align: 'right', cell: (row) => showPercent(row.meanFraction) },
    {
      heading: 'sd %',
      align: 'right',
      cell: (row) => (row.sdFraction === undefined ? '' : showPercent(row.sdFraction)),
    },
    { heading: 'estimated %', align: 'right', cell: (row) => showPercent(row.estimatedFraction) },
  ]);
  const offers = rows.flatMap((row) => row.offers.map((offer) => ({ ...offer, what: row.what })));
  if (offers.length === 0) return lessons;
  return `${lessons}\n${tableText(offers, [
    { heading: 'Offered to the estimate of', align: 'left', cell: (row) => row.number },
    { heading: 'what', align: 'left', cell: (row) => row.what },
    { heading: `estimated ${units.mass}`, align: 'right', cell: (row) => showMass(row.estimatedKg, units.mass) },
    { heading: 'offered', align: 'right', cell: (row) => showMass(row.offeredKg, units.mass) },
  ])}`;
}

export function scaleText(rows: readonly ScaleReport[], units: DisplayUnits): string {
  if (rows.length === 0) return 'No scale is known yet.\n';
  const mass = (massKg: number | undefined) => (massKg === undefined ? '' : showMass(massKg, units.mass));
  return tableText(rows, [
    { heading: 'Scale', align: 'left', cell: (row) => row.scale },
    { heading: `capacity ${units.mass}`, align: 'right', cell: (row) => mass(row.capacityKg) },
    { heading: 'resolution', align: 'right', cell: (row) => mass(row.resolutionKg) },
    { heading: 'calibration ± %', align: 'right', cell: (row) => showFixed(row.gainStd * 100, 3) },
    { heading: 'due', align: 'left', cell: (row) => row.dueOn ?? '' },
    {
      heading: 'last check',
      align: 'left',
      cell: (row) =>
        row.lastCheckOn === undefined ? '' : `${row.lastCheckOn} ${row.lastCheckPassed === true ? 'passed' : 'failed'}`,
    },
    { heading: 'weighings', align: 'right', cell: (row) => String(row.weighingCount) },
    { heading: 'in doubt', align: 'left', cell: (row) => row.marked.map(({ seq }) => seq).join(', ') },
  ]);
}

function millimetres(lengthM: number | undefined): string {
  return lengthM === undefined ? '' : showFixed(lengthM * 1000, 2, { sign: true });
}
