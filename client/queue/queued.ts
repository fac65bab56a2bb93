/** A weighing that waits on this device: what is sent, who made it and when, and what the server said of it. */

import type { ProblemReport } from '#shared/contract/aircraft.ts';
import type { Reading } from '../weigh/reading.ts';

export type Queued = {
  /** Its place in the queue, given by the store; a corrected one takes the place of the one that was refused. */
  readonly order: number;
  /** The id of the entry (rule L3): sent again after a lost answer, it is known for the same. */
  readonly id: string;
  readonly aircraftId: string;
  readonly aircraftName: string;
  readonly partId: string;
  readonly partNumber: string;
  readonly partName: string;
  readonly person: { readonly id: string; readonly name: string; readonly initials: string };
  /** The words of the entry, without its id and day. */
  readonly words: Readonly<Record<string, unknown>>;
  readonly reading: Reading;
  /** When it was weighed by this device's clock, and its day here, YYYY-MM-DD. */
  readonly weighedAt: string;
  readonly day: string;
  /** The server failed on it the last time. */
  readonly hasFailed: boolean;
  /** Why it was not taken; undefined while it waits. */
  readonly refused: ProblemReport | undefined;
};

export type NewQueued = Omit<Queued, 'order'>;

export function isRefused(one: Queued): boolean {
  return one.refused !== undefined;
}

/**
 * The next to be sent of one person, or undefined where nothing of theirs can be. Those of one part go in order: what waits behind one that
 * was refused, or that the server failed on in this round (`failed`), is left; other parts go on.
 */
export function nextToSend(
  queue: readonly Queued[],
  personId: string,
  failed: ReadonlySet<string> = new Set(),
): Queued | undefined {
  const held = new Set<string>();
  for (const one of queue) {
    const part = `${one.aircraftId} ${one.partId}`;
    const isHeld = held.has(part);
    if (isRefused(one) || failed.has(one.id) || one.person.id !== personId) {
      // Another person's weighing of the same part holds nobody up: their days and conditions tell which counts.
      if (one.person.id === personId) held.add(part);
      continue;
    }
    if (!isHeld) return one;
  }
  return undefined;
}

/** How it stands in the queue, for whoever looks. */
export type Standing = 'refused' | 'behind a refused one' | 'of another person' | 'waiting';

export function standingOf(one: Queued, queue: readonly Queued[], personId: string | undefined): Standing {
  if (isRefused(one)) return 'refused';
  if (one.person.id !== personId) return 'of another person';
  const isBehind = queue.some(
    (other) =>
      isRefused(other) &&
      other.order < one.order &&
      other.person.id === one.person.id &&
      other.aircraftId === one.aircraftId &&
      other.partId === one.partId,
  );
  return isBehind ? 'behind a refused one' : 'waiting';
}
