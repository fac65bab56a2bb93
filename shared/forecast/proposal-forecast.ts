/**
 * The forecast with proposals (rule F8): as if all came true, and each by its likelihood. Each adds what it does by itself. Weighted, the
 * chances follow every case of the largest ones, come true or not, since a few large ones make two heaps and not one; the many small ones
 * beyond them add their mean and their variance.
 */
import type { Figures } from '#shared/contract/forecast.ts';
import type { ProposalsForecast } from '#shared/contract/proposal.ts';
import { inForce, type Ledger } from '#shared/ledger/fold.ts';
import { addTally, toKg } from '#shared/quantity/exact.ts';
import { addShift, gatherAll, NOTHING, type Shift, type Shifts } from '#shared/uncertainty/shift.ts';
import { type Forecast, forecastOf, tallyFrom } from './forecast.ts';
import { chanceBelow, chanceWithin } from './normal.ts';
import { figuresOf } from './report.ts';

/** What a proposal does to the forecast, to mass and moments and to their errors. */
export type Counted = { readonly likelihood: number; readonly change: Shift; readonly errors: Shifts };

/** 4,096 cases. */
const MOST_FOLLOWED = 12;

export function forecastWith(ledger: Ledger, counted: readonly Counted[]): ProposalsForecast {
  const forecast = forecastOf(ledger);
  const told = { datumNm: ledger.datumNm, targets: inForce(ledger, 'targets') };
  const certain = counted.map((one) => ({ ...one, likelihood: 1 }));
  const all = changedBy(forecast, certain);
  return {
    today: figuresOf(forecast, told),
    all: figuresOf(all, told),
    allSavingKg: savingOf(certain),
    weighted: weightedFigures(forecast, counted, told),
    weightedSavingKg: savingOf(counted),
    count: counted.length,
  };
}

function savingOf(counted: readonly Counted[]): number {
  return counted.reduce((sum, { likelihood, change }) => sum - likelihood * change.massKg, 0);
}

type Changed = Pick<Forecast, 'tally' | 'shifts'>;

/** Each by its likelihood; whether it comes true at all is no error here. */
function changedBy(forecast: Changed, counted: readonly Counted[]): Changed {
  const shifts = new Map(forecast.shifts);
  let sum: Shift = NOTHING;
  for (const { likelihood, change, errors } of counted) {
    sum = addShift(sum, change, likelihood);
    gatherAll(shifts, errors, likelihood);
  }
  return { tally: addTally(forecast.tally, tallyFrom(sum)), shifts };
}

function weightedFigures(
  forecast: Changed,
  counted: readonly Counted[],
  told: Parameters<typeof figuresOf>[1],
): Figures {
  const bySize = [...counted].sort((a, b) => Math.abs(b.change.massKg) - Math.abs(a.change.massKg));
  const [followed, rest] = [bySize.slice(0, MOST_FOLLOWED), bySize.slice(MOST_FOLLOWED)];
  const mean = changedBy(forecast, counted);
  const figures = figuresOf({ tally: mean.tally, shifts: withDoubt(mean.shifts, counted, 0) }, told);
  if (figures.targets === undefined) return figures;
  // Of each case: its own mean, and the doubt of what is not followed.
  const within = figuresOf({ tally: mean.tally, shifts: withDoubt(mean.shifts, rest, followed.length) }, told);
  const base = changedBy(forecast, rest);
  const { emptyMassKg, reserveKg, cgForwardM: from, cgAftM: to } = figures.targets;
  const chances = { withinTarget: 0, withinTargetLessReserve: 0, cgInRange: 0 };
  for (const { chance, change } of casesOf(followed)) {
    const tally = addTally(base.tally, tallyFrom(change));
    const mass = { mean: toKg(tally.massNg), std: within.forecastStdKg };
    chances.withinTarget += chance * chanceBelow(emptyMassKg, mass);
    chances.withinTargetLessReserve += chance * chanceBelow(emptyMassKg - reserveKg, mass);
    const cg = figuresOf({ tally, shifts: NO_SHIFTS }, told).cg.x;
    chances.cgInRange +=
      cg === undefined ? 0 : chance * chanceWithin({ from, to }, { mean: cg.atM, std: within.cg.x?.stdM ?? 0 });
  }
  const cgInRange = figures.targets.cgInRange === undefined ? undefined : Math.min(1, chances.cgInRange);
  return {
    ...figures,
    targets: {
      ...figures.targets,
      withinTarget: Math.min(1, chances.withinTarget),
      withinTargetLessReserve: Math.min(1, chances.withinTargetLessReserve),
      cgInRange,
    },
  };
}

const NO_SHIFTS: Shifts = new Map();

/** A proposal is one source of error by itself: it comes true or it does not. */
function withDoubt(shifts: Shifts, counted: readonly Counted[], from: number): Shifts {
  const all = new Map(shifts);
  for (const [at, { likelihood, change }] of counted.entries()) {
    const std = Math.sqrt(likelihood * (1 - likelihood));
    if (std > 0) all.set(`proposal ${from + at}`, addShift(NOTHING, change, std));
  }
  return all;
}

type Case = { readonly chance: number; readonly change: Shift };

/** Every way in which some come true and the others do not. */
function casesOf(followed: readonly Counted[]): readonly Case[] {
  let cases: readonly Case[] = [{ chance: 1, change: NOTHING }];
  for (const { likelihood, change } of followed)
    cases = cases.flatMap((one) => {
      const comes = { chance: one.chance * likelihood, change: addShift(one.change, change) };
      const comesNot = { chance: one.chance * (1 - likelihood), change: one.change };
      return [comes, comesNot].filter(({ chance }) => chance > 0);
    });
  return cases;
}
