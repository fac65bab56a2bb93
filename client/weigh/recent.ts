/** The parts that were weighed on this device last, the latest first. */
import { z } from 'zod';

const KEY = 'tarebook weighed here';
const MOST_KEPT = 60;
const Kept = z.array(z.object({ aircraftId: z.string(), partId: z.string() })).max(MOST_KEPT);
type Kept = z.infer<typeof Kept>;

export function rememberWeighed(aircraftId: string, partId: string): void {
  const others = allKept().filter((one) => one.aircraftId !== aircraftId || one.partId !== partId);
  try {
    localStorage.setItem(KEY, JSON.stringify([{ aircraftId, partId }, ...others].slice(0, MOST_KEPT)));
  } catch {
    // A device that keeps nothing still weighs.
  }
}

export function weighedHere(aircraftId: string): readonly string[] {
  return allKept()
    .filter((one) => one.aircraftId === aircraftId)
    .map(({ partId }) => partId);
}

function allKept(): Kept {
  try {
    const read = Kept.safeParse(JSON.parse(localStorage.getItem(KEY) ?? '[]'));
    return read.success ? read.data : [];
  } catch {
    return [];
  }
}
