/**
 * The ledger as plain data for a program to read: SI values under names that end in their unit, no bigints, nothing rounded.
 * The command prints it as JSON, and its text is made from it.
 */

import type {
  BreakdownReport,
  DayReport,
  DriftFlag,
  DriftReport,
  EffectReport,
  EntryReport,
  HeadlineReport,
  PartReport,
} from '#shared/contract/reports.ts';
import { isFlagged, levelOf, type PartDrift, partDrifts, partLimitOf } from '#shared/drift/part-drift.ts';
import type { Effect } from '#shared/ledger/cause.ts';
import type { Entry, PartId, StatementOf } from '#shared/ledger/entry.ts';
import { inForce, type Ledger, predictedOf, presentParts, residualOf } from '#shared/ledger/fold.ts';
import { historyByDay } from '#shared/ledger/history.ts';
import { type LengthNm, type MassNg, toKg, toKgM, toM } from '#shared/quantity/exact.ts';
import { scalesOf } from '#shared/weighing/scales.ts';
import { type BreakdownKey, breakdownOf } from './breakdown.ts';
import { centreOfGravityM } from './centre-of-gravity.ts';
import { headlineOf } from './headline.ts';

export function headlineReport(ledger: Ledger): HeadlineReport {
  const { open, ...figures } = headlineOf(ledger);
  const drifts = driftsOf(ledger);
  const levels = drifts.map((drift) => levelOf(drift.judgement.flag));
  const numberOf = (partId: PartId) => ledger.books.byPart.get(partId)?.state.definition?.number ?? partId;
  return {
    ...figures,
    withoutEstimate: open.withoutEstimate.map(numberOf),
    withoutArm: open.withoutArm.map(numberOf),
    driftingCount: levels.filter((level) => level === 'drifting').length,
    watchCount: levels.filter((level) => level === 'watch').length,
    withoutCause: drifts
      .filter(({ judgement, weighing }) => isFlagged(judgement.flag) && weighing.standing.statement.cause === undefined)
      .map(({ part }) => part.definition.number),
  };
}

export function breakdownReport(ledger: Ledger, key: BreakdownKey): readonly BreakdownReport[] {
  return breakdownOf(ledger, key).map(({ basicNg, predictedNg, weighedNg, ...row }) => ({
    ...row,
    basicKg: toKg(basicNg),
    predictedKg: toKg(predictedNg),
    weighedKg: toKg(weighedNg),
  }));
}

export const DRIFT_ORDERS = ['margin', 'cg'] as const;
export type DriftOrder = (typeof DRIFT_ORDERS)[number];

/** The findings that are not in line, largest effect on margin or on CG first (rule D2). */
export function driftReport(ledger: Ledger, order: DriftOrder = 'margin'): readonly DriftReport[] {
  const size = (drift: PartDrift) =>
    order === 'margin' ? Math.abs(drift.marginEffectKg) : Math.abs(drift.cgEffectM ?? 0);
  return driftsOf(ledger)
    .filter((drift) => drift.judgement.flag !== 'in line')
    .sort((a, b) => size(b) - size(a))
    .map(({ part, weighing, judgement, marginEffectKg, cgEffectM }) => ({
      number: part.definition.number,
      name: part.definition.name,
      group: part.definition.group,
      process: part.definition.process,
      quantity: part.definition.quantity,
      pieces: [...weighing.pieces],
      weighingSeq: weighing.standing.correctedBySeq ?? weighing.standing.seq,
      weighedOn: weighing.standing.happenedOn,
      condition: weighing.standing.statement.condition,
      ...judgement,
      marginEffectKg,
      cgEffectM,
      cause: weighing.standing.statement.cause,
    }));
}

/** The running entries, in order, each with what it changed and where it left the aircraft (rule L6). */
export function entriesReport(ledger: Ledger): readonly EntryReport[] {
  const seqOf = new Map(ledger.entries.map(({ seq, entry }) => [entry.id, seq]));
  const correctedBy = new Map(
    ledger.entries.flatMap(({ seq, entry }) =>
      entry.kind === 'correction' ? [[entry.supersedesId, seq] as const] : [],
    ),
  );
  return ledger.entries.map(({ seq, recordedAt, entry }, at) => {
    const row = ledger.rows[at];
    if (row === undefined) throw new Error('every entry has a row');
    const cg = centreOfGravityM(row.predicted, 'x');
    const part = partOf(ledger, entry);
    return {
      seq,
      recordedAt,
      entry,
      part: part?.number,
      quantity: part?.quantity,
      correctedBySeq: correctedBy.get(entry.id),
      correctsSeq: entry.kind === 'correction' ? seqOf.get(entry.supersedesId) : undefined,
      effects: row.effects.map(effectReport),
      predictedKg: toKg(row.predicted.massNg),
      cgXM: cg.ok ? cg.value : undefined,
      marginKg: row.marginNg === undefined ? undefined : toKg(row.marginNg),
    };
  });
}

