/**
 * Reads what a person wrote, field by field, from a row of a file or from a form, and gathers every problem instead of
 * stopping at the first. What was typed is kept under the field's name (rule L4). Fields are known by the door's own names;
 * who calls turns a name into a line and column, or into a JSON Pointer.
 */
import { plainText } from '#shared/ledger/plain-text.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import {
  type QuantityRefusal,
  readAngle,
  readArea,
  readArealWeight,
  readDensity,
  readLength,
  readMass,
  readNumber,
  readShare,
  readTemperature,
  readVolume,
  type Typed,
} from '#shared/quantity/typed.ts';
import {
  LENGTH_UNITS,
  type LengthUnit,
  MASS_UNITS,
  type MassUnit,
  type TemperatureUnit,
} from '#shared/quantity/units.ts';
import { accept, type Result, refuse } from '#shared/result.ts';

export type FieldProblem = { readonly field: string; readonly refusal: Refusal };

/** The unit that stands above each field, by field name, and how the file writes decimals. */
export type Manner = {
  readonly units?: Readonly<Record<string, MassUnit | LengthUnit | TemperatureUnit | '%' | undefined>>;
  readonly decimalComma?: boolean;
};

const MASS_OF: ReadonlySet<string> = new Set(MASS_UNITS);
const LENGTH_OF: ReadonlySet<string> = new Set(LENGTH_UNITS);

export class FieldReader {
  readonly problems: FieldProblem[] = [];
  readonly typed: Record<string, string> = {};
  readonly #words: Readonly<Record<string, string | undefined>>;
  readonly #manner: Manner;

  constructor(words: Readonly<Record<string, string | undefined>>, manner: Manner = {}) {
    this.#words = words;
    this.#manner = manner;
  }

  /** True where the field holds more than white space. */
  has(field: string): boolean {
    return this.raw(field) !== undefined;
  }

  /** True where the field is there, be it empty. */
  isSent(field: string): boolean {
    return this.#words[field] !== undefined;
  }

  raw(field: string): string | undefined {
    const text = this.#words[field]?.trim();
    return text === '' ? undefined : text;
  }

  problem(field: string, refusal: Refusal): void {
    this.problems.push({ field, refusal });
  }

  mass(field: string): Typed | undefined {
    return this.#quantity(field, (text) => this.readMassText(field, text));
  }

