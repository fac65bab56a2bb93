/**
 * A walk through the words of a text file, straight over its bytes: a text of 200 MB is never made a string. Numbers come out as
 * `Number` would read them.
 */

const TAB = 9;
const NEW_LINE = 10;
const RETURN = 13;
const SPACE = 32;
const BACKSLASH = 92;
const ZERO = 48;
const NINE = 57;

/** Powers of ten that a double holds exactly. */
const TENS = Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));
const MOST_EXACT = Number.MAX_SAFE_INTEGER;

/** A decimal number, or one of the words that programs write where they had none. */
const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[ed][+-]?\d+)?$/i;
const NO_NUMBER = /^[+-]?(?:nan|inf|infinity|1\.#(?:ind|inf|qnan|snan))(?:\(.*\))?$/i;

export class TextCursor {
  at = 0;
  line = 1;
  private readonly bytes: Uint8Array;

  constructor(bytes: Uint8Array) {
    this.bytes = bytes;
    const marked = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
    if (marked) this.at = 3;
  }

  get ended(): boolean {
    return this.at >= this.bytes.length;
  }

  /** To the next word of this line. False where there is none. A backslash at its end carries a line on. */
  toWord(): boolean {
    const { bytes } = this;
    for (;;) {
      const byte = bytes[this.at];
      if (byte === SPACE || byte === TAB) this.at += 1;
      else if (byte === BACKSLASH && this.isLineEnd(this.at + 1)) {
        this.at += 1;
        this.nextLine();
      } else return byte !== undefined && byte !== NEW_LINE && byte !== RETURN;
    }
  }

  /** Over the rest of this line to the beginning of the next. */
  nextLine(): void {
    const { bytes } = this;
    while (this.at < bytes.length && !this.isLineEnd(this.at)) this.at += 1;
    if (bytes[this.at] === RETURN && bytes[this.at + 1] === NEW_LINE) this.at += 1;
    this.at += 1;
    this.line += 1;
  }

  /** The word that begins here, in lower case, or the first `most` characters of it; the walk goes on behind it. */
  word(most = 64): string {
    const start = this.at;
    while (this.at < this.bytes.length && !this.isBlank(this.at)) this.at += 1;
    let word = '';
    for (let at = start; at < Math.min(this.at, start + most); at += 1)
      word += String.fromCharCode(this.bytes[at] as number);
    return word.toLowerCase();
  }

  /** The number that begins here, which may be NaN or infinite where the file says so; undefined where it is none. */
  number(): number | undefined {
    const { bytes } = this;
    const start = this.at;
    let at = start;
    const negative = bytes[at] === 45;
    if (negative || bytes[at] === 43) at += 1;
    let digits = 0;
    let mantissa = 0;
    let power = 0;
    let pointed = false;
    for (; ; at += 1) {
      const byte = bytes[at] as number;
      if (byte >= ZERO && byte <= NINE) {
        mantissa = 10 * mantissa + (byte - ZERO);
        digits += 1;
        if (pointed) power -= 1;
      } else if (byte === 46 && !pointed) pointed = true;
      else break;
    }
    if (bytes[at] === 101 || bytes[at] === 69) {
      const sign = bytes[at + 1] === 45 ? -1 : 1;
      at += bytes[at + 1] === 45 || bytes[at + 1] === 43 ? 2 : 1;
      const first = at;
      let exponent = 0;
      for (; (bytes[at] as number) >= ZERO && (bytes[at] as number) <= NINE; at += 1)
        exponent = 10 * exponent + ((bytes[at] as number) - ZERO);
      if (at === first) digits = 0;
      power += sign * exponent;
    }
    // One rounding of exact numbers rounds as the whole would (Clinger, 1990); everything else goes the slow way.
    const exact = digits > 0 && mantissa <= MOST_EXACT && power >= -22 && power <= 22;
    if (!exact || !this.isBlank(at)) return this.slowNumber();
    this.at = at;
    const size = power < 0 ? mantissa / (TENS[-power] as number) : mantissa * (TENS[power] as number);
    return negative ? -size : size;
  }

  /** The whole number that begins here and how it ends: `7/1/3` is 7. Undefined where it is none. */
  index(): number | undefined {
    const { bytes } = this;
    const negative = bytes[this.at] === 45;
    if (negative || bytes[this.at] === 43) this.at += 1;
    const first = this.at;
    let index = 0;
    for (; (bytes[this.at] as number) >= ZERO && (bytes[this.at] as number) <= NINE; this.at += 1)
      index = 10 * index + ((bytes[this.at] as number) - ZERO);
    if (this.at === first) return undefined;
    for (; !this.isBlank(this.at); this.at += 1) {
      const byte = bytes[this.at] as number;
      // Texture and normal: digits, slashes and minus signs.
      if (!((byte >= ZERO && byte <= NINE) || byte === 47 || byte === 45)) return undefined;
    }
    return negative ? -index : index;
  }

  /** The line that `at` is in, as it can be shown. */
  shown(): string {
    let start = this.at;
    while (start > 0 && !this.isLineEnd(start - 1)) start -= 1;
    let text = '';
    for (let at = start; at < this.bytes.length && at < start + 60 && !this.isLineEnd(at); at += 1) {
      const byte = this.bytes[at] as number;
      text += byte < SPACE || byte > 126 ? ' ' : String.fromCharCode(byte);
    }
    return text.trim();
  }

  private slowNumber(): number | undefined {
    const word = this.word();
    if (NUMBER.test(word)) return Number(word.replace('d', 'e'));
    return NO_NUMBER.test(word) ? Number.NaN : undefined;
  }

  private isLineEnd(at: number): boolean {
    const byte = this.bytes[at];
    return byte === NEW_LINE || byte === RETURN;
  }

  private isBlank(at: number): boolean {
    const byte = this.bytes[at];
    return byte === undefined || byte === SPACE || byte === TAB || byte === NEW_LINE || byte === RETURN;
  }
}
