/**
 * Reads one line as balances and industrial indicators send it (rule W13): a number, its unit, and marks of whether the scale was at rest and
 * whether the number is gross, net or tare: `ST,GS,+  12.345kg`, `N     12.34 g`, `+0012.34 g`.
 *
 * The shapes and marks are common practice of many kinds of scales, no source. Nothing is guessed: a word that is not known refuses the line, as
 * does a letter that could be a unit or a mark; a line without a unit says so, and a person states it. The number is one that stands in the line.
 */

import { type MassUnit, massUnitOf } from '#shared/quantity/units.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { framesIn, LINE_ENDS, MOST_CHARACTERS } from './scale-frames.ts';
import type { ScaleLineRefusal } from './scale-line-refusal.ts';

export type ScaleReading = {
  /** In `unit`, or in whatever the person says where the line gives none. May be below zero. */
  readonly value: number;
  /** The same as its digits stood, without leading zeros, with a point: their number tells the resolution. */
  readonly digits: string;
  readonly unit: MassUnit | undefined;
  /** Undefined: not told. */
  readonly isStable: boolean | undefined;
  readonly load: 'gross' | 'net' | 'tare' | undefined;
};

/** How this scale writes numbers, where somebody has said so. */
export type LineReading = { readonly decimalComma?: boolean | undefined };

/** No scale of this trade resolves more; a longer row of digits is several fields without a gap. */
const MOST_DIGITS = 9;

/** What words say beside the figure; common practice, no source. */
const OVER = new Set(['OL', 'OVER', 'OVERLOAD', 'OVERRANGE']);
const UNDER = new Set(['UL', 'UNDER', 'UNDERLOAD', 'UNDERRANGE']);
const FAULT = new Set(['ERR', 'ERROR', 'FAULT', 'FAIL', 'FAILED', 'CAL', 'BATT', 'BATTERY', 'LOBAT', 'BUSY', 'WAIT']);
const STABLE = new Set(['ST', 'S', 'STABLE']);
const UNSTABLE = new Set(['US', 'UNSTABLE', 'D', 'DYNAMIC', 'M', 'MO', 'MOTION', '?']);
const LOAD: ReadonlyMap<string, 'gross' | 'net' | 'tare'> = new Map([
  ...['G', 'GS', 'GR', 'GROSS'].map((word) => [word, 'gross'] as const),
  ...['N', 'NT', 'NET', 'NETT'].map((word) => [word, 'net'] as const),
  ...['T', 'TR', 'PT', 'TARE'].map((word) => [word, 'tare'] as const),
]);
const NEUTRAL = new Set(['WT', 'WEIGHT', 'Z']);
/** Marks that are units as well, of mass or force: gram, newton, tonne, stone. */
const ALSO_UNIT = new Set(['G', 'N', 'T', 'ST']);

/** The reading of one line without its ends, or what is wrong with it. */
export function readScaleLine(line: string, reading: LineReading = {}): Result<ScaleReading, ScaleLineRefusal> {
  if (line.length > MOST_CHARACTERS) return refuse({ code: 'scale-line-too-long', most: MOST_CHARACTERS });
  const text = line
    .replace(/[\p{Cc}\p{Zs}]/gu, ' ')
    .replaceAll('−', '-')
    .trim();
  const tokens = tokensOf(text);
  // `g` behind a number is a unit, and no mark for gross.
  const said = new Set(tokens.flatMap(({ word, isUnit }) => (isUnit === true ? [] : word.toUpperCase())));
  const says = (words: ReadonlySet<string>) => [...said].some((word) => words.has(word));
  if (says(FAULT)) return refuse({ code: 'scale-error', text });
  if (says(OVER)) return refuse({ code: 'scale-over-range' });
  if (says(UNDER)) return refuse({ code: 'scale-under-range' });
  const numbers = tokens.filter(({ kind }) => kind === 'number');
  const [number] = numbers;
  if (number === undefined || said.has('--')) return refuse({ code: 'scale-without-value', text });
  if (numbers.length > 1) return refuse({ code: 'scale-two-numbers', text });
  const after = tokens[tokens.indexOf(number) + 1];
  const unit = unitOf(tokens, number, text);
  if (!unit.ok) return unit;
  for (const token of tokens) {
    if (token.kind !== 'word' || token.isUnit === true) continue;
    const word = token.word.toUpperCase();
    if (STABLE.has(word) || UNSTABLE.has(word) || LOAD.has(word) || NEUTRAL.has(word)) continue;
    // What stands behind the number stands where its unit would.
    if (token === after) return refuse({ code: 'scale-unit-unknown', text, unit: token.word });
    return refuse({ code: 'scale-word-unknown', text, word: token.word });
  }
  const loads = new Set([...said].flatMap((word) => LOAD.get(word) ?? []));
  if (loads.size > 1) return refuse({ code: 'scale-marks-disagree', text });
  const digits = digitsOf(number.word, text, reading.decimalComma === true);
  if (!digits.ok) return digits;
  return accept({
    // Not minus nothing.
    value: Number(digits.value) || 0,
    digits: digits.value,
    unit: unit.value,
    // A line that says both is not at rest.
    isStable: says(UNSTABLE) ? false : says(STABLE) ? true : undefined,
    load: [...loads][0],
  });
}

