/**
 * What two weighings of one piece teach (rule W9): between released and trimmed the flash came off, between trimmed and finished what goes
 * on later went on. Gathered by process, as a share of the trimmed mass, and offered to the estimates of parts not all weighed.
 */
import type { PairReport } from '#shared/contract/drift.ts';
import { meanOf, sdOf } from '#shared/drift/report.ts';
import type { Condition, Process } from '#shared/ledger/entry.ts';
import { type Ledger, presentParts } from '#shared/ledger/fold.ts';
import { byWhatHappened, type Life, type Standing, type Weighing } from '#shared/ledger/part-state.ts';
import { pieceNetKg } from './net.ts';

type Lesson = { readonly fraction: number; readonly estimatedFraction: number };

/** One row for each process and what it taught, in order of process. */
export function pairReport(ledger: Ledger): readonly PairReport[] {
  const lessons = new Map<string, { process: Process; what: PairReport['what']; lessons: Lesson[] }>();
  for (const { definition, lives, estimate, dispositions } of presentParts(ledger)) {
    const { process } = definition;
    for (const [piece, ofPiece] of lives) {
      const reworked = dispositions.filter(
        ({ statement }) => statement.decision === 'to be reworked' && statement.pieces.includes(piece),
      );
      for (const [life, what] of ofPiece.flatMap((one) => [[one, 'flash'] as const, [one, 'later'] as const])) {
        const lesson = lessonOf(life, what, estimate?.statement, reworked);
        if (lesson === undefined) continue;
        const row = lessons.get(`${process} ${what}`) ?? { process, what, lessons: [] };
        row.lessons.push(lesson);
        lessons.set(`${process} ${what}`, row);
      }
    }
  }
  return [...lessons.values()]
    .map(({ process, what, lessons: taught }) => {
      const meanFraction = meanOf(taught.map(({ fraction }) => fraction)) ?? 0;
      return {
        process,
        what,
        pairCount: taught.length,
        meanFraction,
        sdFraction: sdOf(taught.map(({ fraction }) => fraction)),
        estimatedFraction: meanOf(taught.map(({ estimatedFraction }) => estimatedFraction)) ?? 0,
        offers: offersOf(ledger, process, what, meanFraction),
      };
    })
    .sort((a, b) => `${a.process} ${a.what}`.localeCompare(`${b.process} ${b.what}`, 'en'));
}

const CONDITIONS: Readonly<Record<PairReport['what'], readonly [Condition, Condition]>> = {
  flash: ['as released', 'trimmed'],
  later: ['trimmed', 'finished'],
};

type Estimate = { readonly massKg: number; readonly flashKg: number; readonly laterKg: number };

/** The last weighing in each of the two conditions, of one article. What rework took off or put on in between is no flash. */
function lessonOf(
  life: Life,
  what: PairReport['what'],
  estimate: Estimate | undefined,
  reworked: readonly Standing[],
): Lesson | undefined {
  const [fromCondition, toCondition] = CONDITIONS[what];
  const last = (condition: Condition): Weighing | undefined =>
    life.weighings.findLast(({ statement }) => statement.condition === condition);
  const [from, to] = [last(fromCondition), last(toCondition)];
  if (from === undefined || to === undefined) return undefined;
  if (reworked.some((decided) => byWhatHappened(decided, from) > 0 && byWhatHappened(decided, to) < 0))
    return undefined;
  const [fromKg, toKg] = [pieceNetKg(from.statement), pieceNetKg(to.statement)];
  const mouldedKg = (estimate?.massKg ?? 0) - (estimate?.laterKg ?? 0);
  const estimatedKg = (what === 'flash' ? estimate?.flashKg : estimate?.laterKg) ?? 0;
  return {
    fraction: what === 'flash' ? (fromKg - toKg) / toKg : (toKg - fromKg) / fromKg,
    estimatedFraction: mouldedKg > 0 ? estimatedKg / mouldedKg : 0,
  };
}

function offersOf(ledger: Ledger, process: Process, what: PairReport['what'], fraction: number): PairReport['offers'] {
  return presentParts(ledger).flatMap(({ definition, estimate, weighedPieces }) => {
    if (definition.process !== process || weighedPieces >= definition.quantity || estimate === undefined) return [];
    const { massKg, laterKg, flashKg } = estimate.statement;
    if (massKg <= 0) return [];
    const estimatedKg = what === 'flash' ? flashKg : laterKg;
    return [{ number: definition.number, estimatedKg, offeredKg: Math.max(0, fraction * (massKg - laterKg)) }];
  });
}
