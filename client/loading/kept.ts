/**
 * Loading limits that are typed and not recorded yet. They stay on this device until they are recorded or dropped. `begunAt` is the entry that
 * they began from.
 */
import { z } from 'zod';
import type { LimitsDraft } from '#shared/loading/draft.ts';

const words = z.record(z.string(), z.string());
const row = { key: z.string(), words };
const rows = z.array(z.object(row));
const Kept = z.object({
  draft: z.object({
    words,
    stations: z.array(z.object({ ...row, arms: rows })),
    corners: rows,
    cases: z.array(z.object({ ...row, loads: words, burn: rows })),
  }),
  reason: z.string(),
  begunAt: z.number().optional(),
});

export type Kept = {
  readonly draft: LimitsDraft;
  readonly reason: string;
  readonly begunAt?: number | undefined;
};

/** By aircraft; a correction of an entry beside that. */
const nameOf = (of: string) => `tarebook loading ${of}`;

export function keptFor(of: string): Kept | undefined {
  try {
    const read = Kept.safeParse(JSON.parse(localStorage.getItem(nameOf(of)) ?? 'null'));
    return read.success ? read.data : undefined;
  } catch {
    return undefined;
  }
}

/** False where the device keeps nothing: a full or forbidden store must not stop the typing. */
export function keep(of: string, kept: Kept): boolean {
  try {
    localStorage.setItem(nameOf(of), JSON.stringify(kept));
    return true;
  } catch {
    return false;
  }
}

export function forget(of: string): void {
  localStorage.removeItem(nameOf(of));
}