/** A text that was typed or pasted, with the line ends and frame marks it may have. Several lines count as one where they say the same. */
export function readScaleText(text: string, reading: LineReading = {}): Result<ScaleReading, ScaleLineRefusal> {
  if (text.split(LINE_ENDS).some((line) => line.length > MOST_CHARACTERS))
    return refuse({ code: 'scale-line-too-long', most: MOST_CHARACTERS });
  const lines = framesIn(text);
  const reads = lines.map((line) => readScaleLine(line, reading));
  const [first] = reads;
  if (first === undefined) return refuse({ code: 'scale-without-value', text });
  const different = new Set(reads.map((read) => JSON.stringify(read)));
  return different.size === 1 ? first : refuse({ code: 'scale-lines-differ', count: lines.length });
}

type Token = { readonly kind: 'number' | 'word'; readonly word: string; readonly isUnit?: boolean };

/** Digits belong to a word before them that leaves no gap: `E1` is no reading. A row of dashes or the like is `--`. */
const TOKEN =
  /(?<dashes>[-_^*]{2,})|(?<number>(?:[+-] *)?(?:\d[\d.,]*|\.\d[\d.,]*))|(?<word>\p{L}[\p{L}\p{M}\p{N}]*)|(?<named>(?<=\p{L} *)=)|(?<parting>[,;: ])|(?<sign>.)/gsu;

function tokensOf(text: string): readonly Token[] {
  const tokens: Token[] = [];
  for (const { groups = {} } of text.matchAll(TOKEN)) {
    const { dashes, number, word, sign } = groups;
    if (dashes !== undefined) tokens.push({ kind: 'word', word: '--' });
    else if (number !== undefined) tokens.push({ kind: 'number', word: number.replaceAll(' ', '') });
    else if (word !== undefined) tokens.push(wordToken(word));
    else if (sign !== undefined) tokens.push({ kind: 'word', word: sign });
  }
  return tokens;
}

/** `Err3` is an error. */
function wordToken(word: string): Token {
  const letters = word.replace(/\p{N}+$/u, '');
  if (FAULT.has(letters.toUpperCase())) return { kind: 'word', word: letters };
  return { kind: 'word', word, isUnit: word !== 'G' && massUnitOf(word) !== undefined };
}

/** The unit that stands in the line, undefined where none does. */
function unitOf(tokens: readonly Token[], number: Token, text: string): Result<MassUnit | undefined, ScaleLineRefusal> {
  const at = tokens.indexOf(number);
  const after = tokens[at + 1];
  const before = tokens.slice(0, at);
  const units = new Set(tokens.flatMap(({ word, isUnit }) => (isUnit === true ? (massUnitOf(word) ?? []) : [])));
  if (units.size > 1) return refuse({ code: 'scale-two-units', text });
  const [unit] = units;
  // `g` before the number may be gross in small letters.
  const small = before.find(({ word }) => word === 'g');
  if (small !== undefined) return refuse({ code: 'scale-unit-unclear', text, word: 'g' });
  if (unit === undefined)
    return after !== undefined && ALSO_UNIT.has(after.word.toUpperCase())
      ? refuse({ code: 'scale-unit-unclear', text, word: after.word })
      : accept(undefined);
  const isBefore = before.some(({ isUnit }) => isUnit === true);
  // `m g` is no gram: a unit behind the number stands right behind it.
  if (!isBefore && after?.isUnit !== true) return refuse({ code: 'scale-unit-unclear', text, word: after?.word ?? '' });
  const last = tokens.findLastIndex(({ isUnit }) => isUnit === true);
  const next = tokens[last + 1];
  // `oz t` is the troy ounce.
  if (next !== undefined && /^t/i.test(next.word) && (unit === 'oz' || unit === 'lb'))
    return refuse({ code: 'scale-unit-unknown', text, unit: `${tokens[last]?.word} ${next.word}` });
  return accept(unit);
}

/** `+0012,34` as `12.34`. A comma is the decimal sign where that is said, or where it can be nothing else. */
function digitsOf(number: string, text: string, decimalComma: boolean): Result<string, ScaleLineRefusal> {
  const sign = number.startsWith('-') ? '-' : '';
  // Behind the number a comma parts it from its unit.
  const plain = number.replace(/^[+-]/, '').replace(/,+$/, '');
  if (!/^\d*(?:[.,]\d*)?$/.test(plain) || plain.replace(/\D/g, '').length > MOST_DIGITS)
    return refuse({ code: 'scale-number-unreadable', text: number });
  const partsFields = text.replace(plain, '').includes(',');
  if (plain.includes(',') && !decimalComma && (partsFields || /^[1-9]\d{0,2},\d{3}$/.test(plain)))
    return refuse({ code: 'scale-comma-unclear', text: number });
  const [whole = '', fraction = ''] = plain.split(/[.,]/);
  const digits = `${whole.replace(/^0+(?=\d)/, '') || '0'}${fraction === '' ? '' : `.${fraction}`}`;
  return accept(/[1-9]/.test(digits) ? sign + digits : digits);
}
