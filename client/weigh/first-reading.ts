/** What a reading begins with: the first piece not weighed yet, the condition that is most likely, and the hand's habits of the last time. */
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import type { Condition } from '#shared/ledger/entry.ts';
import { recallHabit } from './habit.ts';
import type { Reading } from './reading.ts';

export function firstReading(part: PartReport, parts: readonly PartReport[], aircraft: AircraftReport): Reading {
  const next = Array.from({ length: part.quantity }, (_, at) => at + 1).find((piece) => !part.weighed.includes(piece));
  const habit = recallHabit();
  return {
    gross: '',
    tare: habit?.tare ?? '',
    unit: habit?.unit ?? aircraft.massUnit,
    condition: likelyCondition(part, parts),
    pieces: [next ?? 1],
    notYetIn: '',
    more: habit?.more ?? {},
    cause: '',
    remark: '',
  };
}

/** What the part was last weighed in, never earlier; else what the shop last weighed in of the same process; else nobody knows. */
function likelyCondition(part: PartReport, parts: readonly PartReport[]): Condition | undefined {
  if (part.lastWeighing !== undefined) return part.lastWeighing.condition;
  const alike = parts.flatMap((one) =>
    one.process === part.process && one.childCount > 0 === part.childCount > 0 ? (one.lastWeighing ?? []) : [],
  );
  return alike.sort((a, b) => a.weighedOn.localeCompare(b.weighedOn) || a.seq - b.seq).at(-1)?.condition;
}
