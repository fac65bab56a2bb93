/** Every part as plain data, one row each (rules R1, R3, D1): what it counts for and how sure, what the scale said of it, and what is open. */
import type { DriftFlag } from '#shared/contract/drift.ts';
import type { OpenThing, PartReport } from '#shared/contract/reports.ts';
import { allPartDrifts, isFlagged, type PartDrift } from '#shared/drift/part-drift.ts';
import { worstFlags } from '#shared/drift/report.ts';
import { countedBook } from '#shared/ledger/assemblies.ts';
import type { PartId } from '#shared/ledger/entry.ts';
import { type Ledger, presentParts, residualOf } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { isOf, latestSeq } from '#shared/ledger/part-state.ts';
import { type LengthNm, type MassNg, toKg, toM } from '#shared/quantity/exact.ts';
import { massStdKg, type Shifts } from '#shared/uncertainty/shift.ts';
import { dueOf } from '#shared/weighing/due.ts';
import { pieceNetKg } from '#shared/weighing/net.ts';
import { lacksArm, lacksEstimate } from './leaf.ts';
import { shiftsOf } from './running.ts';

export type Present = ReturnType<typeof presentParts>[number];

/** The rows of all parts, in the order in which the parts were added. Every open page asks for them after each entry. */
export const partsReport: (ledger: Ledger) => readonly PartReport[] = oncePerEntry((ledger) =>
  presentParts(ledger).map(partRows(ledger)),
);

/** Answers for one part after another; what is known of all of them is gathered once. */
export function partRows(ledger: Ledger): (part: Present) => PartReport {
  const drifts = allPartDrifts(ledger);
  const flagOf = worstFlags(drifts);
  const driftsOf = byPart(drifts);
  const shiftsOfPart = shiftsOf(ledger);
  return (part) =>
    partRow(ledger, part, {
      flag: flagOf.get(part.definition.number),
      drifts: driftsOf.get(part.partId) ?? [],
      shifts: shiftsOfPart(part.partId),
    });
}

type Known = {
  readonly flag: DriftFlag | undefined;
  readonly drifts: readonly PartDrift[];
  readonly shifts: Shifts;
};

function partRow(ledger: Ledger, part: Present, { flag, drifts, shifts }: Known): PartReport {
  const { definition, estimate, armsNm } = part;
  // What the scale found in an assembly beyond its parts stands where the assembly stands, so that the rows add up (rule R3).
  const residual = residualOf(ledger, part.partId);
  const basicNg = part.basic.massNg + residual.basic.massNg;
  const parentId = definition.parentPartId;
  const parent = parentId === undefined ? undefined : ledger.books.byPart.get(parentId)?.state;
  const childCount = ledger.books.byParent.get(part.partId)?.size ?? 0;
  return {
    partId: part.partId,
    number: definition.number,
    name: definition.name,
    group: definition.group,
    assembly: parent?.removed === undefined ? parent?.definition?.number : undefined,
    process: definition.process,
    side: definition.side,
    quantity: definition.quantity,
    weighed: part.weighings.flatMap((weighing) => weighing.pieces).sort((a, b) => a - b),
    installed: [...part.installedPieces],
    lastWeighing: lastWeighingOf(ledger, part),
    estimateKg: estimate?.statement.massKg,
    evidence: estimate?.statement.evidence,
    growth: estimate?.statement.growth,
    flashKg: estimate?.statement.flashKg,
    laterKg: estimate?.statement.laterKg,
    finishKg: estimate?.statement.finishKg,
    basicKg: toKg(basicNg as MassNg),
    predictedKg: toKg((basicNg + part.allowance.massNg + residual.allowance.massNg) as MassNg),
    xM: armsNm.x === undefined ? undefined : toM((armsNm.x - ledger.datumNm) as LengthNm),
    yM: armsNm.y === undefined ? undefined : toM(armsNm.y),
    zM: armsNm.z === undefined ? undefined : toM(armsNm.z),
    predictedStdKg: massStdKg(shifts),
    armIsMeasured: armIsMeasured(ledger, part.partId),
    ...differenceOf(drifts),
    flag,
    open: [...openThings(part, childCount > 0, drifts)],
    due: [...dueOf(ledger, part, drifts)],
    childCount,
    asAssembly: asAssemblyOf(ledger, part.partId),
  };
}

export function byPart(drifts: readonly PartDrift[]): ReadonlyMap<PartId, readonly PartDrift[]> {
  const found = new Map<PartId, PartDrift[]>();
  for (const drift of drifts) {
    const ofPart = found.get(drift.part.partId);
    if (ofPart === undefined) found.set(drift.part.partId, [drift]);
    else ofPart.push(drift);
  }
  return found;
}

/** Pieces are counted one by one, each against the estimate for its own condition. */
function differenceOf(drifts: readonly PartDrift[]): Pick<PartReport, 'differenceKg' | 'differenceFraction'> {
  if (drifts.length === 0) return {};
  let [differenceKg, expectedKg] = [0, 0];
  for (const { judgement, weighing } of drifts) {
    differenceKg += judgement.differenceKg * weighing.pieces.length;
    expectedKg += judgement.expectedKg * weighing.pieces.length;
  }
  return { differenceKg, ...(expectedKg > 0 ? { differenceFraction: differenceKg / expectedKg } : {}) };
}

function openThings(part: Present, isAssembly: boolean, drifts: readonly PartDrift[]): readonly OpenThing[] {
  const flagged = drifts.filter(({ judgement }) => isFlagged(judgement.flag));
  const open: readonly (readonly [OpenThing, boolean])[] = [
    ['estimate missing', lacksEstimate(part, isAssembly)],
    ['arm missing', lacksArm(part)],
    ['cause missing', flagged.some(({ weighing }) => weighing.standing.statement.cause === undefined)],
    ['decision missing', flagged.some(({ disposition }) => disposition === undefined)],
    ['scale in doubt', drifts.some(({ marks }) => marks.length > 0)],
  ];
  return open.flatMap(([thing, isSo]) => (isSo ? [thing] : []));
}

function armIsMeasured(ledger: Ledger, partId: PartId): boolean {
  for (const standing of ledger.books.byPart.get(partId)?.standings.values() ?? [])
    if (isOf(standing, 'arm measured') && standing.statement.xM !== undefined) return true;
  return false;
}

function lastWeighingOf(ledger: Ledger, part: Present): PartReport['lastWeighing'] {
  const asAssembly = countedBook(ledger.books.assemblies, part.partId)?.standing;
  const own = part.weighings.at(-1)?.standing;
  const last = asAssembly ?? own;
  if (last === undefined) return undefined;
  const { statement, happenedOn } = last;
  const netKg = statement.kind === 'weighing' ? pieceNetKg(statement) : statement.netKg;
  return { seq: latestSeq(last), weighedOn: happenedOn, condition: statement.condition, netKg };
}

function asAssemblyOf(ledger: Ledger, partId: PartId): PartReport['asAssembly'] {
  const book = countedBook(ledger.books.assemblies, partId);
  if (book === undefined) return undefined;
  const { standing, projectedNg, residual } = book;
  return {
    weighingSeq: latestSeq(standing),
    weighedOn: standing.happenedOn,
    condition: standing.statement.condition,
    projectedKg: toKg(projectedNg),
    residualKg: toKg(residual.massNg),
  };
}
