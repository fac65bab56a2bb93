/**
 * An EWMA chart of a process (lambda 0.2, limits of 3 sigma that widen with time), worked out here apart from the product. The
 * formulas stand in the NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4.
 */
import { expectedAtScaleKg } from '#shared/estimate/condition.ts';
import { type Ledger, presentParts } from '#shared/ledger/fold.ts';
import { byWhatHappened } from '#shared/ledger/part-state.ts';
import { pieceNetKg } from '#shared/weighing/net.ts';

export type ReleasedPiece = {
  readonly part: string;
  readonly happenedOn: string;
  /** Difference from the estimate of that day, as a fraction of the moulded mass. */
  readonly grew: number;
  readonly allowance: number;
  readonly std: number;
};

/** The first weighing of each part's pieces, also of those withdrawn since, by the day of release. */
export function releasesOf(ledger: Ledger, process: string): readonly ReleasedPiece[] {
  const parts = new Map(presentParts(ledger).map((part) => [part.partId, part]));
  const standings = [...new Set(ledger.roots.values())].flatMap(({ standing }) => standing ?? []);
  const seen = new Set<string>();
  return standings.sort(byWhatHappened).flatMap(({ statement, happenedOn, seq }) => {
    if (statement.kind === 'piece withdrawn')
      for (const piece of statement.pieces) seen.delete(`${statement.partId} ${piece}`);
    if (statement.kind !== 'weighing') return [];
    const part = parts.get(statement.partId);
    if (part?.definition.process !== process) return [];
    const key = `${statement.partId} ${statement.pieces[0]}`;
    if (seen.has(key)) return [];
    seen.add(key);
    const estimate = part.estimates.findLast((one) => byWhatHappened(one, { happenedOn, seq }) < 0)?.statement;
    if (estimate?.massStdKg === undefined) throw new Error(`${part.definition.number} has no estimate with a spread`);
    const mouldedKg = estimate.massKg - estimate.laterKg;
    const grew = (pieceNetKg(statement) - expectedAtScaleKg(estimate, statement.condition)) / mouldedKg;
    const std = estimate.massStdKg / estimate.massKg;
    return [{ part: part.definition.number, happenedOn, grew, allowance: estimate.growth, std }];
  });
}

/** The place of the first release that is signalled, counted from 0, or undefined. */
export function firstSignal(deviations: readonly number[]): number | undefined {
  const lambda = 0.2;
  let mean = 0;
  const at = deviations.findIndex((deviation, before) => {
    mean = lambda * deviation + (1 - lambda) * mean;
    const variance = (lambda / (2 - lambda)) * (1 - (1 - lambda) ** (2 * (before + 1)));
    return Math.abs(mean) > 3 * Math.sqrt(variance);
  });
  return at < 0 ? undefined : at;
}
