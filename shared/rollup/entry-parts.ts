/** The parts that an entry speaks of, as they are defined now: its own, and for a correction also that of the entry it corrects. */
import type { Entry, Statement, StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';

/** The part it speaks of first. What an entry said stays what it said, also where a correction has named another part since. */
export function partsOfEntry(ledger: Ledger, entry: Entry): readonly StatementOf<'part added'>[] {
  const own = entry.kind === 'correction' ? entry.replacement?.statement : entry;
  const before = entry.kind === 'correction' ? ledger.entryById.get(entry.supersedesId)?.entry : undefined;
  const corrected = before === undefined ? [] : partsOfEntry(ledger, before);
  const part = own === undefined ? undefined : definitionOf(ledger, own);
  return [...new Set(part === undefined ? corrected : [part, ...corrected])];
}

function definitionOf({ books }: Ledger, statement: Statement): StatementOf<'part added'> | undefined {
  const partId = 'partId' in statement ? statement.partId : undefined;
  return partId === undefined ? undefined : books.byPart.get(partId)?.state.definition;
}
