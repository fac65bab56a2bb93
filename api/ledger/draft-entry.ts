/**
 * From what was sent to the entry that is recorded (rules L2, L3, L4): who may record this kind, the words read against the ledger, the
 * ledger's objections. Works on the ledger it is given and changes nothing, so it can be asked again.
 */

import { Problem } from '#api/problem/problem.ts';
import type { LiveDraft } from '#db/record/live-recorder.ts';
import { stableId } from '#db/record/stable-id.ts';
import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import { mayAs, type Person, type Role } from '#shared/contract/people.ts';
import { type Objection, objectionsTo } from '#shared/ledger/admit.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import type { Entry, Statement } from '#shared/ledger/entry.ts';
import { foldEntries, type Ledger } from '#shared/ledger/fold.ts';
import type { Result } from '#shared/result.ts';
import { entryFromWords, pathInWords } from '#shared/words/entry-from-words.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import type { Sent } from './sent-bounds.ts';

export type Sender = { readonly aircraftId: string; readonly person: Person; readonly today: string };

export function draftOf(sent: Sent, sender: Sender): LiveDraft<readonly PathProblem[]> {
  return (ledger) => {
    mustBeAllowed(kindRole(sent['kind']), sender.person);
    const own = ownProblems(sent);
    const read = readAgain(sent, ledger, sender) ?? readWords(sent, ledger, sender);
    if (!read.ok || own.length > 0) return { ok: false, refused: [...own, ...(read.ok ? [] : read.refusal)] };
    const entry = read.value;
    if (entry.kind === 'correction') {
      const root = ledger.roots.get(entry.supersedesId);
      // Correcting takes an engineer, and no less than the kind of what is corrected.
      if (root !== undefined) mustBeAllowed(ROLE_OF_KIND[root.kind], sender.person);
    }
    if (ledger.entryById.has(entry.id)) return { ok: true, entry };
    const objections = objectionsTo(entry, ledger, sender.today);
    return objections.length > 0 ? { ok: false, refused: objections.map(inSentWords) } : { ok: true, entry };
  };
}

/** The words of an entry with what the door adds: who, and the ids that follow from the entry's own. */
export function readWords(
  sent: Sent,
  ledger: Ledger,
  { aircraftId, person, today }: Sender,
  day = today,
): Result<Entry, readonly PathProblem[]> {
  const { by: _, ...words } = sent;
  const id = typeof sent['id'] === 'string' ? sent['id'].toLowerCase() : '';
  // A part's id follows from the entry's, so that an entry sent twice says the same twice.
  return entryFromWords(words, {
    ledger,
    day,
    by: person.initials,
    newId: () => stableId(aircraftId, `part of entry ${id}`),
  });
}

/** An objection names fields of the entry; the sender knows the words it was made of. */
export function inSentWords({ path, refusal }: Objection): PathProblem {
  return { path: pathInWords(path), refusal };
}

/**
 * An entry whose id is in the ledger is read against the ledger as it was before that entry: a repeat that comes late, when the part has been
 * removed or the default has changed, must still be known for the same (rule L3). Undefined where it is no repeat.
 */
function readAgain(sent: Sent, ledger: Ledger, sender: Sender): Result<Entry, readonly PathProblem[]> | undefined {
  const id = typeof sent['id'] === 'string' ? sent['id'].trim().toLowerCase() : '';
  const recorded = ledger.entryById.get(id as Entry['id']);
  if (recorded === undefined) return undefined;
  const day = recorded.entry.happenedOn;
  const now = readWords(sent, ledger, sender, day);
  if (now.ok && entryText(now.value) === entryText(recorded.entry)) return now;
  const then = readWords(sent, foldEntries(ledger.entries, recorded.seq - 1), sender, day);
  return then.ok ? then : now;
}

function ownProblems(sent: Sent): readonly PathProblem[] {
  const problems: PathProblem[] = [];
  if (sent['id'] === undefined) problems.push({ path: ['id'], refusal: { code: 'missing' } });
  if (sent['by'] !== undefined)
    problems.push({
      path: ['by'],
      refusal: { code: 'field-unknown', known: ['kind', 'id', 'happenedOn', 'remark'] },
    });
  return problems;
}

/** An unknown kind is for the words to refuse. */
function kindRole(kind: unknown): Role {
  if (kind === 'correction') return 'engineer';
  return typeof kind === 'string' && Object.hasOwn(ROLE_OF_KIND, kind)
    ? ROLE_OF_KIND[kind as Statement['kind']]
    : 'crew';
}

function mustBeAllowed(role: Role, person: Person): void {
  if (!mayAs(person.role, role)) throw new Problem('not-allowed');
}
