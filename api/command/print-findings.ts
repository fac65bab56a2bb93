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
import { LENGTH_UNIT_M } from '#shared/quantity/units.ts';
import { piecesText } from '#shared/rollup/describe-entry.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { type Column, tableText } from './table-text.ts';

export function findingsText(findings: FindingsReport, units: DisplayUnits): string {
  const flagged = findings.assemblies.filter(({ flag }) => flag !== 'in line');
  const parts = [
    findings.parts.length === 0 ? `${say`No weighed part drifts.`}\n` : partsText(findings.parts, units),
    ...(findings.cg === undefined ? [] : [cgText(findings.cg, units)]),
    ...(findings.groups.length === 0 ? [] : [groupsText(findings.groups, units)]),
    ...(findings.assemblies.length === 0 ? [] : [assembliesText(findings.assemblies, units)]),
    ...(findings.manySmall.length === 0 ? [] : [manySmallText(findings.manySmall, units)]),
    ...([...findings.parts, ...flagged].some(({ flag }) => flag.endsWith('light'))
      ? [`${say`A light part can be a weak part: inspect before use.`}\n`]
      : []),
  ];
  return parts.join('\n');
}

function partsText(rows: readonly DriftReport[], units: DisplayUnits): string {
  const signed = (massKg: number) => showMass(massKg, units.mass, { sign: true });
  return tableText(rows, [
    { heading: say`Drift`, align: 'left', cell: (row) => term(row.flag) },
    { heading: say`part`, align: 'left', cell: (row) => piecesText(row.number, row.pieces, row.quantity) },
    { heading: say`name`, align: 'left', cell: (row) => row.name },
    { heading: say`weighed`, align: 'left', cell: (row) => `${dayWords(row.weighedOn)} ${term(row.condition)}` },
    { heading: say`expected ${units.mass}`, align: 'right', cell: (row) => showMass(row.expectedKg, units.mass) },
    { heading: say`net ${units.mass}`, align: 'right', cell: (row) => showMass(row.netKg, units.mass) },
    { heading: say`difference`, align: 'right', cell: (row) => signed(row.differenceKg) },
    {
      heading: '%',
      align: 'right',
      cell: (row) => (row.differenceFraction === undefined ? '' : showPercent(row.differenceFraction, { sign: true })),
    },
    { heading: say`limit`, align: 'right', cell: (row) => showMass(row.limitKg, units.mass) },
    { heading: say`effect on margin`, align: 'right', cell: (row) => signed(row.marginEffectKg) },
    { heading: say`CG x ${smallUnit(units)}`, align: 'right', cell: (row) => smallLength(row.cgEffectM, units) },
    { heading: say`cause`, align: 'left', cell: (row) => term(row.cause) ?? say`not stated` },
    ...(rows.some((row) => row.disposition !== undefined) ? [DECISION] : []),
    ...(rows.some((row) => row.marks.length > 0) ? [MARKS] : []),
  ]);
}

const DECISION: Column<DriftReport> = {
  heading: say`decision`,
  align: 'left',
  cell: (row) => (row.disposition === undefined ? '' : say`${term(row.disposition)} by ${row.decidedBy ?? ''}`),
};
const MARKS: Column<DriftReport> = {
  heading: say`scale`,
  align: 'left',
  cell: (row) => row.marks.map(markText).join('; '),
};

function markText(mark: MarkReport): string {
  return mark.mark === 'calibration out of date'
    ? say`calibration was due ${dayWords(mark.dueOn)}`
    : say`check weight failed on ${dayWords(mark.checkedOn)} (entry ${mark.checkSeq})`;
}

