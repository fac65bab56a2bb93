/**
 * Why parts that are each in line add up (rule D5): which statement explains a sum, until when, and what stands against stating one. Works
 * from what has been stated alone, so that it answers alike whether or not the parts of a ledger are folded.
 */
import type { Objection } from '#shared/ledger/admit.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger, Totals } from '#shared/ledger/fold.ts';
import { byWhatHappened, type Standing } from '#shared/ledger/part-state.ts';
import { runningOf } from '#shared/rollup/running.ts';
import { type SmallShare, smallKey } from './small-shares.ts';

/** In standard deviations of the sum: from here on small differences are a finding, and by so much an explained one may grow. */
export const COVERAGE = 2;

/** Kilograms. */
type SumNow = Pick<SmallShare, 'by' | 'name'> & { readonly sumKg: number };

/** The latest statement about this sum, if it still speaks of it. */
export function smallCauseOf(
  { whole }: Pick<Totals, 'whole'>,
  now: SumNow,
): Standing<StatementOf<'process cause'>> | undefined {
  const latest = [...whole['process cause'].values()]
    .filter(({ statement: { sum } }) => sum !== undefined && smallKey(sum) === smallKey(now))
    .sort(byWhatHappened)
    .at(-1);
  const sum = latest?.statement.sum;
  return sum !== undefined && isWithin(now.sumKg, sum) ? latest : undefined;
}

/** Not the other way round, and not grown by more than twice the standard deviation that it had. */
function isWithin(sumKg: number, then: { readonly sumKg: number; readonly sdKg: number }): boolean {
  return Math.sign(sumKg) === Math.sign(then.sumKg) && Math.abs(sumKg) <= Math.abs(then.sumKg) + COVERAGE * then.sdKg;
}

export function toSmallCause(
  sum: NonNullable<StatementOf<'process cause'>['sum']>,
  ledger: Ledger,
): readonly Objection[] {
  const { by, name } = sum;
  const isThere = [...runningOf(ledger).smallSums()].some((one) => smallKey(one) === smallKey(sum));
  return isThere ? [] : [{ path: ['sum'], refusal: { code: 'adds-up-to-nothing', by, name } }];
}
