/**
 * Days and moments as people read them: as the place writes them that the shop names, and as ISO 8601 where it names none. With the month in letters, or
 * in an order that its readers know: in `medium` of the Unicode locale data 5 June is no other day. Files for programs keep ISO 8601.
 */
import { isAsked, locale } from '#words';
import { say } from './say.ts';

const written = isAsked ? new Intl.DateTimeFormat(locale, { dateStyle: 'medium', timeZone: 'UTC' }) : undefined;
const months = isAsked
  ? new Intl.DateTimeFormat(locale, { year: 'numeric', month: 'short', timeZone: 'UTC' })
  : undefined;

/** The day of `2026-05-31` or of a moment that begins so (ISO 8601). What is no day stays as it is. */
export function dayWords(day: string): string;
export function dayWords(day: string | undefined): string | undefined;
export function dayWords(day: string | undefined): string | undefined {
  if (day === undefined) return undefined;
  const of = Date.parse(`${day.slice(0, 10)}T00:00:00Z`);
  if (Number.isNaN(of)) return day;
  return written === undefined ? day.slice(0, 10) : written.format(of);
}

/** The month of such a day: `2026-05`, or as the place writes it. */
export function monthWords(day: string): string {
  return months === undefined ? day.slice(0, 7) : months.format(Date.parse(`${day.slice(0, 10)}T00:00:00Z`));
}

/** `2026-06-30 12:00 UTC` of a moment in ISO 8601. */
export function momentWords(at: string): string {
  return say`${dayWords(at)} ${at.slice(11, 16)} UTC`;
}
