/**
 * First half of the naive model: what the entries say once every correction is carried back (rules L2, L7, L8), in the order of the
 * days. Nothing here knows what an entry is worth.
 */
import type { RecordedEntry, Statement, StatementOf } from '#shared/ledger/entry.ts';

/** `at` is the number of the entry first made: whatever says it now, the datum is the one of then. */
export type Said = { at: number; day: string; what: Statement };

/** What is in force, in the order of the days and on one day in the order of the entries first made. */
export function saidBy(entries: readonly RecordedEntry[]): Said[] {
  const rootOf = new Map<string, number>();
  const said = new Map<number, Said | undefined>();
  for (const { seq, entry } of entries) {
    if (entry.kind !== 'correction') {
      rootOf.set(entry.id, seq);
      said.set(seq, { at: seq, day: entry.happenedOn, what: entry });
      continue;
    }
    const root = rootOf.get(entry.supersedesId);
    if (root === undefined) continue;
    // Who corrects the correction corrects what was first said.
    rootOf.set(entry.id, root);
    const { replacement } = entry;
    const anew = replacement && { at: root, day: replacement.happenedOn, what: replacement.statement };
    said.set(root, anew ?? undefined);
  }
  return [...said.values()]
    .filter((one) => one !== undefined)
    .sort((a, b) => (a.day === b.day ? a.at - b.at : a.day < b.day ? -1 : 1));
}

/** What had happened by the end of a day, with what is known today; the datum is today's from the first day on. */
export function saidUntil(day: string, entries: readonly RecordedEntry[]): Said[] {
  const said = saidBy(entries);
  return said.filter((one) => one.what.kind === 'datum moved' || countsFrom(one, said) <= day);
}

/** A part and its first estimate count from the first day on which anything happened to the part, whenever they were typed. */
function countsFrom(one: Said, said: readonly Said[]): string {
  const { what } = one;
  if (what.kind !== 'part added' && what.kind !== 'estimate') return one.day;
  const firstEstimate = said.find(({ what: other }) => other.kind === 'estimate' && other.partId === what.partId);
  if (what.kind === 'estimate' && one !== firstEstimate) return one.day;
  return said.find(({ what: other }) => happensTo(what.partId, other))?.day ?? one.day;
}

/** A note only speaks of a part. A part that was in an assembly on the scale was there on that day. */
function happensTo(partId: string, what: Statement): boolean {
  if (what.kind === 'note' || !('partId' in what)) return false;
  return what.partId === partId || (what.kind === 'assembly weighing' && isNamed(partId, what));
}

function isNamed(partId: string, { members }: StatementOf<'assembly weighing'>): boolean {
  return members.some((member) => member.partId === partId);
}

export function latest<Kind extends Statement['kind']>(
  kind: Kind,
  said: readonly Said[],
  partId?: string,
): (Said & { what: StatementOf<Kind> }) | undefined {
  return said.findLast(
    (one): one is Said & { what: StatementOf<Kind> } =>
      one.what.kind === kind && (partId === undefined || ('partId' in one.what && one.what.partId === partId)),
  );
}

/** A station as it was typed, told from today's datum: every later move aft by d makes it x - d. */
export function toTodayM(stationM: number, { at: saidAt }: Said, said: readonly Said[]): number {
  let todayM = stationM;
  for (const { at, what } of said) if (what.kind === 'datum moved' && at > saidAt) todayM -= what.shiftM;
  return todayM;
}
