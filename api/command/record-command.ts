/** `tarebook record`: entries of any kind from a JSON file, in words and with units, all or nothing. */
import { randomUUID } from 'node:crypto';
import type { Store } from '#db/engine/open-store.ts';
import type { AppendedEntry } from '#db/ledger/append.ts';
import { headSeqOf, loadLedger } from '#db/record/load-ledger.ts';
import { recordEntries } from '#db/record/record-entries.ts';
import { stableId } from '#db/record/stable-id.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import type { Entry, EntryId } from '#shared/ledger/entry.ts';
import { applyEntry, foldEntries, type Ledger } from '#shared/ledger/fold.ts';
import { entryFromWords, pathInWords } from '#shared/words/entry-from-words.ts';
import { pointerTo } from '#shared/words/path-problem.ts';
import { say } from '#shared/words/say.ts';
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
        `${say`${added} of ${recorded.length} entries recorded${added < recorded.length ? say`; the others were in the ledger already` : ''}.`}\n\n`,
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
    draft(ledger, sent, { ...stamp, aircraftId }, file),
  );
  if (answer.ok) return answer.entries;
  throw new Refused('refused' in answer ? answer.refused : [{ file, refusal: answer.refusal }]);
}

type Sender = Stamp & { readonly aircraftId: string };

function draft(ledger: Ledger, sent: readonly unknown[], sender: Sender, file: string | undefined) {
  const entries: Entry[] = [];
  const problems: PlacedProblem[] = [];
  for (const [at, words] of sent.entries()) {
    const pointer = (path: readonly string[]) => pointerTo([...(sent.length === 1 ? [] : [String(at)]), ...path]);
    const read = readOne(words, ledger, sender);
    if (!read.ok) {
      problems.push(...read.refusal.map(({ path, refusal }) => ({ file, pointer: pointer(path), refusal })));
      continue;
    }
    // An id that is in the ledger is a repeat; whether it says the same is for the database to answer.
    const isRepeat = ledger.entryById.has(read.value.id);
    const objections = isRepeat ? [] : objectionsTo(read.value, ledger, sender.today);
    problems.push(...objections.map(({ path, refusal }) => ({ file, pointer: pointer(pathInWords(path)), refusal })));
    entries.push(read.value);
    if (!isRepeat && objections.length === 0)
      applyEntry(ledger, { seq: headSeqOf(ledger) + 1, recordedAt: '', entry: read.value });
  }
  return problems.length > 0 ? ({ ok: false, refused: problems } as const) : ({ ok: true, entries } as const);
}

/**
 * One entry from its words. An entry whose id is in the ledger is read against the ledger as it was before it: a repeat that comes late, when a
 * part has another number or the day is another, must still be known for the same (rule L3).
 */
function readOne(sent: unknown, ledger: Ledger, sender: Sender): Answer {
  const { words, id } = withId(sent);
  const recorded = ledger.entryById.get(id as EntryId);
  if (recorded === undefined) return readAgainst(words, id, ledger, sender);
  const sameDay = { ...sender, day: recorded.entry.happenedOn };
  const now = readAgainst(words, id, ledger, sameDay);
  if (now.ok && entryText(now.value) === entryText(recorded.entry)) return now;
  const then = readAgainst(words, id, foldEntries(ledger.entries, recorded.seq - 1), sameDay);
  return then.ok ? then : now;
}

type Answer = ReturnType<typeof entryFromWords>;

function readAgainst(words: unknown, id: string, ledger: Ledger, { aircraftId, day, by }: Sender): Answer {
  // A part's id follows from the entry's, as it does where entries come in over the network.
  return entryFromWords(words, { ledger, day, by, newId: () => stableId(aircraftId, `part of entry ${id}`) });
}

/** What was sent with the id it has, or with a new one. */
function withId(sent: unknown): { readonly words: unknown; readonly id: string } {
  if (typeof sent !== 'object' || sent === null || Array.isArray(sent)) return { words: sent, id: randomUUID() };
  const given = 'id' in sent ? sent.id : undefined;
  const id = given === undefined || given === null || String(given).trim() === '' ? randomUUID() : given;
  return { words: { ...sent, id }, id: String(id).trim().toLowerCase() };
}

function listOf(file: { readonly name: string; readonly text: string }): readonly unknown[] {
  try {
    const sent: unknown = JSON.parse(file.text);
    return Array.isArray(sent) ? sent : [sent];
  } catch (error) {
    const why = error instanceof Error ? error.message : say`it cannot be read`;
    throw new Refused([{ file: file.name, refusal: { code: 'file-not-json', why } }]);
  }
}
