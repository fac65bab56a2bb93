/**
 * Remembers what was worked out of a ledger until the ledger has another entry. A report asks several times for the same things, and
 * everybody who looks at a screen asks for the same report.
 */
import type { Ledger } from './fold.ts';

/** Makes a function of what stands of one kind or two, which is worked out anew when that changes. */
export function oncePerChange<Value>(
  kinds: readonly (keyof Ledger['changes'])[],
  workOut: (ledger: Ledger) => Value,
): (ledger: Ledger) => Value {
  const known = new WeakMap<Ledger['whole'], { readonly changes: number; readonly value: Value }>();
  return (ledger) => {
    const changes = kinds.reduce((sum, kind) => sum + ledger.changes[kind], 0);
    const before = known.get(ledger.whole);
    if (before?.changes === changes) return before.value;
    const value = workOut(ledger);
    known.set(ledger.whole, { changes, value });
    return value;
  };
}

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
