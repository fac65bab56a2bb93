/**
 * What would make the forecast surer (rule F5): for each part, the share of the variance of the forecast mass, and of its CG along x, that is
 * gone once the part has been weighed, or its estimate worked out. A release speaks for its process too, so it makes the parts that are
 * still to come surer. The scale is taken to be exact: beside an estimate it nearly is.
 */
import type { WhatNextReport } from '#shared/contract/forecast.ts';
import { recordsOf } from '#shared/drift/process-records.ts';
import { shopErrorsOf } from '#shared/estimate/shop-errors.ts';
import type { PartId } from '#shared/ledger/entry.ts';
import { type Ledger, presentParts } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { type Tally, toKg } from '#shared/quantity/exact.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { addShift, cgStdM, massShift, massStdKg, NOTHING, type Shift } from '#shared/uncertainty/shift.ts';
import { armsM, estimateStdKg } from '#shared/uncertainty/sources.ts';
import { estimateKey } from './belief.ts';
import { type Forecast, forecastOf, type ProcessForecast } from './forecast.ts';
import type { OpenPart } from './open-pieces.ts';

/** A share below this is the dust of floating point. */
const LEAST_SHARE = 1e-9;

/** The surest way first. Parts that would leave the mass as uncertain as it is are left out. */
export const whatNext: (ledger: Ledger) => readonly WhatNextReport[] = oncePerEntry((ledger) => {
  const forecast = forecastOf(ledger);
  const measures = measuresOf(forecast);
  const { pieceToPieceStd: unstatedStd } = shopErrorsOf(ledger);
  const records = recordsOf(ledger);
  const opened = new Map(
    forecast.processes.flatMap((process) => {
      const { earlierCount } = process.shift;
      const seen = new Set(records.get(process.process)?.releases.slice(earlierCount).map(estimateKey));
      return process.open.map((open): [PartId, Opened] => [open.part.partId, { process, open, seen }]);
    }),
  );
  return presentParts(ledger)
    .flatMap((part): WhatNextReport[] => {
      const own = forecast.shifts.get(`estimate ${part.partId}`) ?? NOTHING;
      const at = opened.get(part.partId);
      const weighed =
        at === undefined ? measures.gone([[own, NOTHING]]) : measures.gone(ifWeighed(own, at, unstatedStd));
      const std = estimateStdFraction(part.estimate?.statement, unstatedStd);
      const workedOut =
        at === undefined || std <= unstatedStd
          ? undefined
          : measures.gone([[own, addShift(NOTHING, own, unstatedStd / std)]]);
      if (!(weighed.massShare > LEAST_SHARE)) return [];
      return [
        {
          partId: part.partId,
          part: part.definition.number,
          name: part.definition.name,
          process: part.definition.process,
          // What is weighed already waits for what goes on later.
          act: at === undefined ? 'weigh when finished' : 'weigh',
          openPieces: at?.open.pieceCount ?? 0,
          ...weighed,
          workedOut,
        },
      ];
    })
    .sort((a, b) => b.massShare - a.massShare);
});

/** Open pieces, their process, and the estimates under which it has released something. */
type Opened = { readonly process: ProcessForecast; readonly open: OpenPart; readonly seen: ReadonlySet<string> };

/** A source before and after. */
type Change = readonly [before: Shift, after: Shift];

/** All open pieces of the part on the scale, trimmed: its estimate is left with what goes on later, and its process is better known. */
function ifWeighed(own: Shift, at: Opened, unstatedStd: number): readonly Change[] {
  const { part, mouldedKg } = at.open;
  const { shift, atRisk } = at.process;
  const std = estimateStdFraction(part.estimate?.statement, unstatedStd);
  const arms = armsM(part);
  const ownAfter = addShift(own, massShift(std * mouldedKg, arms), -1);
  const riskAfter = addShift(atRisk, massShift(mouldedKg, arms), -1);
  const isNews = !at.seen.has(estimateKey({ partId: part.partId, estimateSeq: part.estimate?.seq ?? 0 }));
  const seenStd = std > 0 ? std : unstatedStd;
  const stdAfter = isNews && shift.std > 0 ? 1 / Math.hypot(1 / shift.std, 1 / seenStd) : shift.std;
  return [
    [own, ownAfter],
    [addShift(NOTHING, atRisk, shift.std), addShift(NOTHING, riskAfter, stdAfter)],
  ];
}

function estimateStdFraction(estimate: Parameters<typeof estimateStdKg>[0] | undefined, unstatedStd: number): number {
  return estimate === undefined || !(estimate.massKg > 0) ? 0 : estimateStdKg(estimate, unstatedStd) / estimate.massKg;
}

/** Reckons the share of the variances that changes of some sources take away. */
function measuresOf({ tally, shifts }: Pick<Forecast, 'tally' | 'shifts'>) {
  const massVariance = massStdKg(shifts) ** 2;
  const cgVariance = (cgStdM(shifts, tally, 'x') ?? 0) ** 2;
  const cgOffM = cgOffBy(tally);
  const gone = (changes: readonly Change[], offBy: (shift: Shift) => number) =>
    changes.reduce((sum, [before, after]) => sum + offBy(before) ** 2 - offBy(after) ** 2, 0);
  return {
    gone: (changes: readonly Change[]) => ({
      massShare: massVariance > 0 ? gone(changes, ({ massKg }) => massKg) / massVariance : 0,
      cgShare: cgVariance > 0 ? gone(changes, cgOffM) / cgVariance : undefined,
    }),
  };
}

function cgOffBy(tally: Tally): (shift: Shift) => number {
  const cg = centreOfGravityM(tally, 'x');
  const placedKg = toKg(tally.x.placedNg);
  return ({ x }) => (cg.ok ? (x.momentKgM - cg.value * x.placedKg) / placedKg : 0);
}