export function daysReport(ledger: Ledger): readonly DayReport[] {
  return historyByDay(ledger).map(({ day, basic, predicted, targets, marginNg, effects }) => {
    const cg = centreOfGravityM(predicted, 'x');
    return {
      day,
      basicKg: toKg(basic.massNg),
      predictedKg: toKg(predicted.massNg),
      cgXM: cg.ok ? cg.value : undefined,
      targetKg: targets?.emptyMassKg,
      cgForwardM: targets?.cgForwardM,
      cgAftM: targets?.cgAftM,
      marginKg: marginNg === undefined ? undefined : toKg(marginNg),
      effects: effects.map(effectReport),
    };
  });
}

export function partsReport(ledger: Ledger): readonly PartReport[] {
  const flagOf = worstFlags(ledger);
  const parts = presentParts(ledger);
  const numbers = new Map(parts.map((part) => [part.partId, part.definition.number]));
  return parts.map((part) => {
    const { definition, estimate, armsNm } = part;
    const lastWeighing = part.weighings.at(-1)?.standing;
    return {
      partId: part.partId,
      number: definition.number,
      name: definition.name,
      group: definition.group,
      assembly: definition.parentPartId === undefined ? undefined : numbers.get(definition.parentPartId),
      process: definition.process,
      quantity: definition.quantity,
      weighed: part.weighings.flatMap((weighing) => weighing.pieces).sort((a, b) => a - b),
      installed: [...part.installedPieces],
      lastWeighedOn: lastWeighing?.happenedOn,
      lastTareKg: lastWeighing?.statement.readings.at(-1)?.tareKg,
      estimateKg: estimate?.statement.massKg,
      evidence: estimate?.statement.evidence,
      growth: estimate?.statement.growth,
      flashKg: estimate?.statement.flashKg,
      laterKg: estimate?.statement.laterKg,
      basicKg: toKg(part.basic.massNg),
      predictedKg: toKg(
        (part.basic.massNg + part.allowance.massNg + residualOf(ledger, part.partId).allowance.massNg) as MassNg,
      ),
      xM: armsNm.x === undefined ? undefined : toM((armsNm.x - ledger.datumNm) as LengthNm),
      yM: armsNm.y === undefined ? undefined : toM(armsNm.y),
      zM: armsNm.z === undefined ? undefined : toM(armsNm.z),
      flag: flagOf.get(definition.number),
    };
  });
}

export function aircraftOf(ledger: Ledger): StatementOf<'aircraft'> | undefined {
  return inForce(ledger, 'aircraft');
}

function driftsOf(ledger: Ledger): readonly PartDrift[] {
  const limit = partLimitOf(ledger);
  const aircraft = { predicted: predictedOf(ledger), datumNm: ledger.datumNm, scales: scalesOf(ledger) };
  return presentParts(ledger).flatMap((part) => partDrifts(part, limit, aircraft));
}

/** A part's flag is that of its worst piece. */
function worstFlags(ledger: Ledger): ReadonlyMap<string, DriftFlag> {
  const rank = { 'in line': 0, watch: 1, drifting: 2 } as const;
  const worst = new Map<string, DriftFlag>();
  for (const { part, judgement } of driftsOf(ledger)) {
    const before = worst.get(part.definition.number);
    if (before === undefined || rank[levelOf(judgement.flag)] > rank[levelOf(before)])
      worst.set(part.definition.number, judgement.flag);
  }
  return worst;
}

function effectReport({ cause, isCorrection, change, marginNg }: Effect): EffectReport {
  return {
    cause,
    isCorrection,
    massKg: toKg(change.massNg),
    momentXKgM: toKgM(change.x.momentNgNm),
    momentYKgM: toKgM(change.y.momentNgNm),
    momentZKgM: toKgM(change.z.momentNgNm),
    marginKg: toKg(marginNg),
  };
}

/** The part that an entry is about, as it is defined now. */
function partOf(ledger: Ledger, entry: Entry): StatementOf<'part added'> | undefined {
  const root = ledger.roots.get(entry.id);
  const first = root === undefined ? undefined : ledger.entryById.get(root.id)?.entry;
  const statement = root?.standing?.statement ?? (first?.kind === 'correction' ? undefined : first);
  const partId = statement !== undefined && 'partId' in statement ? statement.partId : undefined;
  return partId === undefined ? undefined : ledger.books.byPart.get(partId)?.state.definition;
}
