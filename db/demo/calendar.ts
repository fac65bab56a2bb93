/**
 * The days of the story. They are counted in working days from its first Monday, and laid so that the last Friday lies three to
 * nine days before today: another today moves every day by whole weeks, and a Tuesday stays a Tuesday.
 */

/** Eighteen months. */
export const WEEK_COUNT = 78;

/** A working day: 0 is the Monday of week 0, 5 the Monday of week 1, -5 the Monday before the story. */
export type WorkingDay = number;

export function workingDay(week: number, weekday: number): WorkingDay {
  return week * 5 + weekday;
}

export const LAST_DAY: WorkingDay = workingDay(WEEK_COUNT - 1, 4);

const DAY_MS = 86_400_000;
const FRIDAY = 5;
const LEAST_DAYS_AGO = 3;

/** The date of each working day, YYYY-MM-DD, for a story that ends shortly before `today`. */
export function calendarBefore(today: string): (day: WorkingDay) => string {
  const latestMs = Date.parse(`${today}T00:00:00Z`) - LEAST_DAYS_AGO * DAY_MS;
  const daysPastFriday = (new Date(latestMs).getUTCDay() - FRIDAY + 7) % 7;
  const lastFridayMs = latestMs - daysPastFriday * DAY_MS;
  const firstMondayMs = lastFridayMs - ((WEEK_COUNT - 1) * 7 + 4) * DAY_MS;
  return (day) => {
    const week = Math.floor(day / 5);
    const daysOn = week * 7 + (day - week * 5);
    return new Date(firstMondayMs + daysOn * DAY_MS).toISOString().slice(0, 10);
  };
}
