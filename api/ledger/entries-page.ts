/**
 * A page of entries, newest first. The ledger is walked from its end until the page is full; only the entries of the page are made into
 * reports, since a ledger has thousands.
 */
import type { EntriesReport } from '#shared/contract/aircraft.ts';
import type { Entry, RecordedEntry } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { numberKey } from '#shared/part/from-words.ts';
import { partsOfEntry } from '#shared/rollup/entry-parts.ts';
import { entryReport } from '#shared/rollup/report.ts';

export type PageRequest = {
  readonly before?: number | undefined;
  readonly limit: number;
  readonly search?: string | undefined;
  readonly kind?: Entry['kind'] | undefined;
  /** A part's number. */
  readonly part?: string | undefined;
};

export function entriesPage(ledger: Ledger, request: PageRequest): EntriesReport {
  const { limit } = request;
  const isAsked = asked(ledger, request);
  // An entry stands at its number less one; numbers have no gaps.
  let at = Math.min(request.before ?? Number.POSITIVE_INFINITY, ledger.entries.length + 1) - 2;
  const found: number[] = [];
  for (; at >= 0 && found.length < limit; at -= 1) {
    const recorded = ledger.entries[at];
    if (recorded !== undefined && isAsked(recorded)) found.push(at);
  }
  const seq = ledger.entries.at(-1)?.seq ?? 0;
  const entries = found.map((index) => entryReport(ledger, index));
  const last = entries.at(-1);
  return { seq, entries, ...(at >= 0 && last !== undefined ? { next: last.seq } : {}) };
}

function asked(ledger: Ledger, { search, kind, part }: PageRequest): (recorded: RecordedEntry) => boolean {
  const words = search?.toLowerCase().split(/\s+/).filter(Boolean) ?? [];
  const number = part === undefined ? undefined : numberKey(part);
  return (recorded) => {
    if (kind !== undefined && recorded.entry.kind !== kind) return false;
    if (number === undefined && words.length === 0) return true;
    const parts = partsOfEntry(ledger, recorded.entry);
    if (number !== undefined && !parts.some((part) => numberKey(part.number) === number)) return false;
    if (words.length === 0) return true;
    const named = parts.map((part) => `${part.number}\n${part.name}`);
    const text = [ownText(recorded), ...named].join('\n').toLowerCase();
    return words.every((word) => text.includes(word));
  };
}

const ownTexts = new WeakMap<RecordedEntry, string>();

/** What a person may have typed into an entry: every text in it but ids and kinds. An entry never changes, so this is made once. */
function ownText(recorded: RecordedEntry): string {
  const known = ownTexts.get(recorded);
  if (known !== undefined) return known;
  const texts: string[] = [];
  gather(recorded.entry, texts);
  const text = texts.join('\n');
  ownTexts.set(recorded, text);
  return text;
}

const NOT_TYPED = new Set(['id', 'partId', 'parentPartId', 'supersedesId', 'growthFrom', 'resolutionFrom']);

function gather(value: unknown, texts: string[]): void {
  if (typeof value === 'string') texts.push(value);
  else if (typeof value === 'object' && value !== null)
    for (const [name, inner] of Object.entries(value)) if (!NOT_TYPED.has(name)) gather(inner, texts);
}
