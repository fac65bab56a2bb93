/**
 * What the scales found beyond the parts (rule A3): weighed less what the ledger counts of the parts that were aboard on that day, without
 * allowance and reserve, in mass and CG. A difference is real beyond two standard uncertainties. One in mass must sit at
 * (M1 X1 - M0 X0)/(M1 - M0); where only the CG differs there is no arm to tell, since any mass at any arm would do: it is told as a moment.
 */
import type { ReconcileReport, SentPoint } from '#shared/contract/aircraft-weighing.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import type { Standing } from '#shared/ledger/part-state.ts';
import { type Tally, toKg, toKgM, toM } from '#shared/quantity/exact.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { cgStdM, massStdKg, type Shifts, sumShifts } from '#shared/uncertainty/shift.ts';
import { missingPartsFromWords } from '#shared/weighing/assembly-from-words.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import { type AboardThen, aboardThen } from './aboard-then.ts';

/** Beyond so many standard uncertainties a difference is real, as everywhere in the ledger. */
const REAL = 2;
const MOST_NEAR = 12;
/** An arm is looked for at least so far to both sides. Common practice, no source. */
const LEAST_REACH_M = 0.25;

/** Mass and station of two weighings of one thing, with their uncertainties: the scales', and the ledger's. */
export type Compared = {
  readonly weighed: {
    readonly massKg: number;
    readonly massStdKg: number;
    readonly xM: number;
    readonly xStdM: number;
  };
  readonly ledger: {
    readonly massKg: number;
    readonly massStdKg: number;
    readonly xM: number | undefined;
    readonly xStdM: number | undefined;
    /** What its sources of error do to moment less arm x mass, in squares, kg² m²: about the same zero as the stations. */
    readonly momentVariance: (armM: number) => number;
  };
};

export type Difference = Pick<
  ReconcileReport,
  | ('differenceKg' | 'differenceStdKg' | 'massIsReal' | 'cgDifferenceM' | 'cgDifferenceStdM' | 'cgIsReal')
  | ('armM' | 'armStdM' | 'momentKgM' | 'momentStdKgM')
>;

/** Masses in kilograms, stations in metres about one zero. */
export function differenceOf({ weighed, ledger }: Compared): Difference {
  const differenceKg = weighed.massKg - ledger.massKg;
  const differenceStdKg = Math.hypot(weighed.massStdKg, ledger.massStdKg);
  const massIsReal = Math.abs(differenceKg) > REAL * differenceStdKg;
  const mass = { differenceKg, differenceStdKg, massIsReal };
  if (ledger.xM === undefined) return { ...mass, cgIsReal: false };
  const cgDifferenceM = weighed.xM - ledger.xM;
  const cgDifferenceStdM = Math.hypot(weighed.xStdM, ledger.xStdM ?? 0);
  const cgIsReal = Math.abs(cgDifferenceM) > REAL * cgDifferenceStdM;
  const both = { ...mass, cgDifferenceM, cgDifferenceStdM, cgIsReal };
  if (massIsReal) {
    const armM = (weighed.massKg * weighed.xM - ledger.massKg * ledger.xM) / differenceKg;
    // d(arm) = (dS - arm dM)/difference on each side; the scales' mass and station are independent.
    const scalesVariance = ((weighed.xM - armM) * weighed.massStdKg) ** 2 + (weighed.massKg * weighed.xStdM) ** 2;
    const armStdM = Math.sqrt(scalesVariance + ledger.momentVariance(armM)) / Math.abs(differenceKg);
    return { ...both, armM, armStdM };
  }
  if (!cgIsReal) return both;
  return {
    ...both,
    momentKgM: weighed.massKg * cgDifferenceM,
    momentStdKgM: weighed.massKg * cgDifferenceStdM,
  };
}

/** Of a weighing that stands in the ledger. Stations of the answer are told from the present datum. */
export function reconcileIn(ledger: Ledger, standing: Standing<StatementOf<'aircraft weighing'>>): ReconcileReport {
  const { massKg, massStdKg: stdKg, xM, xStdM } = standing.statement;
  const weighed = { massKg, massStdKg: stdKg, xM: xM + toM(standing.frameNm), xStdM };
  return reportOf(ledger, aboardThen(ledger, standing), weighed);
}

