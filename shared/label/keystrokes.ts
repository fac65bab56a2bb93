/**
 * A code among keystrokes (rule H2). A scanner that types on the keyboard's own line cannot be told from a keyboard but by what it types and how
 * fast. A number, and a line as a scale sends it, is never taken for a code; what a hand types is not as fast as a scanner.
 */
import { readScaleText } from '#shared/weighing/scale-line.ts';
import { readCode } from './code.ts';

export type Stroke = { readonly key: string; readonly atMs: number };

/** Faster than a hand that types several in a row, slower than scanners (common practice, no source). */
const MOST_BETWEEN_MS = 50;

/** A label of ours is known by its text, so that it may come over a slow line. */
export const MOST_PAUSE_MS = 500;

const LEAST_STROKES = 6;

/**
 * The code that was typed before the Enter at `endMs`, and at which stroke it began; undefined where a hand typed, or a scale. `isNumber` says
 * whether a text is the number of a part.
 */
export function codeIn(
  strokes: readonly Stroke[],
  endMs: number,
  isNumber: (text: string) => boolean,
): { readonly text: string; readonly from: number } | undefined {
  return ourCode(strokes, endMs) ?? fastCode(strokes, endMs, isNumber);
}

/** Beginnings of what `readCode` knows. */
const BEGINNING = /TAREBOOK\.|https?:\/\//gi;

function ourCode(
  strokes: readonly Stroke[],
  endMs: number,
): { readonly text: string; readonly from: number } | undefined {
  const since = tailOf(strokes, endMs, MOST_PAUSE_MS);
  const all = strokes.map(({ key }) => key).join('');
  const from = [...all.matchAll(BEGINNING)].map(({ index }) => index).findLast((at) => at >= since);
  if (from === undefined) return undefined;
  const text = all.slice(from);
  return readCode(text) === undefined ? undefined : { text, from };
}

function fastCode(
  strokes: readonly Stroke[],
  endMs: number,
  isNumber: (text: string) => boolean,
): { readonly text: string; readonly from: number } | undefined {
  const from = tailOf(strokes, endMs, MOST_BETWEEN_MS);
  if (strokes.length - from < LEAST_STROKES) return undefined;
  const text = strokes
    .slice(from)
    .map(({ key }) => key)
    .join('');
  if (readScaleText(text).ok) return undefined;
  return isNumber(text) || isOtherCode(text) ? { text, from } : undefined;
}

/** Where the strokes begin that follow each other within a pause, up to the end. */
function tailOf(strokes: readonly Stroke[], endMs: number, mostMs: number): number {
  let from = strokes.length;
  let nextMs = endMs;
  for (let at = strokes.length - 1; at >= 0; at -= 1) {
    const { atMs } = strokes[at] as Stroke;
    if (nextMs - atMs > mostMs) break;
    [from, nextMs] = [at, atMs];
  }
  return from;
}

/** A code of something else: a row of digits longer than any reading, or a word or address. What has a comma or a gap may be a scale's. */
function isOtherCode(text: string): boolean {
  return /^\d{10,}$/.test(text) || (/^[\x21-\x2b\x2d-\x7e]{8,}$/.test(text) && /[a-z]/i.test(text));
}
