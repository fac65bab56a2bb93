/**
 * A copy of an aircraft's entries on this device, so that a reading is judged by the same rules when the server is gone (rule W4). A ledger is
 * only ever added to, so a copy is brought up to date by what is new. It is folded when it is first needed.
 */
import { CopyReport } from '#shared/contract/aircraft.ts';
import { ask } from '../door/ask.ts';
import { deviceStore } from './store.ts';

/** What a tablet is asked to keep and fold at most; judging beyond that needs the server. */
const MOST_ENTRIES = 30_000;

const copying = new Map<string, Promise<void>>();

/** Brings the copy up to date. One at a time; what fails is tried again the next time. */
export function copyLedger(aircraftId: string): Promise<void> {
  const before = copying.get(aircraftId) ?? Promise.resolve();
  const own = before.then(() => copyOn(aircraftId)).catch(() => undefined);
  copying.set(aircraftId, own);
  return own;
}

async function copyOn(aircraftId: string): Promise<void> {
  const store = await deviceStore();
  for (;;) {
    const after = await lastCopied(aircraftId);
    if (after >= MOST_ENTRIES) return;
    const path = `/api/aircraft/${aircraftId}/entries/copy?after=${after}`;
    const { seq, entries } = await ask(path, { reply: CopyReport });
    const write = store.transaction('entries', 'readwrite');
    // A ledger that is shorter than its copy is another one: the shop has gone back to an older backup.
    if (seq < after) {
      await write.store.delete(ofAircraft(aircraftId));
      await write.done;
      continue;
    }
    await Promise.all(entries.map((entry) => write.store.put({ ...entry, aircraftId })));
    await write.done;
    if (entries.length === 0 || after + entries.length >= seq) return;
  }
}

function ofAircraft(aircraftId: string): IDBKeyRange {
  return IDBKeyRange.bound([aircraftId, 0], [aircraftId, Number.MAX_SAFE_INTEGER]);
}

async function lastCopied(aircraftId: string): Promise<number> {
  const cursor = await (await deviceStore()).transaction('entries').store.openKeyCursor(ofAircraft(aircraftId), 'prev');
  return cursor?.key[1] ?? 0;
}

/** How far the copy reaches; undefined where there is none to judge by. */
export async function copiedUpTo(aircraftId: string): Promise<number | undefined> {
  const last = await lastCopied(aircraftId);
  return last > 0 && last < MOST_ENTRIES ? last : undefined;
}