  /** One text as a mass, in the manner of the field. */
  readMassText(field: string, text: string): Result<Typed, QuantityRefusal> {
    const unit = this.#manner.units?.[field];
    const massUnit = unit !== undefined && MASS_OF.has(unit) ? (unit as MassUnit) : undefined;
    return readMass(text, { unit: massUnit, decimalComma: this.#manner.decimalComma });
  }

  length(field: string): Typed | undefined {
    const unit = this.#manner.units?.[field];
    const lengthUnit = unit !== undefined && LENGTH_OF.has(unit) ? (unit as LengthUnit) : undefined;
    return this.#quantity(field, (text) =>
      readLength(text, { unit: lengthUnit, decimalComma: this.#manner.decimalComma }),
    );
  }

  area(field: string): Typed | undefined {
    return this.#quantity(field, (text) => readArea(text, this.#decimals()));
  }

  /** A mass per area. */
  arealWeight(field: string): Typed | undefined {
    return this.#quantity(field, (text) => readArealWeight(text, this.#decimals()));
  }

  density(field: string): Typed | undefined {
    return this.#quantity(field, (text) => readDensity(text, this.#decimals()));
  }

  volume(field: string): Typed | undefined {
    return this.#quantity(field, (text) => readVolume(text, this.#decimals()));
  }

  angle(field: string): Typed | undefined {
    return this.#quantity(field, (text) => readAngle(text, this.#decimals()));
  }

  share(field: string): Typed | undefined {
    const unit = this.#manner.units?.[field];
    return this.#quantity(field, (text) =>
      readShare(text, { unit: unit === '%' ? '%' : undefined, decimalComma: this.#manner.decimalComma }),
    );
  }

  /** One text as a per cent, given back as a fraction. */
  shareText(field: string, text: string): number | undefined {
    return this.#quantity(field, () => readShare(`${text} %`, { decimalComma: this.#manner.decimalComma }))?.si;
  }

  /** A place along the chord: `18 % MAC`, or a bare number of per cent. May lie ahead of the leading edge. */
  chordPerCent(field: string, most: number): number | undefined {
    const text = this.raw(field);
    if (text === undefined) return undefined;
    const bare = text.replace(/\s*%?\s*(?:mac)?$/i, '');
    const read = readNumber(bare, this.#manner.decimalComma === true);
    if (!read.ok) this.problem(field, { ...read.refusal, text });
    else if (Math.abs(read.value.number) > most)
      this.problem(field, { code: 'out-of-range', text, least: `-${most} %`, most: `${most} %` });
    else {
      this.typed[field] = `${bare.trim()} % MAC`;
      return read.value.number;
    }
    return undefined;
  }

  temperatureC(field: string): number | undefined {
    const unit = this.#manner.units?.[field];
    const manner = {
      unit: unit === '°C' || unit === '°F' ? unit : undefined,
      decimalComma: this.#manner.decimalComma,
    } as const;
    return this.#quantity(field, (text) => readTemperature(text, manner))?.si;
  }

  /** A plain number above zero. */
  factor(field: string): number | undefined {
    const text = this.raw(field);
    if (text === undefined) return undefined;
    const read = readNumber(text.replace(/^k\s*=?\s*/i, ''), this.#manner.decimalComma === true);
    if (!read.ok) this.problem(field, read.refusal);
    else if (!(read.value.number > 0) || read.value.number > 100)
      this.problem(field, { code: 'out-of-range', text, least: 'more than 0', most: '100' });
    else {
      this.typed[field] = text;
      return read.value.number;
    }
    return undefined;
  }

  /** A mass, or a share (`5 %`) of another mass. */
  massOrShareOf(field: string, wholeKg: number | undefined): number | undefined {
    const text = this.raw(field);
    if (text === undefined) return undefined;
    if (!text.endsWith('%') && this.#manner.units?.[field] !== '%') return this.mass(field)?.si;
    const share = this.share(field);
    return share === undefined || wholeKg === undefined ? undefined : share.si * wholeKg;
  }

  /** A whole number of pieces, 1 to `most`. */
  count(field: string, most: number): number | undefined {
    const text = this.raw(field);
    if (text === undefined) return undefined;
    const read = readNumber(text, this.#manner.decimalComma === true);
    if (!read.ok) this.problem(field, read.refusal);
    else if (!Number.isInteger(read.value.number) || read.value.number < 1 || read.value.number > most)
      this.problem(field, { code: 'not-a-count', text, most });
    else return read.value.number;
    return undefined;
  }

  /** The number of an entry in the ledger. */
  entryNumber(field: string): number | undefined {
    const text = this.raw(field);
    if (text === undefined) return undefined;
    if (/^[1-9]\d{0,14}$/.test(text)) return Number(text);
    this.problem(field, { code: 'not-an-entry', text });
    return undefined;
  }

  text(field: string, most: number): string | undefined {
    const text = this.raw(field);
    if (text === undefined) return undefined;
    const read = plainText(most).safeParse(text);
    if (read.success) return read.data;
    this.problem(field, { code: 'text-refused', why: read.error.issues[0]?.message ?? 'cannot be kept' });
    return undefined;
  }

  /** One of a fixed list of words, in any case; other spellings may be named. */
  choice<Word extends string>(
    field: string,
    choices: readonly Word[],
    spellings: Readonly<Record<string, Word>> = {},
  ): Word | undefined {
    const text = this.raw(field);
    if (text === undefined) return undefined;
    const key = simple(text);
    const found =
      choices.find((choice) => simple(choice) === key) ?? (Object.hasOwn(spellings, key) ? spellings[key] : undefined);
    if (found === undefined) this.problem(field, { code: 'not-a-choice', text, choices });
    return found;
  }

  /** A day written as 2026-05-31, or in an order that reads only one way: no month is 31, and 03/04 is two different days. */
  day(field: string): string | undefined {
    const raw = this.raw(field);
    if (raw === undefined) return undefined;
    const text = onlyDay(raw) ?? raw;
    const parts =
      /^(\d{4})-(\d{2})-(\d{2})(?:[T ](?:[01]\d|2[0-3]):[0-5]\d(?::[0-5]\d(?:\.\d{1,9})?)?(?:Z|[+-]\d{2}:\d{2})?)?$/.exec(
        text,
      );
    if (parts !== null && isRealDay(Number(parts[1]), Number(parts[2]), Number(parts[3]))) return text.slice(0, 10);
    this.problem(field, { code: 'not-a-day', text });
    return undefined;
  }

  /** `3`, `1-4`, `1, 3`: piece numbers, ascending, each once. */
  pieceNumbers(field: string, most: number): readonly number[] | undefined {
    const text = this.raw(field);
    if (text === undefined) return undefined;
    const pieces = new Set<number>();
    for (const part of text.replace(/\s*[-–]\s*/g, '-').split(/[,;\s]+/)) {
      const range = /^(\d{1,5})(?:-(\d{1,5}))?$/.exec(part);
      const first = Number(range?.[1]);
      const last = Number(range?.[2] ?? range?.[1]);
      if (range === null || first < 1 || last < first || last > most) {
        this.problem(field, { code: 'not-piece-numbers', text, most });
        return undefined;
      }
      for (let piece = first; piece <= last; piece += 1) pieces.add(piece);
    }
    return [...pieces].sort((a, b) => a - b);
  }

  /** Asks for a field that must not be empty; true where it is there. */
  need(field: string): boolean {
    if (this.has(field)) return true;
    this.problem(field, { code: 'missing' });
    return false;
  }

  /** The answer, once all is read: the value if nothing was wrong, else every problem. */
  answer<Value>(value: Value | undefined): Result<Value, readonly FieldProblem[]> {
    if (this.problems.length > 0) return refuse(this.problems);
    if (value === undefined) throw new Error('a reader without problems has a value');
    return accept(value);
  }

  #decimals(): { readonly decimalComma: boolean | undefined } {
    return { decimalComma: this.#manner.decimalComma };
  }

  #quantity(field: string, read: (text: string) => Result<Typed, QuantityRefusal>): Typed | undefined {
    const text = this.raw(field);
    if (text === undefined) return undefined;
    const answer = read(text);
    if (!answer.ok) {
      this.problem(field, answer.refusal);
      return undefined;
    }
    this.typed[field] = answer.value.typed;
    return answer.value;
  }
}

/** `As-Released`, `as released` and `as_released` are one word. */
function simple(text: string): string {
  return text
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, ' ');
}

/** `31.5.2026`, `5/31/2026` and `5.5.2026` as 2026-05-31 and 2026-05-05. Undefined where both orders give a day, or neither. */
function onlyDay(text: string): string | undefined {
  const [, first, , second, year] = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4})$/.exec(text) ?? [];
  if (first === undefined || second === undefined || year === undefined) return undefined;
  const days = [
    [first, second],
    [second, first],
  ].flatMap(([day = '', month = '']) =>
    isRealDay(Number(year), Number(month), Number(day))
      ? [`${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`]
      : [],
  );
  const [only, other] = new Set(days);
  return other === undefined ? only : undefined;
}

function isRealDay(year: number, month: number, dayOfMonth: number): boolean {
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const lengths = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  return year >= 1900 && month >= 1 && dayOfMonth >= 1 && dayOfMonth <= (lengths[month - 1] ?? 0);
}
