/**
 * What is typed into a schedule and not recorded yet. It stays on this device until it is recorded or dropped, whatever happens to the page. `begunAt`
 * is the entry of the estimate that it began from.
 */
import { z } from 'zod';
import type { ScheduleDraft } from '#shared/layup/draft.ts';

const words = z.record(z.string(), z.string());
const Kept = z.object({
  draft: z.object({
    words,
    regions: z.array(z.object({ key: z.string(), words, lines: z.array(z.object({ key: z.string(), words })) })),
    copied: z.array(words),
  }),
  beside: words,
  begunAt: z.number().optional(),
});

/** `beside`: the words of the estimate that no schedule gives, flash and allowance. */
export type Kept = {
  readonly draft: ScheduleDraft;
  readonly beside: Readonly<Record<string, string>>;
  readonly begunAt?: number | undefined;
};

function nameOf(aircraftId: string, partId: string): string {
  return `tarebook lay-up ${aircraftId} ${partId}`;
}

export function keptFor(aircraftId: string, partId: string): Kept | undefined {
  try {
    const read = Kept.safeParse(JSON.parse(localStorage.getItem(nameOf(aircraftId, partId)) ?? 'null'));
    return read.success ? read.data : undefined;
  } catch {
    return undefined;
  }
}

/** False where the device keeps nothing: a full or forbidden store must not stop the typing. */
export function keep(aircraftId: string, partId: string, kept: Kept): boolean {
  try {
    localStorage.setItem(nameOf(aircraftId, partId), JSON.stringify(kept));
    return true;
  } catch {
    return false;
  }
}

export function forget(aircraftId: string, partId: string): void {
  localStorage.removeItem(nameOf(aircraftId, partId));
}
