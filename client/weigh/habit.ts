/** What the next weighing at this tablet most likely shares with the last: unit, condition and the fixture's tare. */
import { z } from 'zod';
import { Condition } from '#shared/ledger/entry.ts';
import { MASS_UNITS } from '#shared/quantity/units.ts';
import type { Reading } from './reading.ts';

const KEY = 'tarebook last weighing';
const Habit = z.object({ unit: z.enum(MASS_UNITS), condition: Condition.optional(), tare: z.string().max(40) });

export function rememberHabit({ unit, condition, tare }: Reading): void {
  sessionStorage.setItem(KEY, JSON.stringify({ unit, condition, tare }));
}

export function recallHabit(): z.infer<typeof Habit> | undefined {
  const read = Habit.safeParse(JSON.parse(sessionStorage.getItem(KEY) ?? 'null'));
  return read.success ? read.data : undefined;
}
