/** Who and when, for a command that records. */
import { FieldReader } from '#shared/words/field-reader.ts';
import { Refused } from './refused.ts';
import { type Surroundings, shopDay } from './surroundings.ts';

/** Today, and the day that is meant where an entry names none. */
export function dayOf(date: string | undefined, surroundings: Surroundings): { today: string; day: string } {
  const today = shopDay(surroundings.now());
  const reader = new FieldReader({ date });
  const day = reader.day('date') ?? today;
  if (day > today) reader.problem('date', { code: 'day-in-future', day, today });
  if (reader.problems.length > 0) throw refusedOption(reader);
  return { today, day };
}

/** The initials given, or the name under which the process runs. */
export function personOf(by: string | undefined, surroundings: Surroundings): string {
  const reader = new FieldReader({ by });
  const person = reader.text('by', 60) ?? surroundings.user();
  if (reader.problems.length > 0) throw refusedOption(reader);
  return person;
}

/** The problems of options, each under the option's own name. */
export function refusedOption(reader: FieldReader): Refused {
  return new Refused(
    reader.problems.map(({ field, refusal }) => ({ pointer: `--${field.replaceAll(' ', '-')}`, refusal })),
  );
}
