/** The order of the open list (rule D6), for the server that makes it and for the screen that puts more into it. */
import type { OpenItem } from '#shared/contract/open-list.ts';

type Ordered = Pick<OpenItem, 'marginKg' | 'aboutKg' | 'since' | 'subject'>;

/** What takes most from the margin or gives most to it; then the largest mass, then the oldest. */
export function costliestFirst(a: Ordered, b: Ordered): number {
  return (
    size(b.marginKg) - size(a.marginKg) ||
    size(b.aboutKg) - size(a.aboutKg) ||
    order(a.since ?? '~', b.since ?? '~') ||
    order(a.subject, b.subject)
  );
}

function size(kg: number | undefined): number {
  return kg === undefined ? -1 : Math.abs(kg);
}

function order(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}
