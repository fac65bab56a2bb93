/**
 * Readings that are typed and not saved yet. They stay on this device until they are saved or dropped, whatever happens to the page, and come
 * back when their part is opened again on the same day by the same person. `id` is the entry's: sent again after a lost answer, it is known
 * for the same (rule L3).
 */
import { z } from 'zod';
import { Condition } from '#shared/ledger/entry.ts';
import { MASS_UNITS } from '#shared/quantity/units.ts';
import { today } from '../words/days.ts';
import type { Reading } from './reading.ts';

const KEY = 'tarebook readings not saved';
const Kept = z.object({
  aircraftId: z.string(),
  partId: z.string(),
  personId: z.string(),
  day: z.string(),
  id: z.string(),
  reading: z.object({
    gross: z.string(),
    tare: z.string(),
    unit: z.enum(MASS_UNITS),
    condition: Condition.optional(),
    pieces: z.array(z.int()),
    notYetIn: z.string(),
    more: z.record(z.string(), z.string()),
    cause: z.string(),
    remark: z.string(),
  }),
});
type Kept = z.infer<typeof Kept>;
export type Whose = Pick<Kept, 'aircraftId' | 'partId' | 'personId'>;

export function keptReading(whose: Whose): { readonly id: string; readonly reading: Reading } | undefined {
  const found = allKept().find((kept) => isOf(kept, whose));
  if (found === undefined) return undefined;
  const { condition, ...reading } = found.reading;
  return { id: found.id, reading: { ...reading, condition } };
}

/** A figure that is typed is worth keeping; a choice is made again in a touch. */
export function keepReading(whose: Whose, { id, reading }: { readonly id: string; readonly reading: Reading }): void {
  const others = allKept().filter((kept) => !isOf(kept, whose));
  const isWorth = reading.gross.trim() !== '' || reading.remark.trim() !== '';
  const own = { ...whose, day: today(), id, reading: { ...reading, pieces: [...reading.pieces] } };
  store(isWorth ? [...others, own] : others);
}

export function dropReading(whose: Whose): void {
  store(allKept().filter((kept) => !isOf(kept, whose)));
}

/** What this person has typed on this device today and not saved, by part: the gross with its unit. */
export function notSaved(of: Pick<Kept, 'aircraftId' | 'personId'>): ReadonlyMap<string, string> {
  return new Map(
    allKept()
      .filter((kept) => kept.aircraftId === of.aircraftId && kept.personId === of.personId)
      .map(({ partId, reading }) => [partId, `${reading.gross} ${reading.unit}`.trim()] as const),
  );
}

function isOf(kept: Kept, { aircraftId, partId, personId }: Whose): boolean {
  return kept.aircraftId === aircraftId && kept.partId === partId && kept.personId === personId;
}

/** Those of today; what is older is gone with the next one that is kept. */
function allKept(): readonly Kept[] {
  try {
    const read = z.array(Kept).safeParse(JSON.parse(localStorage.getItem(KEY) ?? '[]'));
    return read.success ? read.data.filter(({ day }) => day === today()) : [];
  } catch {
    return [];
  }
}

/** A full or forbidden store must not stop the typing. */
function store(kept: readonly Kept[]): void {
  try {
    if (kept.length === 0) localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, JSON.stringify(kept));
  } catch {
    // What is typed stays on the screen.
  }
}
