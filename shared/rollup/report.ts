/**
 * The ledger as plain data for a program to read: SI values under names that end in their unit, no bigints, nothing rounded.
 * The command prints it as JSON, and its text is made from it.
 */

import { type DriftFlag, levelOf, type PartDrift, partDrifts, SHOP_PART_LIMIT } from '#shared/drift/part-drift.ts';
import type { Cause, Effect } from '#shared/ledger/cause.ts';
import type { Condition, Entry, PartId, PartLimit, StatementOf } from '#shared/ledger/entry.ts';
import { inForce, type Ledger, predictedOf, presentParts } from '#shared/ledger/fold.ts';
import { historyByDay } from '#shared/ledger/history.ts';
import { type LengthNm, toKg, toKgM, toM } from '#shared/quantity/exact.ts';
import { type BreakdownKey, breakdownOf } from './breakdown.ts';
import { centreOfGravityM } from './centre-of-gravity.ts';
import { type Headline, headlineOf } from './headline.ts';

export type HeadlineReport = Omit<Headline, 'open'> & {
  readonly withoutEstimate: readonly string[];
  readonly withoutArm: readonly string[];
  readonly driftingCount: number;
  readonly watchCount: number;
};

export type BreakdownReport = {
  readonly name: string;
  readonly partCount: number;
  readonly basicKg: number;
  readonly predictedKg: number;
  readonly weighedKg: number;
  readonly weighedShare: number | undefined;
  readonly cgXM: number | undefined;
  readonly targetKg: number | undefined;
  readonly marginKg: number | undefined;
};

export type DriftReport = {
  readonly number: string;
  readonly name: string;
  readonly group: string;
  readonly process: string;
  readonly pieces: readonly number[];
  readonly weighingSeq: number;
  readonly weighedOn: string;
  readonly condition: Condition;
  readonly flag: DriftFlag;
  readonly isTold: boolean;
  readonly expectedKg: number;
  readonly netKg: number;
  readonly netStdKg: number;
  readonly differenceKg: number;
  readonly differenceFraction: number | undefined;
  readonly limitKg: number;
  readonly marginEffectKg: number;
  readonly cgEffectM: number | undefined;
  readonly cause: string | undefined;
};

export type EffectReport = {
  readonly cause: Cause;
  readonly isCorrection: boolean;
  readonly massKg: number;
  readonly momentXKgM: number;
  readonly momentYKgM: number;
  readonly momentZKgM: number;
  readonly marginKg: number;
};

export type EntryReport = {
  readonly seq: number;
  readonly recordedAt: string;
  readonly entry: Entry;
  /** The number of the part that the entry is about. */
  readonly part: string | undefined;
  readonly correctedBySeq: number | undefined;
  readonly correctsSeq: number | undefined;
  readonly effects: readonly EffectReport[];
  readonly predictedKg: number;
  readonly cgXM: number | undefined;
  readonly marginKg: number | undefined;
};

export type DayReport = {
  readonly day: string;
  readonly basicKg: number;
  readonly predictedKg: number;
  readonly cgXM: number | undefined;
  readonly targetKg: number | undefined;
  readonly marginKg: number | undefined;
  readonly effects: readonly EffectReport[];
};

export type PartReport = {
  readonly number: string;
  readonly name: string;
  readonly group: string;
  readonly assembly: string | undefined;
  readonly process: string;
  readonly quantity: number;
  readonly weighedPieces: number;
  readonly installedPieces: number;
  readonly estimateKg: number | undefined;
  readonly evidence: string | undefined;
  readonly growth: number | undefined;
  readonly basicKg: number;
  readonly predictedKg: number;
  readonly xM: number | undefined;
  readonly yM: number | undefined;
  readonly zM: number | undefined;
  readonly flag: DriftFlag | undefined;
};

export function headlineReport(ledger: Ledger): HeadlineReport {
  const { open, ...figures } = headlineOf(ledger);
  const levels = driftsOf(ledger).map((drift) => levelOf(drift.judgement.flag));
  const numberOf = (partId: PartId) => ledger.books.byPart.get(partId)?.state.definition?.number ?? partId;
  return {
    ...figures,
    withoutEstimate: open.withoutEstimate.map(numberOf),
    withoutArm: open.withoutArm.map(numberOf),
    driftingCount: levels.filter((level) => level === 'drifting').length,
    watchCount: levels.filter((level) => level === 'watch').length,
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
      pieces: weighing.pieces,
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
    return {
      seq,
      recordedAt,
      entry,
      part: partNumberOf(ledger, entry),
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
    return {
      number: definition.number,
      name: definition.name,
      group: definition.group,
      assembly: definition.parentPartId === undefined ? undefined : numbers.get(definition.parentPartId),
      process: definition.process,
      quantity: definition.quantity,
      weighedPieces: part.weighedPieces,
      installedPieces: part.installedPieces.length,
      estimateKg: estimate?.statement.massKg,
      evidence: estimate?.statement.evidence,
      growth: estimate?.statement.growth,
      basicKg: toKg(part.basic.massNg),
      predictedKg: toKg(part.basic.massNg) + toKg(part.allowance.massNg),
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

export function partLimitOf(ledger: Ledger): PartLimit {
  return inForce(ledger, 'targets')?.partLimit ?? SHOP_PART_LIMIT;
}

function driftsOf(ledger: Ledger): readonly PartDrift[] {
  const limit = partLimitOf(ledger);
  const aircraft = { predicted: predictedOf(ledger), datumNm: ledger.datumNm };
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

function partNumberOf(ledger: Ledger, entry: Entry): string | undefined {
  if (entry.kind === 'correction') {
    const corrected = ledger.roots.get(entry.supersedesId);
    const first = corrected === undefined ? undefined : ledger.entryById.get(corrected.id)?.entry;
    return first === undefined || first.kind === 'correction' ? undefined : partNumberOf(ledger, first);
  }
  const partId = 'partId' in entry ? entry.partId : undefined;
  return partId === undefined ? undefined : ledger.books.byPart.get(partId)?.state.definition?.number;
}
