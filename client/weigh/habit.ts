/**
 * What the next weighing at this tablet most likely shares with the last: unit, scale and operator, and, in a part of the same process of the same
 * aircraft, the fixture with its tare and the lot (rule H5). A tare is kept with its unit, so that another unit on the scale leaves it what it was.
 */
import { z } from 'zod';
import { MASS_UNITS } from '#shared/quantity/units.ts';
import { typedWith } from '../pieces/typed-units.ts';
import type { Form } from '../record/field-spec.ts';
import type { Reading } from './reading.ts';

const KEY = 'tarebook last weighing';
const text = z.string().max(80);
const Habit = z.object({
  unit: z.enum(MASS_UNITS),
  tare: text,
  /** The part that was weighed. */
  of: z.object({ aircraftId: z.string(), process: z.string(), number: z.string() }),
  more: z.record(z.string(), text),
  /** By fixture, with its unit, as it was typed last. */
  tares: z.record(z.string(), text),
});
type Habit = z.infer<typeof Habit>;
export type Weighed = Habit['of'];
export type KeptFrom = { readonly fixture: string } | { readonly number: string };

/** The fixture and the lot go with the process. */
const REMEMBERED = ['scale', 'operator', 'fixture', 'lot'];
const OF_THE_PROCESS = ['fixture', 'lot'];

/** Fixtures of a shop are few; a tablet need not remember more. */
const MOST_FIXTURES = 40;

export function rememberHabit(reading: Reading, of: Weighed): void {
  const { unit } = reading;
  const tare = typedWith(reading.tare, unit);
  const more = only(reading.more, (name) => REMEMBERED.includes(name));
  const fixture = reading.more['fixture']?.trim() ?? '';
  const before = Object.entries(lastHabit()?.tares ?? {}).slice(-MOST_FIXTURES);
  const tares = { ...Object.fromEntries(before), ...(fixture === '' ? {} : { [fixture]: tare }) };
  keep({ unit, tare, of, more, tares });
}

/** What of it goes for this part. */
export function habitFor(part: Weighed): Pick<Habit, 'unit' | 'tare' | 'more'> | undefined {
  const habit = lastHabit();
  if (habit === undefined || isAlike(habit.of, part)) return habit;
  return { unit: habit.unit, tare: '', more: only(habit.more, (name) => !OF_THE_PROCESS.includes(name)) };
}

/** The tare that goes with a fixture, where this tablet has weighed on it. */
export function tareOf(fixture: string): string | undefined {
  const tares = lastHabit()?.tares ?? {};
  return Object.hasOwn(tares, fixture.trim()) ? tares[fixture.trim()] : undefined;
}

/** Of which fixture, or else of which part, the tare in a reading was kept; undefined where it was typed in this one, or there is none. */
export function keptFrom({ tare, more }: Pick<Reading, 'tare' | 'more'>, part: Weighed): KeptFrom | undefined {
  if (tare === '') return undefined;
  const fixture = more['fixture']?.trim() ?? '';
  if (tareOf(fixture) === tare) return { fixture };
  const habit = lastHabit();
  return habit?.tare === tare && isAlike(habit.of, part) ? { number: habit.of.number } : undefined;
}

/** Another person stands at the scale: fixtures and scales stay what they are. */
export function forgetOperator(): void {
  const habit = lastHabit();
  if (habit !== undefined) keep({ ...habit, more: only(habit.more, (name) => name !== 'operator') });
}

function lastHabit(): Habit | undefined {
  const read = Habit.safeParse(JSON.parse(sessionStorage.getItem(KEY) ?? 'null'));
  return read.success ? read.data : undefined;
}

function keep(habit: Habit): void {
  sessionStorage.setItem(KEY, JSON.stringify(habit));
}

function isAlike(one: Weighed, other: Weighed): boolean {
  return one.aircraftId === other.aircraftId && one.process === other.process;
}

function only(form: Form, isWanted: (name: string) => boolean): Form {
  return Object.fromEntries(Object.entries(form).filter(([name]) => isWanted(name)));
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
