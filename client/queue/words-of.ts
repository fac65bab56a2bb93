/** A queued weighing in words, as it was typed. */
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import type { Queued } from './queued.ts';

/** "5.1 kg − 0.8 kg, trimmed, piece 2". */
export function shownOf({ words }: Pick<Queued, 'words'>): string {
  const { gross, tare, condition, piece } = words;
  const figure = tare === undefined ? `${gross}` : `${gross} − ${tare}`;
  return [figure, condition, ...(piece === undefined ? [] : [say`piece ${String(piece)}`])]
    .join(', ')
    .replaceAll(' ', '\u00a0')
    .replaceAll(',\u00a0', ', ');
}

/** The day in the ledger, and the time on this device's clock. */
export function whenWords({ day, weighedAt }: Pick<Queued, 'day' | 'weighedAt'>): string {
  return `${dayWords(day)}, ${clockWords(weighedAt)}`;
}

/** A moment by this device's clock: "2026-02-03, 08:15". */
export function momentOf(at: string): string {
  const then = new Date(at);
  const [month, day] = [then.getMonth() + 1, then.getDate()].map((part) => String(part).padStart(2, '0'));
  return `${dayWords(`${then.getFullYear()}-${month}-${day}`)}, ${clockWords(at)}`;
}

export function clockWords(at: string): string {
  const then = new Date(at);
  return [then.getHours(), then.getMinutes()].map((part) => String(part).padStart(2, '0')).join(':');
}