/** Of one that is not signed, stations from the present datum. */
export function reconcilePoint(ledger: Ledger, point: SentPoint): Result<ReconcileReport, readonly PathProblem[]> {
  const reader = new FieldReader({ 'not aboard': point.notAboard });
  const at = { happenedOn: point.happenedOn, seq: Number.POSITIVE_INFINITY };
  const missing = missingPartsFromWords(reader, 'not aboard', { ledger, at });
  if (reader.problems.length > 0)
    return refuse(reader.problems.map(({ refusal }) => ({ path: ['notAboard'], refusal })));
  const { massKg, massStdKg: stdKg, xM, xStdM } = point;
  const weighed = { massKg, massStdKg: stdKg, xM: xM + toM(ledger.datumNm), xStdM };
  const statement = { massKg, massStdKg: stdKg, xM, xStdM, missing: [...missing] };
  const aboard = aboardThen(ledger, { ...at, frameNm: ledger.datumNm, statement });
  return accept(reportOf(ledger, aboard, weighed));
}

/** Worked out about the first datum, from which moments are kept, and told from the present one. */
function reportOf(ledger: Ledger, aboard: AboardThen, weighed: Compared['weighed']): ReconcileReport {
  const shifts = sumShifts([...aboard.parts.values()].map((part) => part.shifts));
  const { sum } = aboard;
  const cg = centreOfGravityM(sum, 'x');
  const [ledgerKg, ledgerStdKg] = [toKg(sum.massNg), massStdKg(shifts)];
  const xStdM = cgStdM(shifts, sum, 'x');
  const difference = differenceOf({
    weighed,
    ledger: {
      ...{ massKg: ledgerKg, massStdKg: ledgerStdKg, xM: cg.ok ? cg.value : undefined, xStdM },
      momentVariance: (armM) => momentVariance(shifts, armM),
    },
  });
  const datumM = toM(ledger.datumNm);
  const { armM, armStdM } = difference;
  return {
    ...difference,
    ...{ ledgerKg, ledgerStdKg, partCount: aboard.parts.size },
    ...(cg.ok ? { ledgerXM: cg.value - datumM, ledgerXStdM: xStdM } : {}),
    withoutArmKg: ledgerKg - toKg(sum.x.placedNg),
    near: armM === undefined ? [] : nearTo(aboard, { armM, armStdM: armStdM ?? 0, datumM }),
    ...(armM === undefined ? {} : { armM: armM - datumM }),
  };
}

function momentVariance(shifts: Shifts, armM: number): number {
  let variance = 0;
  for (const { massKg, x } of shifts.values()) variance += (x.momentKgM - armM * massKg) ** 2;
  return variance;
}

type Where = { readonly armM: number; readonly armStdM: number; readonly datumM: number };

/** Parts within reach of the arm, those of which least is known first. */
function nearTo({ parts }: AboardThen, { armM, armStdM, datumM }: Where): ReconcileReport['near'] {
  const reachM = Math.max(LEAST_REACH_M, REAL * armStdM);
  const near = [...parts.values()].flatMap(({ state, assembly, tally, shifts, isWeighed }): ReconcileReport['near'] => {
    const atM = stationOf(tally);
    if (state.definition === undefined || atM === undefined || Math.abs(atM - armM) > reachM) return [];
    const { number, name } = state.definition;
    return [
      {
        ...{ number, name, xM: atM - datumM, isWeighed },
        ...(assembly === undefined ? {} : { assembly }),
        ...{ massKg: toKg(tally.massNg), massStdKg: massStdKg(shifts) },
      },
    ];
  });
  return near.sort((a, b) => b.massStdKg - a.massStdKg || b.massKg - a.massKg).slice(0, MOST_NEAR);
}

function stationOf(tally: Tally): number | undefined {
  const placedKg = toKg(tally.x.placedNg);
  return placedKg > 0 ? toKgM(tally.x.momentNgNm) / placedKg : undefined;
}