function cgText({ level, standing, xM, xStdM, cgForwardM, cgAftM }: CgDriftReport, units: DisplayUnits): string {
  const end = (stationM: number | undefined) =>
    stationM === undefined ? say`open` : showLength(stationM, units.length);
  const small = smallUnit(units);
  const off =
    xStdM === undefined ? '' : ` ± ${showFixed(xStdM / LENGTH_UNIT_M[small], small === 'mm' ? 1 : 2)} ${small}`;
  const at = `x ${showLength(xM, units.length)} ${units.length}${off}`;
  const range = say`range ${end(cgForwardM)} to ${end(cgAftM)} ${units.length}`;
  return level === 'drifting'
    ? `${say`The CG is ${term(standing)}: ${at}, ${range}.`}\n`
    : `${say`The CG is within one standard uncertainty of an end of its range: ${at}, ${range}.`}\n`;
}

function groupsText(rows: readonly GroupDriftReport[], units: DisplayUnits): string {
  return tableText(rows, [
    { heading: say`Group over its target`, align: 'left', cell: (row) => row.group },
    { heading: say`predicted ${units.mass}`, align: 'right', cell: (row) => showMass(row.predictedKg, units.mass) },
    { heading: say`forecast`, align: 'right', cell: (row) => showMass(row.forecastKg, units.mass) },
    { heading: '±', align: 'right', cell: (row) => showMass(row.forecastStdKg, units.mass) },
    { heading: say`target`, align: 'right', cell: (row) => showMass(row.targetKg, units.mass) },
    { heading: say`margin`, align: 'right', cell: (row) => showMass(row.marginKg, units.mass, { sign: true }) },
    { heading: say`CG x ${smallUnit(units)}`, align: 'right', cell: (row) => smallLength(row.cgEffectM, units) },
  ]);
}

function assembliesText(rows: readonly AssemblyDriftReport[], units: DisplayUnits): string {
  const mass = (massKg: number, sign = false) => showMass(massKg, units.mass, { sign });
  return tableText(rows, [
    { heading: say`Weighed assembly`, align: 'left', cell: (row) => row.number },
    { heading: say`name`, align: 'left', cell: (row) => row.name },
    { heading: say`weighed`, align: 'left', cell: (row) => `${dayWords(row.weighedOn)} ${term(row.condition)}` },
    { heading: say`parts in it`, align: 'right', cell: (row) => String(row.partCount) },
    { heading: say`as weighed ${units.mass}`, align: 'right', cell: (row) => mass(row.projectedKg) },
    { heading: say`sum of parts`, align: 'right', cell: (row) => mass(row.partsKg) },
    { heading: say`residual`, align: 'right', cell: (row) => mass(row.residualKg, true) },
    { heading: say`moment kg m`, align: 'right', cell: (row) => showFixed(row.residualMomentXKgM, 3, { sign: true }) },
    { heading: say`CG x ${smallUnit(units)}`, align: 'right', cell: (row) => smallLength(row.cgEffectM, units) },
    { heading: say`flag`, align: 'left', cell: (row) => term(row.flag) },
  ]);
}

function manySmallText(rows: readonly ManySmallReport[], units: DisplayUnits): string {
  return tableText(rows, [
    { heading: say`Each in line, adding up`, align: 'left', cell: (row) => `${term(row.by)} ${term(row.name)}` },
    { heading: say`parts`, align: 'right', cell: (row) => String(row.partCount) },
    { heading: say`sum ${units.mass}`, align: 'right', cell: (row) => showMass(row.sumKg, units.mass, { sign: true }) },
    { heading: say`sd`, align: 'right', cell: (row) => showMass(row.sdKg, units.mass) },
    {
      heading: say`effect on margin`,
      align: 'right',
      cell: (row) => showMass(row.marginEffectKg, units.mass, { sign: true }),
    },
    { heading: say`CG x ${smallUnit(units)}`, align: 'right', cell: (row) => smallLength(row.cgEffectM, units) },
    { heading: say`cause`, align: 'left', cell: (row) => term(row.cause?.cause) ?? say`not stated` },
  ]);
}

