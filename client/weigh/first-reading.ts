/** What a reading begins with: the first piece not weighed yet, the condition that is most likely, and the hand's habits of the last time. */
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import type { Condition } from '#shared/ledger/entry.ts';
import { habitFor, type Weighed } from './habit.ts';
import type { Reading } from './reading.ts';

export function firstReading(part: PartReport, parts: readonly PartReport[], aircraft: AircraftReport): Reading {
  const next = Array.from({ length: part.quantity }, (_, at) => at + 1).find((piece) => !part.weighed.includes(piece));
  const habit = habitFor(weighedOf(part, aircraft));
  return {
    gross: '',
    tare: habit?.tare ?? '',
    unit: habit?.unit ?? aircraft.massUnit,
    condition: likelyCondition(part, parts)?.condition,
    pieces: [next ?? 1],
    notYetIn: '',
    more: habit?.more ?? {},
    cause: '',
    remark: '',
  };
}

export function weighedOf(part: PartReport, aircraft: AircraftReport): Weighed {
  return { aircraftId: aircraft.id, process: part.process, number: part.number };
}

/**
 * What the part was last weighed in, never earlier; else what the shop last weighed in of the same process, and which part that was; else nobody
 * knows.
 */
export function likelyCondition(
  part: PartReport,
  parts: readonly PartReport[],
): { readonly condition: Condition; readonly of: PartReport } | undefined {
  const alike = (part.lastWeighing === undefined ? parts : [part]).flatMap((of) =>
    of.process === part.process && of.childCount > 0 === part.childCount > 0 && of.lastWeighing !== undefined
      ? { ...of.lastWeighing, of }
      : [],
  );
  return alike.sort((a, b) => a.weighedOn.localeCompare(b.weighedOn) || a.seq - b.seq).at(-1);
}
