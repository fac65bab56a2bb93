/** The weighings of the ledger read backwards (rule E6), each by the schedule that was in force on its day. */
import type { LaminateReport } from '#shared/contract/layup.ts';
import { estimateFor } from '#shared/drift/part-drift.ts';
import type { PartState, Weighing } from '#shared/ledger/part-state.ts';
import { pieceNetKg, pieceNetStdKg } from '#shared/weighing/net.ts';
import { gainStdAt, type Scales } from '#shared/weighing/scales.ts';
import { readBackwards } from './backwards.ts';

/** What a weighing says of the laminate of one of its pieces; undefined where the estimate of its day has no schedule. */
export function laminateOf(
  weighing: Weighing,
  part: Pick<PartState, 'estimates'>,
  scales: Scales,
): LaminateReport | undefined {
  const estimate = estimateFor(weighing, part.estimates)?.statement;
  if (estimate?.layUp === undefined) return undefined;
  const { statement } = weighing;
  const { resin, pieces } = statement;
  return readBackwards(estimate.layUp, {
    condition: statement.condition,
    netKg: pieceNetKg(statement),
    netStdKg: pieceNetStdKg(statement, gainStdAt(scales, statement.scale, weighing)),
    flashKg: estimate.flashKg,
    infusion:
      resin === undefined
        ? undefined
        : {
            value: (resin.mixedKg - resin.leftKg - resin.inLinesKg) / pieces.length,
            std: resin.stdKg / pieces.length,
          },
  });
}
