/**
 * Makes lines of what arrives from a scale in arbitrary pieces (rule W13): CR, LF or both end a line, STX begins one and ETX ends it.
 * Common practice of serial lines, no source.
 *
 * A piece of a line is never taken for a line: what was under way when one began to listen, what is longer than any line, and what a new
 * STX cuts short are dropped. Knows no clock: the caller says when nothing came for a while.
 */

const STX = '\u0002';
const ETX = '\u0003';
/** Any sign without a shape but the tabulator: a line goes no further. */
export const LINE_ENDS = /[^\P{Cc}\t]/u;
/** No line of a scale is longer. */
export const MOST_CHARACTERS = 120;

export type Frames = {
  /** What has come of the line that is under way. */
  readonly rest: string;
  /** `joined`: listening began amid a line, whose end is waited for. `framed`: begun by STX. `after`: behind ETX, where a check sum may stand. */
  readonly state: 'joined' | 'plain' | 'framed' | 'after';
  /** Characters since a line last ended, kept or dropped. */
  readonly sinceEnd: number;
};

/** One has just begun to listen: what comes first may be the end of a line. */
export const JOINED: Frames = { rest: '', state: 'joined', sinceEnd: 0 };

/** Nothing has come for a while, and nothing is under way: what comes next begins a line. */
export function afterSilence(frames: Frames): Frames {
  return frames.sinceEnd === 0 ? { rest: '', state: 'plain', sinceEnd: 0 } : frames;
}

/** The lines that another piece completes, without their ends, blank ones left out; and what is under way then. */
export function withChunk(
  frames: Frames,
  chunk: string,
): { readonly frames: Frames; readonly lines: readonly string[] } {
  let { rest, state, sinceEnd } = frames;
  const lines: string[] = [];
  const end = (next: Frames['state']) => {
    if (state !== 'joined' && state !== 'after' && rest.trim() !== '') lines.push(rest);
    rest = '';
    state = next;
    sinceEnd = 0;
  };
  for (const letter of chunk) {
    if (letter === STX) {
      rest = '';
      state = 'framed';
      sinceEnd = 0;
    } else if (letter === '\r' || letter === '\n') end('plain');
    else if (letter === ETX) end(state === 'framed' ? 'after' : 'plain');
    else {
      sinceEnd += 1;
      if (state === 'plain' || state === 'framed') rest += letter;
      if (rest.length > MOST_CHARACTERS) {
        rest = '';
        state = 'joined';
      }
    }
  }
  return { frames: { rest, state, sinceEnd }, lines };
}

/** The lines of a text that is there as a whole, as one that was pasted: its last line needs no end. */
export function framesIn(text: string): readonly string[] {
  const { lines, frames } = withChunk({ rest: '', state: 'plain', sinceEnd: 0 }, text);
  return frames.rest.trim() === '' ? lines : [...lines, frames.rest];
}

/** Bytes as characters, one each: a line that comes with the wrong speed or parity is not read, and not hidden either. */
export function lettersOf(bytes: Uint8Array): string {
  return Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
}
