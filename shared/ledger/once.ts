/**
 * Remembers what was worked out of a ledger until the ledger has another entry. A report asks several times for the same things, and
 * everybody who looks at a screen asks for the same report.
 */
import type { Ledger } from './fold.ts';

type Known = { readonly entryCount: number; readonly books: Ledger['books']; readonly value: unknown };

/** Makes a function of a ledger that works each ledger out once. What it answers must not be changed by who receives it. */
export function oncePerEntry<Value>(workOut: (ledger: Ledger) => Value): (ledger: Ledger) => Value {
  const known = new WeakMap<Ledger, Known>();
  return (ledger) => {
    const before = known.get(ledger);
    if (before !== undefined && before.entryCount === ledger.entries.length && before.books === ledger.books)
      return before.value as Value;
    const value = workOut(ledger);
    known.set(ledger, { entryCount: ledger.entries.length, books: ledger.books, value });
    return value;
  };
}
