/** Everything the ledger knows of one part, as plain data: what it counts for, how it came to that, and what it does to the aircraft. */

import type { LayUpReport } from '#shared/contract/layup.ts';
import type {
  EstimateReport,
  PartArmReport,
  PartPageReport,
  PartWeighingReport,
  PieceReport,
} from '#shared/contract/part.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { judgeWeighing, type PartDrift, partDrifts, partLimitOf } from '#shared/drift/part-drift.ts';
import { computeLayUp } from '#shared/layup/compute.ts';
import { laminateOf } from '#shared/layup/laminate-of.ts';
import { listedMaterials } from '#shared/layup/list.ts';
import { movedMaterials } from '#shared/layup/mirror.ts';
import type { LayUp } from '#shared/layup/schedule.ts';
import type { PartId, StatementOf } from '#shared/ledger/entry.ts';
import { type Ledger, predictedOf, presentParts, residualOf, statedBy } from '#shared/ledger/fold.ts';
import { byWhatHappened, isOf, type Life, latestSeq, type Standing, type Weighing } from '#shared/ledger/part-state.ts';
import { addTally, type LengthNm, seenFrom, subtractTally, type Tally, toKg, toM } from '#shared/quantity/exact.ts';
import { massStdKg, sumShifts } from '#shared/uncertainty/shift.ts';
import { pieceNetKg, pieceNetStdKg } from '#shared/weighing/net.ts';
import { gainStdAt, type Scales, scaleMarks, scalesOf } from '#shared/weighing/scales.ts';
import { centreOfGravityM } from './centre-of-gravity.ts';
import { type Present, partsReport } from './parts-report.ts';
import { shiftsOf } from './running.ts';

/** The page of a part, or undefined where the aircraft has no such part (any more). */
export function partPage(ledger: Ledger, partId: PartId): PartPageReport | undefined {
  const book = ledger.books.byPart.get(partId);
  const part = presentParts(ledger).find((one) => one.partId === partId);
  const row = partsReport(ledger).find((one) => one.partId === partId);
  if (book === undefined || part === undefined || row === undefined) return undefined;
  const standings = [...book.standings.values()].sort(byWhatHappened).reverse();
  const scales = scalesOf(ledger);
  const predicted = predictedOf(ledger);
  const drifts = partDrifts(part, partLimitOf(ledger), { predicted, datumNm: ledger.datumNm, scales });
  const added = standings.find((standing) => isOf(standing, 'part added'));
  const rows = new Map(partsReport(ledger).map((row) => [row.partId, row]));
  const relativeOf = (id: PartId) => {
    const relative = rows.get(id);
    return relative === undefined ? [] : [{ ...relativeReport(relative), ...wholeMassOf(ledger, relative) }];
  };
  const { parentPartId } = part.definition;
  return {
    seq: ledger.entries.at(-1)?.seq ?? 0,
    part: row,
    added: added === undefined ? { seq: part.addedSeq ?? 0, happenedOn: '', by: '' } : statedBy(ledger, added),
    estimates: [...part.estimates].reverse().map((standing) => estimateReport(ledger, standing)),
    layUp: layUpReport(ledger, part.estimate?.statement.layUp),
    weighings: standings.flatMap((standing) =>
      isOf(standing, 'weighing') ? [weighingReport(ledger, part, standing, { drifts, scales })] : [],
    ),
    arms: standings.flatMap((standing) => (isOf(standing, 'arm measured') ? [armReport(ledger, standing)] : [])),
    armStdM: part.armStdM.x > 0 ? part.armStdM.x : undefined,
    pieces: [...piecesReport(ledger, part)],
    assembly: parentPartId === undefined ? undefined : relativeOf(parentPartId)[0],
    children: [...(ledger.books.byParent.get(partId) ?? [])].flatMap(relativeOf),
    whole: wholeOf(ledger, part),
    ...effectOf(drifts),
    ...withAndWithout(ledger, part, predicted),
  };
}

