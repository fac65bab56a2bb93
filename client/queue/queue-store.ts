/** The queue in the device's store. Every change is on the disk before it is acknowledged, and told to the other tabs. */
import { DURABLE, deviceStore } from '../offline/store.ts';
import type { NewQueued, Queued } from './queued.ts';

const channel = typeof BroadcastChannel === 'undefined' ? undefined : new BroadcastChannel('tarebook queue');
const listeners = new Set<() => void>();
let queue: readonly Queued[] = [];

export function watchQueue(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** As it was last read; the same list until it changes. */
export function queueNow(): readonly Queued[] {
  return queue;
}

/** Reads it from the store, oldest first. */
export async function readQueue(): Promise<readonly Queued[]> {
  queue = await (await deviceStore()).getAll('queue');
  for (const listener of listeners) listener();
  return queue;
}

if (channel !== undefined) channel.onmessage = () => void readQueue().catch(() => undefined);

/** Puts one at the end, or, being the correction of `replaces`, in the place of that one. Rejects where it could not be kept. */
export async function putInQueue(one: NewQueued, replaces?: Queued): Promise<void> {
  const change = (await deviceStore()).transaction('queue', 'readwrite', DURABLE);
  // The store gives the place where none is given.
  await change.store.put((replaces === undefined ? one : { ...one, order: replaces.order }) as Queued);
  await change.done;
  await changed();
}

/** Changes one that is still there; one that has gone in the meantime stays gone. */
export async function changeInQueue(
  { order, id }: Queued,
  change: Partial<Pick<Queued, 'refused' | 'hasFailed' | 'day' | 'weighedAt'>>,
): Promise<void> {
  const write = (await deviceStore()).transaction('queue', 'readwrite', DURABLE);
  const there = await write.store.get(order);
  if (there?.id === id) await write.store.put({ ...there, ...change });
  await write.done;
  await changed();
}

/** Takes one out: acknowledged, or dropped by a person. A correction that has taken its place stays. */
export async function takeFromQueue({ order, id }: Queued): Promise<void> {
  const write = (await deviceStore()).transaction('queue', 'readwrite', DURABLE);
  if ((await write.store.get(order))?.id === id) await write.store.delete(order);
  await write.done;
  await changed();
}

async function changed(): Promise<void> {
  channel?.postMessage('changed');
  await readQueue();
}
