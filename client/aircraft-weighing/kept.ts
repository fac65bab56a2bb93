/** What was typed into a weighing and has not reached the server yet. It stays on this device until it has. */
import { z } from 'zod';
import type { WeighingDraft } from '#shared/aircraft-weighing/draft.ts';

const words = z.record(z.string(), z.string());
const Kept = z.object({ id: z.string(), version: z.int(), base: words, words });

/** `base` is what the server had at `version`; `words` is what stands on the screen. */
export type Kept = {
  readonly id: string;
  readonly version: number;
  readonly base: WeighingDraft;
  readonly words: WeighingDraft;
};

const nameOf = (aircraftId: string) => `tarebook aircraft weighing ${aircraftId}`;

export function keptFor(aircraftId: string): Kept | undefined {
  try {
    const read = Kept.safeParse(JSON.parse(localStorage.getItem(nameOf(aircraftId)) ?? 'null'));
    return read.success ? read.data : undefined;
  } catch {
    return undefined;
  }
}

/** False where the device keeps nothing: a full or forbidden store must not stop the typing. */
export function keep(aircraftId: string, kept: Kept): boolean {
  try {
    localStorage.setItem(nameOf(aircraftId), JSON.stringify(kept));
    return true;
  } catch {
    return false;
  }
}

export function forget(aircraftId: string): void {
  localStorage.removeItem(nameOf(aircraftId));
}