function relativeReport(row: PartReport): PartPageReport['children'][number] {
  const { partId, number, name, quantity, predictedKg, predictedStdKg, flag } = row;
  return { partId, number, name, quantity, predictedKg, predictedStdKg, flag };
}

/** A station that was typed when the datum lay `frameNm` aft of the first one. */
function inFrame(ledger: Ledger, xM: number | undefined, frameNm: LengthNm): number | undefined {
  // Untouched where the datum has not moved since, so that the figure stays the one that was typed.
  if (xM === undefined || frameNm === ledger.datumNm) return xM;
  return Number((xM + toM((frameNm - ledger.datumNm) as LengthNm)).toPrecision(15));
}

/** An estimate, its stations told from the present datum. */
export function estimateReport(ledger: Ledger, standing: Standing<StatementOf<'estimate'>>): EstimateReport {
  const { massKg, massStdKg, xM, yM, zM, armStdM, evidence, growth, laterGrowth, growthFrom } = standing.statement;
  const { flashKg, laterKg, finishKg, typed, geometry, layUp } = standing.statement;
  return {
    ...statedBy(ledger, standing),
    ...{ massKg, massStdKg, xM: inFrame(ledger, xM, standing.frameNm), yM, zM, armStdM },
    ...{ evidence, growth, laterGrowth, growthFrom, flashKg, laterKg, finishKg, typed: { ...typed }, layUp },
    geometry: geometryInFrame(ledger, geometry, standing.frameNm),
  };
}

function geometryInFrame(ledger: Ledger, geometry: EstimateReport['geometry'], frameNm: LengthNm) {
  if (geometry === undefined) return undefined;
  const { placement } = geometry;
  const xM = inFrame(ledger, placement.zero.xM, frameNm) ?? placement.zero.xM;
  return { ...geometry, placement: { ...placement, zero: { ...placement.zero, xM } } };
}

function layUpReport(ledger: Ledger, schedule: LayUp | undefined): LayUpReport | undefined {
  if (schedule === undefined) return undefined;
  return { schedule, computed: computeLayUp(schedule), moved: [...movedMaterials(schedule, listedMaterials(ledger))] };
}

function armReport(ledger: Ledger, standing: Standing<StatementOf<'arm measured'>>): PartArmReport {
  const { xM, yM, zM, armStdM, supports } = standing.statement;
  const how = standing.statement.how ?? (supports === undefined ? undefined : 'on two supports');
  return {
    ...statedBy(ledger, standing),
    ...{ xM: inFrame(ledger, xM, standing.frameNm), yM, zM, armStdM, how },
  };
}

function weighingReport(
  ledger: Ledger,
  part: Present,
  standing: Weighing,
  { drifts, scales }: { readonly drifts: readonly PartDrift[]; readonly scales: Scales },
): PartWeighingReport {
  const { statement } = standing;
  const counting = part.weighings.find((governing) => governing.standing.seq === standing.seq);
  const decided = drifts.find((drift) => drift.weighing.standing.seq === standing.seq)?.disposition;
  return {
    ...statedBy(ledger, standing),
    pieces: [...statement.pieces],
    countsFor: [...(counting?.pieces ?? [])],
    condition: statement.condition,
    netKg: pieceNetKg(statement),
    netStdKg: pieceNetStdKg(statement, gainStdAt(scales, statement.scale, standing)),
    scale: statement.scale,
    judgement: judgeWeighing(standing, part, partLimitOf(ledger), scales),
    cause: statement.cause,
    decision: decided?.statement.decision,
    decidedBy: decided === undefined ? undefined : statedBy(ledger, decided).by,
    marks: [...scaleMarks(scales, { ...standing, scale: statement.scale })],
    laminate: laminateOf(standing, part, scales),
  };
}