export function splitText(rows: readonly SplitReport[], key: SplitKey, units: DisplayUnits): string {
  const share = (fraction: number | undefined, sign: boolean) =>
    fraction === undefined ? '' : showPercent(fraction, { sign });
  return tableText(rows, [
    { heading: say`Differences by ${term(key)}`, align: 'left', cell: (row) => term(row.name) },
    { heading: say`pieces`, align: 'right', cell: (row) => String(row.pieceCount) },
    { heading: say`sum ${units.mass}`, align: 'right', cell: (row) => showMass(row.sumKg, units.mass, { sign: true }) },
    { heading: say`mean %`, align: 'right', cell: (row) => share(row.meanFraction, true) },
    { heading: say`sd %`, align: 'right', cell: (row) => share(row.sdFraction, false) },
  ]);
}

export function pairText(rows: readonly PairReport[], units: DisplayUnits): string {
  if (rows.length === 0)
    return `${say`No piece has been weighed both before and after trim, or before and after finish.`}\n`;
  const lessons = tableText(rows, [
    { heading: say`Weighed twice`, align: 'left', cell: (row) => `${term(row.process)}: ${term(row.what)}` },
    { heading: say`pairs`, align: 'right', cell: (row) => String(row.pairCount) },
    { heading: say`found % of trimmed`, align: 'right', cell: (row) => showPercent(row.meanFraction) },
    {
      heading: say`sd %`,
      align: 'right',
      cell: (row) => (row.sdFraction === undefined ? '' : showPercent(row.sdFraction)),
    },
    { heading: say`estimated %`, align: 'right', cell: (row) => showPercent(row.estimatedFraction) },
  ]);
  const offers = rows.flatMap((row) => row.offers.map((offer) => ({ ...offer, what: row.what })));
  if (offers.length === 0) return lessons;
  return `${lessons}\n${tableText(offers, [
    { heading: say`Offered to the estimate of`, align: 'left', cell: (row) => row.number },
    { heading: say`what`, align: 'left', cell: (row) => term(row.what) },
    { heading: say`estimated ${units.mass}`, align: 'right', cell: (row) => showMass(row.estimatedKg, units.mass) },
    { heading: say`offered`, align: 'right', cell: (row) => showMass(row.offeredKg, units.mass) },
  ])}`;
}

export function scaleText(rows: readonly ScaleReport[], units: DisplayUnits): string {
  if (rows.length === 0) return `${say`No scale is known yet.`}\n`;
  const mass = (massKg: number | undefined) => (massKg === undefined ? '' : showMass(massKg, units.mass));
  return tableText(rows, [
    { heading: say`Scale`, align: 'left', cell: (row) => row.scale },
    { heading: say`capacity ${units.mass}`, align: 'right', cell: (row) => mass(row.capacityKg) },
    { heading: say`resolution`, align: 'right', cell: (row) => mass(row.resolutionKg) },
    { heading: say`calibration ± %`, align: 'right', cell: (row) => showFixed(row.gainStd * 100, 3) },
    { heading: say`due`, align: 'left', cell: (row) => dayWords(row.dueOn) ?? '' },
    {
      heading: say`last check`,
      align: 'left',
      cell: (row) =>
        row.lastCheckOn === undefined
          ? ''
          : `${dayWords(row.lastCheckOn)} ${row.lastCheckPassed === true ? say`passed` : say`failed`}`,
    },
    { heading: say`weighings`, align: 'right', cell: (row) => String(row.weighingCount) },
    { heading: say`in doubt`, align: 'left', cell: (row) => row.marked.map(({ seq }) => seq).join(', ') },
  ]);
}

/** What a CG moves by is small beside a station: millimetres or inches. */
function smallUnit(units: DisplayUnits): 'mm' | 'in' {
  return units.length === 'in' || units.length === 'ft' ? 'in' : 'mm';
}

function smallLength(lengthM: number | undefined, units: DisplayUnits): string {
  if (lengthM === undefined) return '';
  const unit = smallUnit(units);
  return showFixed(lengthM / LENGTH_UNIT_M[unit], unit === 'mm' ? 2 : 3, { sign: true });
}
