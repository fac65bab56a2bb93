/** What drifts as plain data: every finding, and the differences split by what the pieces had in common (rules D1-D3, D5, W10). */

import type { DriftFlag, DriftReport, FindingsReport, SplitKey, SplitReport } from '#shared/contract/drift.ts';
import { NOT_STATED } from '#shared/contract/drift.ts';
import { type Ledger, statedBy } from '#shared/ledger/fold.ts';
import { latestSeq } from '#shared/ledger/part-state.ts';
import { say } from '#shared/words/say.ts';
import { assemblyDrifts, cgDrift, groupDrifts, manySmall } from './larger-drift.ts';
import { allPartDrifts, levelOf, type PartDrift } from './part-drift.ts';

export const DRIFT_ORDERS = ['margin', 'cg'] as const;
export type DriftOrder = (typeof DRIFT_ORDERS)[number];

/** Everything that drifts. The weighed assemblies are all there, in line or not, each with its flag. */
export function findingsReport(ledger: Ledger, order: DriftOrder = 'margin'): FindingsReport {
  return {
    parts: [...driftReport(ledger, order)],
    groups: [...groupDrifts(ledger)],
    cg: cgDrift(ledger),
    assemblies: [...assemblyDrifts(ledger)],
    manySmall: [...manySmall(ledger)],
  };
}

/** The weighings of parts that are not in line, largest effect on margin or on CG first (rule D2). */
export function driftReport(ledger: Ledger, order: DriftOrder = 'margin'): readonly DriftReport[] {
  const size = (drift: PartDrift) =>
    order === 'margin' ? Math.abs(drift.marginEffectKg) : Math.abs(drift.cgEffectM ?? 0);
  return allPartDrifts(ledger)
    .filter((drift) => drift.judgement.flag !== 'in line')
    .sort((a, b) => size(b) - size(a))
    .map(({ part, weighing, judgement, marginEffectKg, cgEffectM, armEffectM, disposition, marks }) => ({
      number: part.definition.number,
      name: part.definition.name,
      group: part.definition.group,
      process: part.definition.process,
      quantity: part.definition.quantity,
      pieces: [...weighing.pieces],
      weighingSeq: latestSeq(weighing.standing),
      weighedOn: weighing.standing.happenedOn,
      condition: weighing.standing.statement.condition,
      ...judgement,
      marginEffectKg,
      cgEffectM,
      armEffectM,
      cause: weighing.standing.statement.cause,
      disposition: disposition?.statement.decision,
      decidedBy: disposition === undefined ? undefined : statedBy(ledger, disposition).by,
      inspection: disposition?.statement.inspection,
      marks: [...marks],
    }));
}

/** A part's flag is that of its worst piece. */
export function worstFlags(drifts: readonly PartDrift[]): ReadonlyMap<string, DriftFlag> {
  const rank = { 'in line': 0, watch: 1, drifting: 2 } as const;
  const worst = new Map<string, DriftFlag>();
  for (const { part, judgement } of drifts) {
    const before = worst.get(part.definition.number);
    if (before === undefined || rank[levelOf(judgement.flag)] > rank[levelOf(before)])
      worst.set(part.definition.number, judgement.flag);
  }
  return worst;
}

/** Rule W10: the differences of all weighings that count, split by what the pieces had in common. */
export function splitReport(ledger: Ledger, key: SplitKey): readonly SplitReport[] {
  const rows = new Map<string, { order: number; sumKg: number; fractions: number[]; pieceCount: number }>();
  for (const drift of allPartDrifts(ledger)) {
    const { name, order } = placeOf(drift, key);
    const row = rows.get(name) ?? { order, sumKg: 0, fractions: [], pieceCount: 0 };
    const count = drift.weighing.pieces.length;
    row.sumKg += drift.judgement.differenceKg * count;
    row.pieceCount += count;
    const fraction = drift.judgement.differenceFraction;
    if (fraction !== undefined) for (let piece = 0; piece < count; piece += 1) row.fractions.push(fraction);
    rows.set(name, row);
  }
  return [...rows]
    .sort(([a, rowA], [b, rowB]) => rowA.order - rowB.order || a.localeCompare(b, 'en'))
    .map(([name, { sumKg, fractions, pieceCount }]) => ({
      name,
      pieceCount,
      sumKg,
      meanFraction: meanOf(fractions),
      sdFraction: sdOf(fractions),
    }));
}

const TEMPERATURE_BAND_C = 5;
const HUMIDITY_BAND = 0.1;

function placeOf({ part, weighing }: PartDrift, key: SplitKey): { readonly name: string; readonly order: number } {
  const { statement } = weighing.standing;
  switch (key) {
    case 'process':
    case 'group':
      return { name: part.definition[key], order: 0 };
    case 'temperature':
      return bandOf(statement.temperatureC, TEMPERATURE_BAND_C, (from, to) => say`${from} to ${to} °C`);
    case 'humidity':
      return bandOf(statement.humidityFraction, HUMIDITY_BAND, (from, to) => say`${percent(from)} to ${percent(to)} %`);
    default: {
      const name = statement[key];
      return name === undefined ? { name: NOT_STATED, order: 1 } : { name, order: 0 };
    }
  }
}

/** From a whole band's foot, counted in, to its head, counted out. What is not stated comes last. */
function bandOf(value: number | undefined, width: number, words: (from: number, to: number) => string) {
  if (value === undefined) return { name: NOT_STATED, order: Number.POSITIVE_INFINITY };
  // The dust of a binary fraction does not move a value over an edge.
  const band = Math.floor(Number((value / width).toPrecision(12)));
  return { name: words(band * width, (band + 1) * width), order: band };
}

function percent(fraction: number): number {
  return Math.round(fraction * 100);
}

export function meanOf(values: readonly number[]): number | undefined {
  return values.length === 0 ? undefined : values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Sample standard deviation; undefined for fewer than two values. */
export function sdOf(values: readonly number[]): number | undefined {
  const mean = meanOf(values);
  if (mean === undefined || values.length < 2) return undefined;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}
