/**
 * Ballast for the aircraft of a ledger (rule C4): the least that brings every permitted loading inside on the forecast empty weight, checked with
 * it in and at the corners of the forecast's band, and what single parts would have to lose instead.
 */
import type { BallastFor, EmptyReport, LoadingBallastReport } from '#shared/contract/loading.ts';
import { inUnitsOf } from '#shared/ledger/display-units.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { whereReport } from '#shared/rollup/where.ts';
import { type AllLoadings, allLoadings, type Loading } from './all-loadings.ts';
import { lateralReport, worstReport } from './answer.ts';
import { type BallastStation, ballastAmong, type Held, lighterParts } from './ballast.ts';
import { type Aim, withChange } from './least-change.ts';
import type { EmptyState } from './limits.ts';
import { emptiesOf } from './report.ts';

/** Of the parts that would help most; each is a search of its own. */
const MOST_PARTS = 8;

export type BallastQuestion = { readonly places: readonly BallastStation[]; readonly aim: Aim };

/** For limits, and a case, without refusals. */
export function ballastReport(
  ledger: Ledger,
  loading: Loading,
  { places, aim }: BallastQuestion,
): Result<Omit<LoadingBallastReport, 'seq'>, Refusal> {
  const empties = emptiesOf(ledger);
  const forecast = empties.find(({ name }) => name === 'forecast');
  if (forecast === undefined) return refuse({ code: 'cg-missing' });
  const main = ballastAmong(loading, forecast, places, aim);
  if (!main.ok) return refuse(inUnitsOf(ledger, main.refusal));
  const found = forOne(loading, forecast, { places, aim });
  const others = empties.filter(({ name }) => name !== 'forecast');
  return accept({
    forecast: found,
    others: others.map((empty) => forOne(loading, empty, { places, aim })),
    ends: others
      .filter(({ name }) => name !== 'predicted')
      .map((empty) => ({ name: empty.name, ...checked(allLoadings(loading, withBallast(empty, found))) })),
    lighter: found.state === 'not needed' ? [] : lighterOf(ledger, loading, { forecast, aim }),
  });
}

function forOne(loading: Loading, empty: EmptyReport, { places, aim }: BallastQuestion): BallastFor {
  const read = ballastAmong(loading, empty, places, aim);
  if (!read.ok)
    return {
      ...{ empty, state: 'none', why: 'wrong side', ballast: [] },
      before: checked(allLoadings(loading, empty)),
    };
  const { value } = read;
  const before = heldReport(value.before);
  switch (value.state) {
    case 'not needed':
      return { empty, state: value.state, ballast: [], before };
    case 'none':
      return { empty, state: value.state, why: value.why, ballast: [], before };
    case 'found': {
      const { massKg, xM } = value.after.empty;
      return {
        ...{ empty, state: value.state, massKg: value.massKg, ballast: [...value.ballast], before },
        after: { ...heldReport(value.after), empty: { massKg, xM } },
      };
    }
  }
}

/** Of a case that is aimed at, the case decides whether it is inside. */
function heldReport({ all, one }: Held): BallastFor['before'] {
  const report = checked(all);
  return one === undefined ? report : { ...report, state: one.state };
}

function checked(all: AllLoadings): BallastFor['before'] {
  if (all.state === 'nothing permitted') return { state: all.state };
  return { state: all.state, worstOfAll: worstReport(all.worstOfAll), lateral: lateralReport(all.lateral) };
}

function withBallast(empty: EmptyReport, { ballast }: BallastFor): EmptyReport {
  const { massKg, xM, yM } = ballast.reduce<EmptyState>(
    (sum, one) => withChange(sum, { way: 1, xM: one.xM, yM: one.yM }, one.massKg),
    empty,
  );
  return { ...empty, massKg, xM, yM };
}

/** Those on the side that is too heavy, by how much they hold it there. */
function lighterOf(
  ledger: Ledger,
  loading: Loading,
  { forecast, aim }: { readonly forecast: EmptyReport; readonly aim: Aim },
): LoadingBallastReport['lighter'] {
  const all = allLoadings(loading, forecast);
  const worst = all.state === 'nothing permitted' ? undefined : all.worstOfAll;
  const limitM = worst?.limitM;
  const sign = worst?.way === 'forward' ? -1 : 1;
  const holding = whereReport(ledger)
    .masses.flatMap((part) => {
      const { partId, xM, isBeyondParts } = part;
      return partId === undefined || xM === undefined || isBeyondParts ? [] : [{ ...part, partId, xM }];
    })
    .map((part) => ({ part, pullKgM: part.massKg * (limitM === undefined ? 1 : sign * (part.xM - limitM)) }))
    .filter(({ part, pullKgM }) => part.massKg > 0 && pullKgM > 0)
    .sort((one, other) => other.pullKgM - one.pullKgM)
    .slice(0, MOST_PARTS)
    .map(({ part }) => part);
  const byId = new Map(holding.map((part) => [part.partId as string, part]));
  const found = lighterParts(
    loading,
    forecast,
    holding.map(({ partId, massKg, xM }) => ({ id: partId, massKg, xM })),
    aim,
  );
  return found
    .flatMap(({ id, lighterKg }) => {
      const part = byId.get(id);
      if (part === undefined || lighterKg === undefined || lighterKg <= 0) return [];
      return [{ part: part.number, name: part.name, massKg: part.massKg, lighterKg }];
    })
    .sort((one, other) => one.lighterKg / one.massKg - other.lighterKg / other.massKg);
}
