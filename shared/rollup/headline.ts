/**
 * Where the aircraft stands (rules R1, R2): basic and predicted empty mass, allowance, margin, CG against its range, and how
 * much of it has been on a scale. Figures are of the ledger as folded; the caller chooses up to which entry.
 */
import type { CgStanding } from '#shared/contract/drift.ts';
import type { CgReport, HeadlineReport, TargetReport } from '#shared/contract/reports.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { basicOf, inForce, type Ledger, predictedOf, standingsOf, type Totals } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { AXES, type LengthNm, type MassNg, seenFrom, type Tally, toKg, toMassNg } from '#shared/quantity/exact.ts';
import type { SourceSums } from '#shared/uncertainty/source-sums.ts';
import { centreOfGravityM, percentMac } from './centre-of-gravity.ts';
import { type Figures, runningOf } from './running.ts';

export type Headline = Omit<
  HeadlineReport,
  | 'withoutEstimate'
  | 'withoutArm'
  | 'driftingCount'
  | 'watchCount'
  | 'withoutCause'
  | 'withoutDecision'
  | 'inDoubt'
  | 'groupsOver'
  | 'manySmallCount'
>;

/** The headline of a ledger. Masses in kilograms, stations in metres from the datum in force. */
export const headlineOf: (ledger: Ledger) => Headline = oncePerEntry((ledger) =>
  headlineFrom(ledger, runningOf(ledger), ledger.entries.at(-1)?.seq ?? 0),
);

/** The headline at entry `seq` from the figures of all parts. */
export function headlineFrom(totals: Totals, figures: Figures, seq: number): Headline {
  const { counts, massesNg, sources } = figures;
  // What the aircraft weighed beyond its parts has been on a scale, and is where the aircraft is.
  const beyondNg = totals.books.sums.whole.basic.massNg;
  const basic = basicOf(totals);
  const predicted = predictedOf(totals);
  const aircraft = inForce(totals, 'aircraft');
  const cg = { ...cgOf(predicted, aircraft), ...cgStds(sources, aboutFirstDatum(totals, predicted), aircraft) };
  return {
    seq,
    partCount: counts.parts,
    pieceCount: counts.pieces,
    basicKg: toKg(basic.massNg),
    allowanceKg: toKg((predicted.massNg - basic.massNg) as MassNg),
    predictedKg: toKg(predicted.massNg),
    predictedStdKg: sources.massStdKg(),
    assumedStdCount: counts.assumedStd,
    exactArmCount: counts.exactArm,
    weighedKg: toKg((massesNg.weighedNg + beyondNg) as MassNg),
    weighedShare: shareOf(massesNg.weighedNg + beyondNg, basic.massNg),
    installedKg: toKg((massesNg.installedNg + beyondNg) as MassNg),
    inStockKg: toKg(massesNg.inStockNg as MassNg),
    withoutArmKg: toKg((basic.massNg - basic.x.placedNg) as MassNg),
    cg,
    cgBasic: cgOf(basic, aircraft),
    targets: targetStanding(totals, predicted, cg),
  };
}

/** A CG along all axes, and in per cent MAC where the aircraft states its chord. */
export function cgOf(tally: Tally, aircraft: Chord): CgReport {
  const [xM, yM, zM] = AXES.map((axis) => {
    const cg = centreOfGravityM(tally, axis);
    return cg.ok ? cg.value : undefined;
  });
  const { macM, lemacM } = aircraft ?? {};
  const inMac =
    xM === undefined || macM === undefined || lemacM === undefined ? undefined : percentMac(xM, { macM, lemacM });
  return { xM, yM, zM, percentMac: inMac };
}

/** Shifts are kept about the first datum, and so must be what they are divided into. */
function aboutFirstDatum({ datumNm }: Totals, tally: Tally): Tally {
  return seenFrom(tally, -datumNm as LengthNm);
}

type Chord = Pick<StatementOf<'aircraft'>, 'macM' | 'lemacM'> | undefined;

function cgStds(sources: SourceSums, tally: Tally, aircraft: Chord) {
  const [xStdM, yStdM, zStdM] = AXES.map((axis) => sources.cgStdM(tally, axis));
  const { macM, lemacM } = aircraft ?? {};
  const hasMac = xStdM !== undefined && macM !== undefined && lemacM !== undefined;
  return { xStdM, yStdM, zStdM, percentMacStd: hasMac ? (xStdM / macM) * 100 : undefined };
}

function targetStanding(totals: Totals, predicted: Tally, cg: CgReport): TargetReport | undefined {
  const targets = inForce(totals, 'targets');
  if (targets === undefined) return undefined;
  const aimNg = toMassNg(targets.emptyMassKg) - toMassNg(targets.reserveKg);
  const marginKg = toKg((aimNg - predicted.massNg) as MassNg);
  return {
    revision: standingsOf(totals, 'targets').length,
    emptyMassKg: targets.emptyMassKg,
    reserveKg: targets.reserveKg,
    marginKg,
    marginShareOfTarget: marginKg / targets.emptyMassKg,
    cgForwardM: targets.cgForwardM,
    cgAftM: targets.cgAftM,
    cgStanding: cgStanding(cg.xM, targets),
    cgIsNearEnd: isNearEnd(cg, targets),
  };
}

function cgStanding(
  xM: number | undefined,
  range: { readonly cgForwardM?: number | undefined; readonly cgAftM?: number | undefined },
): CgStanding | undefined {
  if (xM === undefined || (range.cgForwardM === undefined && range.cgAftM === undefined)) return undefined;
  if (range.cgForwardM !== undefined && xM < range.cgForwardM) return 'forward of range';
  if (range.cgAftM !== undefined && xM > range.cgAftM) return 'aft of range';
  return 'in range';
}

function isNearEnd(
  { xM, xStdM }: CgReport,
  { cgForwardM, cgAftM }: { readonly cgForwardM?: number | undefined; readonly cgAftM?: number | undefined },
): boolean {
  if (xM === undefined || xStdM === undefined) return false;
  return [cgForwardM, cgAftM].some((endM) => endM !== undefined && Math.abs(xM - endM) <= xStdM);
}

function shareOf(partNg: bigint, wholeNg: bigint): number | undefined {
  return wholeNg > 0n ? Number(partNg) / Number(wholeNg) : undefined;
}
