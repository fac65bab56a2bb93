/**
 * A figure in the words that say it again: what was typed, where that still reads as the same figure, else the figure in the unit of storage.
 */
import type { Result } from '#shared/result.ts';
import { type QuantityRefusal, readShare, type Typed } from './typed.ts';

type Read = (text: string) => Result<Typed, QuantityRefusal>;

export function inWords(
  typed: string | undefined,
  si: number | undefined,
  read: Read,
  unit: string,
): string | undefined {
  if (si === undefined) return undefined;
  const back = typed === undefined ? undefined : read(typed);
  return back?.ok === true && back.value.si === si ? typed : `${plain(si)} ${unit}`;
}

export function shareInWords(typed: string | undefined, fraction: number): string {
  const back = typed === undefined ? undefined : readShare(typed);
  return typed !== undefined && back?.ok === true && back.value.si === fraction ? typed : `${plain(fraction * 100)} %`;
}

/** Without the dust of binary fractions. */
export function plain(value: number): string {
  return String(Number(value.toPrecision(15)));
}
