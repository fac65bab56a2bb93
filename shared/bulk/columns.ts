/**
 * The entries of a ledger laid beside its parts in one pass, as columns of numbers and without a book for each: the last entry of each part,
 * and before each entry the one before it of the same part. Where a part may not be ordinary, it is written down who reads it. Nothing
 * is reckoned here.
 */
import type { Entry, EntryId, PartId, RecordedEntry, Statement } from '#shared/ledger/entry.ts';

/** Who reads the entries of a kind. */
type Reader =
  /** Plain numbers, where the part has no entry of another kind (`flat-part.ts`). */
  | 'numbers'
  /** The part's own book, written by the rules. */
  | 'book'
  /** A ledger that is folded over few entries. */
  | 'ledger'
  /** Nobody: they cannot move a figure. */
  | 'nobody'
  /** They speak of all parts together: nothing but the whole ledger can tell. */
  | 'whole ledger';

const READERS: Readonly<Record<Entry['kind'], Reader>> = {
  'part added': 'numbers',
  estimate: 'numbers',
  weighing: 'numbers',
  'piece installed': 'numbers',
  'part removed': 'book',
  'assembly weighing': 'book',
  'arm measured': 'numbers',
  'piece withdrawn': 'book',
  disposition: 'numbers',
  aircraft: 'ledger',
  'datum moved': 'ledger',
  targets: 'ledger',
  scale: 'ledger',
  'check weight': 'ledger',
  allowances: 'ledger',
  loading: 'ledger',
  material: 'ledger',
  'process cause': 'ledger',
  correction: 'ledger',
  'aircraft weighing': 'whole ledger',
  note: 'nobody',
};

/** What is known of a part beside its columns, as bits. */
export const NEEDS_BOOK = 1;
/** Some entry of it was corrected. */
export const NEEDS_LEDGER = 2;

export const NONE = -1;

export type Columns = {
  readonly entries: readonly RecordedEntry[];
  readonly partCount: number;
  /** By part, in the order in which parts are first spoken of: the index of its last entry. */
  readonly last: Int32Array;
  readonly bits: Uint8Array;
  /** By entry: the index of the one before it of the same part, or NONE. */
  readonly before: Int32Array;
  /** By entry: the part that it is an entry of, or NONE. */
  readonly partAt: Int32Array;
  /** The entries that add a part within an assembly. */
  readonly inTree: readonly number[];
  /** What the ledger of the corrected parts, and of the aircraft as a whole, is folded over. */
  readonly toFold: readonly RecordedEntry[];
};

/** The columns of a chain from its first entry on; undefined where nothing but the whole ledger can tell. */
export function columnsOf(entries: readonly RecordedEntry[]): Columns | undefined {
  const column = () => new Int32Array(entries.length).fill(NONE);
  const [last, before, partAt] = [column(), column(), column()] as const;
  const bits = new Uint8Array(entries.length);
  const indexOf = new Map<PartId, number>();
  const others: Others = { inBooks: [], inLedger: [], corrected: new Set() };
  const inTree: number[] = [];
  let lastId: PartId | undefined;
  let part = NONE;
  for (let at = 0; at < entries.length; at += 1) {
    const { entry } = entries[at] as RecordedEntry;
    const reader = READERS[entry.kind];
    if (reader === 'numbers' || reader === 'book') {
      const { partId } = entry as Extract<Entry, { partId: PartId }>;
      // The first entries of a part follow one another more often than not.
      if (partId !== lastId) part = indexIn(indexOf, partId);
      lastId = partId;
      partAt[at] = part;
      before[at] = last[part] ?? NONE;
      last[part] = at;
    }
    if (entry.kind === 'part added' && entry.parentPartId !== undefined) inTree.push(at);
    if (reader === 'numbers') continue;
    if (reader === 'book') need(part, NEEDS_BOOK);
    if (!readOther(others, entry)) return undefined;
  }
  for (const partId of others.inBooks) need(indexOf.get(partId), NEEDS_BOOK);
  for (const partId of others.inLedger) need(indexOf.get(partId), NEEDS_LEDGER);
  if (others.corrected.size > 0)
    for (const [at, { entry }] of entries.entries()) if (others.corrected.has(entry.id)) need(partAt[at], NEEDS_LEDGER);
  return { entries, partCount: indexOf.size, last, bits, before, partAt, inTree, toFold: toFold() };

  function need(ofPart: number | undefined, bit: number): void {
    if (ofPart !== undefined && ofPart !== NONE) bits[ofPart] = (bits[ofPart] ?? 0) | bit;
  }

  function toFold(): readonly RecordedEntry[] {
    return entries.filter(({ entry }, at) => {
      const ofPart = partAt[at] ?? NONE;
      if (ofPart !== NONE) return ((bits[ofPart] ?? 0) & NEEDS_LEDGER) !== 0;
      return READERS[entry.kind] === 'ledger' || others.corrected.has(entry.id);
    });
  }
}

function indexIn(indexOf: Map<PartId, number>, partId: PartId): number {
  const known = indexOf.get(partId);
  if (known !== undefined) return known;
  const index = indexOf.size;
  indexOf.set(partId, index);
  return index;
}

/** The parts that weighed assemblies and corrections name, and the entries that are corrected, wherever they stand in the chain. */
type Others = { readonly inBooks: PartId[]; readonly inLedger: PartId[]; readonly corrected: Set<EntryId> };

/** Notes what an entry that is in no column says of parts; false where it is for the whole ledger. */
function readOther(others: Others, entry: Entry | Statement): boolean {
  const reader: Reader | undefined = READERS[entry.kind];
  if (reader === undefined || reader === 'whole ledger') return false;
  if (entry.kind === 'assembly weighing') for (const { partId } of entry.members) others.inBooks.push(partId);
  if (entry.kind !== 'correction') return true;
  others.corrected.add(entry.supersedesId);
  const replacement = entry.replacement?.statement;
  if (replacement === undefined) return true;
  if ('partId' in replacement && replacement.partId !== undefined) others.inLedger.push(replacement.partId);
  return readOther(others, replacement);
}
