/** How many parts are on a list, and the first ones by the entry that added them, whatever the order in which they are put on it. */
import { MOST_LISTED } from '#shared/contract/reports.ts';
import type { ListedParts } from '#shared/rollup/running.ts';

export class FlatList {
  count = 0;
  readonly #first: { readonly addedSeq: number; readonly number: string }[] = [];

  add(addedSeq: number, number: string): void {
    this.count += 1;
    const first = this.#first;
    const last = first.at(-1);
    if (first.length === MOST_LISTED && last !== undefined && last.addedSeq < addedSeq) return;
    const at = first.findLastIndex((one) => one.addedSeq < addedSeq) + 1;
    first.splice(at, 0, { addedSeq, number });
    if (first.length > MOST_LISTED) first.pop();
  }

  /** With those of another list, on which no part is that is on this one. */
  with(other: ListedParts): ListedParts {
    const first = [...this.#first, ...other.first].sort((a, b) => a.addedSeq - b.addedSeq);
    return { count: this.count + other.count, first: first.slice(0, MOST_LISTED) };
  }
}