function piecesReport(ledger: Ledger, part: Present): readonly PieceReport[] {
  const installed = new Set(part.installedPieces);
  const known = [...new Set([...part.lives.keys(), ...installed])].sort((a, b) => a - b);
  return known.map((piece) => ({
    piece,
    isInstalled: installed.has(piece),
    lives: (part.lives.get(piece) ?? []).map((life) => lifeReport(ledger, life)),
  }));
}

function lifeReport(ledger: Ledger, { begun, weighings }: Life): PieceReport['lives'][number] {
  return {
    begun: begun === undefined ? undefined : { ...statedBy(ledger, begun), reason: reasonOf(begun) },
    weighings: weighings.map(latestSeq),
  };
}

function reasonOf({ statement }: Standing): string {
  if (statement.kind === 'piece withdrawn') return statement.reason;
  return statement.kind === 'disposition' ? (statement.inspection ?? statement.decision) : '';
}

/** The measured arm counts once, however many weighings there are. */
function effectOf(drifts: readonly PartDrift[]): Pick<PartPageReport, 'marginEffectKg' | 'cgEffectM'> {
  const marginEffectKg = drifts.reduce((sumKg, drift) => sumKg + drift.marginEffectKg, 0);
  const armEffectM = drifts[0]?.armEffectM ?? 0;
  const effects = drifts.flatMap(({ cgEffectM, armEffectM: ofArm }) =>
    cgEffectM === undefined ? [] : [cgEffectM - (ofArm ?? 0)],
  );
  if (effects.length === 0) return { marginEffectKg };
  return { marginEffectKg, cgEffectM: effects.reduce((sumM, effectM) => sumM + effectM, armEffectM) };
}

function withAndWithout(ledger: Ledger, part: Present, predicted: Tally) {
  return { aircraft: standOf(predicted), without: standOf(subtractTally(predicted, predictedOfPart(ledger, part))) };
}

/** What a part counts for, as an assembly with what the scale found in it beyond its parts; about the present datum. */
function predictedOfPart(ledger: Ledger, part: Present): Tally {
  const residual = residualOf(ledger, part.partId);
  const own = [part.allowance, residual.basic, residual.allowance].reduce(addTally, part.basic);
  return seenFrom(own, ledger.datumNm);
}

function wholeOf(ledger: Ledger, part: Present): PartPageReport['whole'] {
  const within = partsWithin(ledger, part);
  if (within.length === 1) return undefined;
  const predicted = within.map((one) => predictedOfPart(ledger, one)).reduce(addTally);
  const shiftsOfPart = shiftsOf(ledger);
  const predictedStdKg = massStdKg(sumShifts(within.map(({ partId }) => shiftsOfPart(partId))));
  return { ...standOf(predicted), predictedStdKg, partCount: within.length - 1 };
}

/** What an assembly among the parts of another counts for is the sum of what is in it. */
function wholeMassOf(ledger: Ledger, { partId, childCount }: PartReport) {
  const part = childCount === 0 ? undefined : presentParts(ledger).find((one) => one.partId === partId);
  const whole = part === undefined ? undefined : wholeOf(ledger, part);
  return whole === undefined ? {} : { predictedKg: whole.predictedKg, predictedStdKg: whole.predictedStdKg };
}

/** A part and everything in it. Who would contain itself is refused (rule I6), and looked at once all the same. */
function partsWithin(ledger: Ledger, part: Present): readonly Present[] {
  const present = new Map(presentParts(ledger).map((one) => [one.partId, one]));
  const found = new Set([part]);
  for (const { partId } of found)
    for (const id of ledger.books.byParent.get(partId) ?? []) {
      const inner = present.get(id);
      if (inner !== undefined) found.add(inner);
    }
  return [...found];
}

function standOf(tally: Tally): PartPageReport['aircraft'] {
  const cg = centreOfGravityM(tally, 'x');
  return { predictedKg: toKg(tally.massNg), cgXM: cg.ok ? cg.value : undefined };
}
