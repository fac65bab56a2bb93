/** `tarebook record`: entries of any kind from a JSON file, in words and with units, all or nothing. */
import { randomUUID } from 'node:crypto';
import type { Store } from '#db/engine/open-store.ts';
import type { AppendedEntry } from '#db/ledger/append.ts';
import { headSeqOf, loadLedger } from '#db/record/load-ledger.ts';
import { recordEntries } from '#db/record/record-entries.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import type { Entry } from '#shared/ledger/entry.ts';
import { applyEntry, type Ledger } from '#shared/ledger/fold.ts';
import { entryFromWords, pathInWords } from '#shared/words/entry-from-words.ts';
import { progressOn } from './progress.ts';
import { readText } from './read-text.ts';
import { type PlacedProblem, Refused } from './refused.ts';
import { printLedger } from './show-command.ts';
import { dayOf, personOf } from './stamp.ts';
import type { Exit, Surroundings } from './surroundings.ts';
import { aircraftNamed, type PlaceOptions, withStore } from './with-store.ts';

type Options = PlaceOptions & {
  readonly aircraft?: string;
  readonly by?: string;
  readonly date?: string;
  readonly json: boolean;
};

type Stamp = { readonly today: string; readonly day: string; readonly by: string };

export async function recordCommand(path: string, options: Options, surroundings: Surroundings): Promise<Exit> {
  const stamp = { ...dayOf(options.date, surroundings), by: personOf(options.by, surroundings) };
  const file = await readText(path);
  const sent = listOf(file);
  return withStore({ ...options, readsOnly: true }, surroundings, async (store) => {
    const { id } = await aircraftNamed(store, options.aircraft);
    const recorded = await recordSent(store, id, sent, stamp, progressOn(surroundings), file.name);
    const ledger = await loadLedger(store.db, id);
    const added = recorded.filter((entry) => !entry.replayed).length;
    if (!options.json)
      surroundings.out.write(
        `${added} of ${recorded.length} entries recorded${added < recorded.length ? '; the others were in the ledger already' : ''}.\n\n`,
      );
    const flags = { ...options, order: 'margin', last: recorded.length, failOnDrift: false } as const;
    return printLedger(ledger, ['headline', 'entries'], flags, surroundings, { recorded });
  });
}

/** Records what was sent, in order; each entry is read against the ledger with those before it. */
export async function recordSent(
  store: Store,
  aircraftId: string,
  sent: readonly unknown[],
  stamp: Stamp,
  onProgress: (done: number, total: number) => void,
  file?: string,
): Promise<readonly AppendedEntry[]> {
  const answer = await recordEntries<readonly PlacedProblem[]>(store.db, { aircraftId, onProgress }, (ledger) =>
    draft(ledger, sent, stamp, file),
  );
  if (answer.ok) return answer.entries;
  throw new Refused('refused' in answer ? answer.refused : [{ file, refusal: answer.refusal }]);
}

function draft(ledger: Ledger, sent: readonly unknown[], stamp: Stamp, file: string | undefined) {
  const entries: Entry[] = [];
  const problems: PlacedProblem[] = [];
  for (const [at, words] of sent.entries()) {
    const pointer = (path: readonly string[]) =>
      [...(sent.length === 1 ? [] : [String(at)]), ...path].map((name) => `/${escapePointer(name)}`).join('');
    const read = entryFromWords(words, { ledger, day: stamp.day, by: stamp.by, newId: randomUUID });
    if (!read.ok) {
      problems.push(...read.refusal.map(({ path, refusal }) => ({ file, pointer: pointer(path), refusal })));
      continue;
    }
    // An id that is in the ledger is a repeat; whether it says the same is for the database to answer.
    const isRepeat = ledger.entryById.has(read.value.id);
    const objections = isRepeat ? [] : objectionsTo(read.value, ledger, stamp.today);
    problems.push(...objections.map(({ path, refusal }) => ({ file, pointer: pointer(pathInWords(path)), refusal })));
    entries.push(read.value);
    if (!isRepeat && objections.length === 0)
      applyEntry(ledger, { seq: headSeqOf(ledger) + 1, recordedAt: '', entry: read.value });
  }
  return problems.length > 0 ? ({ ok: false, refused: problems } as const) : ({ ok: true, entries } as const);
}

function listOf(file: { readonly name: string; readonly text: string }): readonly unknown[] {
  try {
    const sent: unknown = JSON.parse(file.text);
    return Array.isArray(sent) ? sent : [sent];
  } catch (error) {
    const why = error instanceof Error ? error.message : 'it cannot be read';
    throw new Refused([{ file: file.name, refusal: { code: 'file-not-json', why } }]);
  }
}

/** RFC 6901. */
function escapePointer(name: string): string {
  return name.replaceAll('~', '~0').replaceAll('/', '~1');
}
