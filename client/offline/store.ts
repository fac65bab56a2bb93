/**
 * The store on this device: weighings that wait to be sent, the last answers that Weigh needs, and a copy of the entries. One database, so that
 * there is one place to ask whether anything can be kept at all.
 */
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import type { Queued } from '../queue/queued.ts';

export type KeptAnswer = { readonly key: string; readonly answer: unknown; readonly at: string };
export type CopiedEntry = RecordedEntry & { readonly aircraftId: string };

interface DeviceStore extends DBSchema {
  /** In the order in which they were made: the key counts up and is never given out twice. */
  queue: { key: number; value: Queued };
  answers: { key: string; value: KeptAnswer };
  entries: { key: [aircraftId: string, seq: number]; value: CopiedEntry };
  /** One small record, written to see whether anything can be. */
  trial: { key: string; value: string };
}

let opened: Promise<IDBPDatabase<DeviceStore>> | undefined;

/** Rejects where the browser keeps nothing for this page. */
export function deviceStore(): Promise<IDBPDatabase<DeviceStore>> {
  opened ??= open();
  return opened;
}

async function open(): Promise<IDBPDatabase<DeviceStore>> {
  const forget = () => {
    opened = undefined;
  };
  try {
    return await openDB<DeviceStore>('tarebook', 1, {
      upgrade(store) {
        store.createObjectStore('queue', { keyPath: 'order', autoIncrement: true });
        store.createObjectStore('answers', { keyPath: 'key' });
        store.createObjectStore('entries', { keyPath: ['aircraftId', 'seq'] });
        store.createObjectStore('trial');
      },
      // A newer page wants to change the store: this one gives it up, and opens it anew when it needs it.
      blocking(_current, _wanted, event) {
        forget();
        (event.target as IDBDatabase).close();
      },
      terminated: forget,
    });
  } catch (error) {
    forget();
    throw error;
  }
}

/** Written through to the disk before it is said to be kept: a battery may die at any moment. */
export const DURABLE = { durability: 'strict' } as const;

/** Why nothing can be kept, in words; undefined where something can. */
export async function whyNothingIsKept(): Promise<'full' | 'forbidden' | undefined> {
  try {
    const store = await deviceStore();
    const trial = store.transaction('trial', 'readwrite', DURABLE);
    // As much as some hundreds of weighings take.
    await trial.store.put('.'.repeat(TRIAL_LENGTH), 'trial');
    await trial.store.delete('trial');
    await trial.done;
    return undefined;
  } catch (error) {
    return isFull(error) ? 'full' : 'forbidden';
  }
}
const TRIAL_LENGTH = 200_000;

export function isFull(error: unknown): boolean {
  return error instanceof DOMException && error.name === 'QuotaExceededError';
}

/** Asks the browser not to clear this page's store when it needs room. It may say no; nothing more can be done then. */
export async function askToPersist(): Promise<void> {
  try {
    await navigator.storage?.persist?.();
  } catch {
    // As before.
  }
}
