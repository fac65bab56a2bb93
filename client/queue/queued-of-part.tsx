/** What waits on this device, seen from the parts: a piece whose weighing waits is not offered as the next one to be weighed. */
import { useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { ProblemError, wordsOf } from '../door/ask.ts';
import { usePerson } from '../frame/signed-in.ts';
import { AGAIN, ALREADY_WAITING } from '../words/offline.ts';
import { isRefused, type Queued } from './queued.ts';
import { useQueue } from './use-queue.ts';
import { shownOf } from './words-of.ts';

/** The parts with the pieces that wait counted as weighed, and due no more. */
export function withQueued(parts: readonly PartReport[], queue: readonly Queued[]): readonly PartReport[] {
  const waiting = Map.groupBy(queue, (one) => one.partId);
  if (waiting.size === 0) return parts;
  return parts.map((part) => {
    const pieces = waiting.get(part.partId)?.flatMap(({ reading }) => reading.pieces) ?? [];
    if (pieces.length === 0) return part;
    const due = part.due
      .map((one) => ({ ...one, pieces: one.pieces.filter((piece) => !pieces.includes(piece)) }))
      .filter((one) => one.pieces.length > 0);
    return { ...part, weighed: [...new Set([...part.weighed, ...pieces])], due };
  });
}

/**
 * The refused one that is put right on this screen, one's own. It stays the same while the screen is up: once the correction has taken its
 * place it is gone from the queue.
 */
export function useAgain(id: string | null, part: PartReport | undefined): Queued | undefined {
  const personId = usePerson().id;
  const found = useQueue().find((one) => one.id === id && one.partId === part?.partId && one.person.id === personId);
  const [kept, setKept] = useState<Queued>();
  if (found !== undefined && found.id !== kept?.id) setKept(found);
  return id === null || part === undefined ? undefined : (found ?? (kept?.id === id ? kept : undefined));
}

/** On the screen of one part: what was not taken and why, or that another weighing of it waits. */
export function QueuedOfPart(props: {
  readonly aircraft: AircraftReport;
  readonly part: PartReport;
  readonly again: Queued | undefined;
}) {
  const { aircraft, part, again } = props;
  const queue = useQueue();
  const others = queue.filter(
    (one) => one.aircraftId === aircraft.id && one.partId === part.partId && one.id !== again?.id && !isRefused(one),
  );
  return (
    <>
      {again?.refused === undefined ? null : (
        <div className="notice bad stack-tight">
          <strong>{AGAIN(again.day)}</strong>
          <p>{wordsOf(new ProblemError(again.refused))}</p>
        </div>
      )}
      {others.map((one) => (
        <p key={one.order} className="notice">
          {ALREADY_WAITING(shownOf(one))}
        </p>
      ))}
    </>
  );
}
