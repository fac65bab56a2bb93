/**
 * Where the aircraft stands (rules R1, R2): basic and predicted empty mass, allowance, margin, CG against its range, and how
 * much of it has been on a scale. Figures are of the ledger as folded; the caller chooses up to which entry.
 */
import type { CgReport, CgStanding, HeadlineReport, TargetReport } from '#shared/contract/reports.ts';
import type { PartId, StatementOf } from '#shared/ledger/entry.ts';
import { basicOf, inForce, type Ledger, predictedOf, presentParts, standingsOf } from '#shared/ledger/fold.ts';
import { type Whereabouts, whereaboutsIn } from '#shared/ledger/whereabouts.ts';
import { AXES, type MassNg, type Tally, toKg, toMassNg } from '#shared/quantity/exact.ts';
import { centreOfGravityM, percentMac } from './centre-of-gravity.ts';

export type Headline = Omit<
  HeadlineReport,
  'withoutEstimate' | 'withoutArm' | 'driftingCount' | 'watchCount' | 'withoutCause'
> & { readonly open: Open };

/** What is still missing, by part. */
export type Open = { readonly withoutEstimate: readonly PartId[]; readonly withoutArm: readonly PartId[] };

/** The headline of a ledger. Masses in kilograms, stations in metres from the datum in force. */
export function headlineOf(ledger: Ledger): Headline {
  const parts = presentParts(ledger);
  const basic = basicOf(ledger);
  const predicted = predictedOf(ledger);
  const whereabouts = parts.map(whereaboutsIn(ledger.books));
  const sumOf = (field: keyof Whereabouts) => whereabouts.reduce((sumNg, part) => sumNg + part[field], 0n) as MassNg;
  const weighedNg = sumOf('weighedNg');
  const aircraft = inForce(ledger, 'aircraft');
  // An assembly is the sum of its parts; it lacks nothing when it has no estimate of its own.
  const assemblies = new Set(parts.map((part) => part.definition.parentPartId));
  const cg = cgOf(predicted, aircraft);
  return {
    seq: ledger.entries.at(-1)?.seq ?? 0,
    partCount: parts.length,
    pieceCount: parts.reduce((sum, part) => sum + part.definition.quantity, 0),
    basicKg: toKg(basic.massNg),
    allowanceKg: toKg((predicted.massNg - basic.massNg) as MassNg),
    predictedKg: toKg(predicted.massNg),
    weighedKg: toKg(weighedNg),
    weighedShare: shareOf(weighedNg, basic.massNg),
    installedKg: toKg(sumOf('installedNg')),
    inStockKg: toKg(sumOf('inStockNg')),
    withoutArmKg: toKg((basic.massNg - basic.x.placedNg) as MassNg),
    cg,
    cgBasic: cgOf(basic, aircraft),
    targets: targetStanding(ledger, predicted, cg),
    open: {
      withoutEstimate: parts
        .filter((part) => part.estimate === undefined && part.weighedPieces < part.definition.quantity)
        .filter((part) => !assemblies.has(part.partId))
        .map((part) => part.partId),
      withoutArm: parts
        .filter((part) => part.armsNm.x === undefined && part.basic.massNg !== 0n)
        .map((part) => part.partId),
    },
  };
}

/** A CG along all axes, and in per cent MAC where the aircraft states its chord. */
export function cgOf(tally: Tally, aircraft: Pick<StatementOf<'aircraft'>, 'macM' | 'lemacM'> | undefined): CgReport {
  const [xM, yM, zM] = AXES.map((axis) => {
    const cg = centreOfGravityM(tally, axis);
    return cg.ok ? cg.value : undefined;
  });
  const { macM, lemacM } = aircraft ?? {};
  const inMac =
    xM === undefined || macM === undefined || lemacM === undefined ? undefined : percentMac(xM, { macM, lemacM });
  return { xM, yM, zM, percentMac: inMac };
}

function targetStanding(ledger: Ledger, predicted: Tally, cg: CgReport): TargetReport | undefined {
  const targets = inForce(ledger, 'targets');
  if (targets === undefined) return undefined;
  const aimNg = toMassNg(targets.emptyMassKg) - toMassNg(targets.reserveKg);
  const marginKg = toKg((aimNg - predicted.massNg) as MassNg);
  return {
    revision: standingsOf(ledger, 'targets').length,
    emptyMassKg: targets.emptyMassKg,
    reserveKg: targets.reserveKg,
    marginKg,
    marginShareOfTarget: marginKg / targets.emptyMassKg,
    cgForwardM: targets.cgForwardM,
    cgAftM: targets.cgAftM,
    cgStanding: cgStanding(cg.xM, targets),
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

function shareOf(partNg: bigint, wholeNg: bigint): number | undefined {
  return wholeNg > 0n ? Number(partNg) / Number(wholeNg) : undefined;
}
