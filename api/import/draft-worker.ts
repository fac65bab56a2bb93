/**
 * The thread in which lists are read: ten thousand rows take seconds, and the server answers everybody else meanwhile. It holds the entries
 * of the aircraft it was last asked about, so that a list that is looked at again does not bring the whole ledger along.
 */
import { parentPort } from 'node:worker_threads';
import { entryFromText } from '#shared/ledger/canonical.ts';
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import { foldEntries } from '#shared/ledger/fold.ts';
import type { DraftQuestion, FromWorker } from './draft.ts';
import { draftOfLists } from './draft-lists.ts';

let held: { readonly aircraftId: string; readonly entries: RecordedEntry[] } | undefined;

parentPort?.on('message', (question: DraftQuestion) => parentPort?.postMessage(answerTo(question)));

function answerTo(question: DraftQuestion): FromWorker {
  try {
    const entries = held?.aircraftId === question.aircraftId ? held.entries : [];
    if (entries.length !== question.from) throw new Error('the worker was told of another ledger than it holds');
    for (const { content, ...recorded } of question.added) entries.push({ ...recorded, entry: entryFromText(content) });
    held = { aircraftId: question.aircraftId, entries };
    return { answer: draftOfLists(foldEntries(entries), question) };
  } catch (error) {
    return { fault: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}
