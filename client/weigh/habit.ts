/** What the next weighing at this tablet most likely shares with the last: unit, scale, operator, lot, and each fixture's tare. */
import { z } from 'zod';
import { MASS_UNITS } from '#shared/quantity/units.ts';
import type { Reading } from './reading.ts';

const KEY = 'tarebook last weighing';
const text = z.string().max(80);
const Habit = z.object({
  unit: z.enum(MASS_UNITS),
  tare: text,
  more: z.record(z.string(), text).default({}),
  /** By fixture, as it was typed last. */
  tares: z.record(z.string(), text).default({}),
});
type Habit = z.infer<typeof Habit>;

const REMEMBERED = ['scale', 'fixture', 'operator', 'lot'];

/** Fixtures of a shop are few; a tablet need not remember more. */
const MOST_FIXTURES = 40;

export function rememberHabit({ unit, tare, more }: Reading): void {
  const kept = Object.fromEntries(Object.entries(more).filter(([name]) => REMEMBERED.includes(name)));
  const fixture = more['fixture']?.trim() ?? '';
  const before = Object.entries(recallHabit()?.tares ?? {}).slice(-MOST_FIXTURES);
  const tares = { ...Object.fromEntries(before), ...(fixture === '' ? {} : { [fixture]: tare }) };
  sessionStorage.setItem(KEY, JSON.stringify({ unit, tare, more: kept, tares }));
}

export function recallHabit(): Habit | undefined {
  const read = Habit.safeParse(JSON.parse(sessionStorage.getItem(KEY) ?? 'null'));
  return read.success ? read.data : undefined;
}

/** The tare that goes with a fixture, where this tablet has weighed on it. */
export function tareOf(fixture: string): string | undefined {
  const tares = recallHabit()?.tares ?? {};
  return Object.hasOwn(tares, fixture.trim()) ? tares[fixture.trim()] : undefined;
}

/** Another person stands at the scale: fixtures and scales stay what they are. */
export function forgetOperator(): void {
  const habit = recallHabit();
  if (habit === undefined) return;
  const { operator: _, ...more } = habit.more;
  sessionStorage.setItem(KEY, JSON.stringify({ ...habit, more }));
}

const CHECK_KEY = 'tarebook last check weight';
const CheckHabit = z.object({ unit: z.enum(MASS_UNITS), scale: text, reference: text });
type CheckHabit = z.infer<typeof CheckHabit>;

/** The same scale is checked with the same weight every morning. */
export function rememberCheck(check: CheckHabit): void {
  localStorage.setItem(CHECK_KEY, JSON.stringify(check));
}

export function recallCheck(): CheckHabit | undefined {
  const read = CheckHabit.safeParse(JSON.parse(localStorage.getItem(CHECK_KEY) ?? 'null'));
  return read.success ? read.data : undefined;
}
