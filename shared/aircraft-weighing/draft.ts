/**
 * A weighing of the aircraft while it is being made (rule A6): words only, flat, so that what two people type at once can be put together field
 * by field. A field of a row has the row's key in its name: `support k1 x`, `reading r1 k1 gross`. Keys sort in the order of the rows. A bare
 * number takes the unit that stands in its field (rule W2). Nothing is changed in place.
 */

import type { LengthUnit, MassUnit } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { CHECKS, type SupportKind, type WeighingCheck } from './weighing.ts';

export type WeighingDraft = Readonly<Record<string, string>>;
export type RowKind = 'support' | 'run' | 'correction';
export type Attitude = 'level' | 'tilted';

export const MOST_DRAFT_FIELDS = 1500;
export const MOST_DRAFT_TEXT = 2000;

export function fieldOf(kind: RowKind, key: string, field: string): string {
  return `${kind} ${key} ${field}`;
}

export function readingField(run: string, support: string, field: 'gross' | 'tare'): string {
  return `reading ${run} ${support} ${field}`;
}

export function checkField(check: WeighingCheck, field: 'so' | 'words'): string {
  return `check ${check.replaceAll(' ', '-')} ${field}`;
}

/** Keys of the rows of a kind, in order. */
export function rowsOf(draft: WeighingDraft, kind: RowKind): readonly string[] {
  const keys = Object.keys(draft).flatMap((name) => {
    const [first, key] = name.split(' ');
    return first === kind && key !== undefined ? [key] : [];
  });
  return [...new Set(keys)].sort();
}

export function runsOf(draft: WeighingDraft, attitude: Attitude): readonly string[] {
  return rowsOf(draft, 'run').filter((key) => (draft[fieldOf('run', key, 'attitude')] ?? 'level') === attitude);
}

/** The next key behind all others; `mark` sets those of two hands apart. */
export function nextKey(draft: WeighingDraft, kind: RowKind, mark: string): string {
  const last = Math.max(0, ...rowsOf(draft, kind).map((key) => Number.parseInt(key.slice(1, 5), 10) || 0));
  return `k${String(last + 1).padStart(4, '0')}${mark}`;
}

/** Without a row, and without what was read at a support or in a run that goes. */
export function withoutRow(draft: WeighingDraft, kind: RowKind, key: string): WeighingDraft {
  return Object.fromEntries(
    Object.entries(draft).filter(([name]) => {
      const [first, second, third] = name.split(' ');
      if (first === kind && second === key) return false;
      if (first !== 'reading') return true;
      return !((kind === 'run' && second === key) || (kind === 'support' && third === key));
    }),
  );
}

/** Supports as they usually are. Common practice; the stations are the aircraft's own and are measured. */
export const SUPPORT_SETS = {
  'nosewheel and two mains': [
    [say`Nose`, 'nosewheel'],
    [say`Left main`, 'main'],
    [say`Right main`, 'main'],
  ],
  'two mains and a tailwheel': [
    [say`Left main`, 'main'],
    [say`Right main`, 'main'],
    [say`Tail`, 'tailwheel'],
  ],
  'three jacks': [
    [say`Nose jack`, 'jack'],
    [say`Left jack`, 'jack'],
    [say`Right jack`, 'jack'],
  ],
} as const satisfies Readonly<Record<string, readonly (readonly [string, SupportKind])[]>>;
export type SupportSet = keyof typeof SUPPORT_SETS;

/** A draft begun with a set of supports and two runs. */
export function begunWith(set: SupportSet): WeighingDraft {
  const words: Record<string, string> = {};
  for (const [at, [name, is]] of SUPPORT_SETS[set].entries()) {
    const key = `k${String(at + 1).padStart(4, '0')}`;
    words[fieldOf('support', key, 'name')] = name;
    words[fieldOf('support', key, 'is')] = is;
  }
  for (const key of ['k0001', 'k0002']) words[fieldOf('run', key, 'attitude')] = 'level';
  return words;
}

export type DraftUnits = { readonly mass: MassUnit; readonly length: LengthUnit };

const WHOLE = [
  'reference',
  'reference station',
  'reference uncertainty',
  'angle',
  'angle uncertainty',
  'mass limit',
  'cg limit',
];
const SUPPORT = ['name', 'is', 'x', 'x uncertainty', 'y', 'y uncertainty', 'z', 'z uncertainty', 'scale', 'resolution'];
const ROW = [
  ...['way', 'name', 'fluid', 'volume', 'volume uncertainty', 'density', 'density uncertainty'],
  ...['mass', 'mass uncertainty', 'x', 'y', 'z', 'arm uncertainty'],
];

/** What is sent of a draft, and which field of the draft each of its places was. */
export type SentDraft = {
  readonly weighed: Readonly<Record<string, unknown>>;
  readonly fieldAt: (path: readonly string[]) => string | undefined;
};

export function sentOf(draft: WeighingDraft, units: DraftUnits): SentDraft {
  const unitOf = unitsFor(units);
  const places = new Map<string, string>();
  const text = (name: string, unit?: string) => withUnit(draft[name] ?? '', unit);
  const row = (kind: RowKind, key: string, fields: readonly string[], path: string) => {
    const words: Record<string, unknown> = {};
    for (const field of fields) {
      const name = fieldOf(kind, key, field);
      places.set(`${path}/${field}`, name);
      if (text(name) !== '') words[field] = text(name, unitOf(field));
    }
    return words;
  };
  const supports = rowsOf(draft, 'support');
  const nameOf = (key: string) => text(fieldOf('support', key, 'name'));
  const weighed: Record<string, unknown> = {};
  for (const field of WHOLE) {
    places.set(field, field);
    if (text(field) !== '') weighed[field] = text(field, unitOf(field));
  }
  weighed['supports'] = supports.map((key, at) => row('support', key, SUPPORT, `supports/${at}`));
  for (const attitude of ['level', 'tilted'] as const)
    weighed[attitude] = runsOf(draft, attitude).map((run, at) => {
      const setAside = fieldOf('run', run, 'set aside');
      for (const path of ['', '/set aside']) places.set(`${attitude}/${at}${path}`, setAside);
      places.set(`${attitude}/${at}/readings`, readingField(run, supports[0] ?? '', 'gross'));
      const readings = supports.map((support, supportAt) => {
        const reading: Record<string, string> = { support: nameOf(support) };
        for (const field of ['gross', 'tare'] as const) {
          const name = readingField(run, support, field);
          places.set(`${attitude}/${at}/readings/${supportAt}/${field}`, name);
          if (text(name) !== '') reading[field] = text(name, units.mass);
        }
        return reading;
      });
      return { readings, ...(draft[setAside] === undefined ? {} : { 'set aside': text(setAside) }) };
    });
  weighed['corrections'] = rowsOf(draft, 'correction').map((key, at) =>
    row('correction', key, ROW, `corrections/${at}`),
  );
  weighed['checklist'] = CHECKS.flatMap((check) => {
    const [so, words] = [text(checkField(check, 'so')), text(checkField(check, 'words'))];
    return so === '' ? [] : [{ check, so, ...(words === '' ? {} : { words }) }];
  });
  for (const [at, one] of CHECKS.filter((check) => text(checkField(check, 'so')) !== '').entries())
    places.set(`checklist/${at}/words`, checkField(one, 'words'));
  return { weighed, fieldAt: (path) => nearest(places, path) };
}

/** The field at a path, or where only a longer or shorter one is known the nearest of its row. */
function nearest(places: ReadonlyMap<string, string>, path: readonly string[]): string | undefined {
  for (let length = path.length; length > 0; length -= 1) {
    const found = places.get(path.slice(0, length).join('/'));
    if (found !== undefined) return found;
  }
  return undefined;
}

/** The unit that a bare number in a field has. */
export function unitsFor({ mass, length }: DraftUnits): (field: string) => string | undefined {
  const isPounds = mass === 'lb' || mass === 'oz';
  const units: Readonly<Record<string, string>> = {
    ...Object.fromEntries(
      ['x', 'y', 'z', 'reference station', 'reference uncertainty', 'cg limit'].map((one) => [one, length]),
    ),
    ...Object.fromEntries(['x', 'y', 'z', 'arm'].map((one) => [`${one} uncertainty`, length])),
    ...Object.fromEntries(
      ['gross', 'tare', 'mass', 'mass uncertainty', 'mass limit', 'resolution'].map((one) => [one, mass]),
    ),
    ...Object.fromEntries(['volume', 'volume uncertainty'].map((one) => [one, isPounds ? 'US gal' : 'L'])),
    ...Object.fromEntries(['density', 'density uncertainty'].map((one) => [one, isPounds ? 'lb/US gal' : 'kg/L'])),
    ...Object.fromEntries(['angle', 'angle uncertainty'].map((one) => [one, '°'])),
  };
  return (field) => units[field];
}

function withUnit(text: string, unit: string | undefined): string {
  const trimmed = text.trim();
  return unit !== undefined && trimmed !== '' && /^[\s\d.,'+\-−]*$/.test(trimmed) ? `${trimmed} ${unit}` : trimmed;
}

/** What was typed here and there since both saw `base`, put together. Where both typed in one field, theirs stands and it is told. */
export function merged(
  base: WeighingDraft,
  mine: WeighingDraft,
  theirs: WeighingDraft,
): {
  readonly draft: WeighingDraft;
  readonly lost: readonly { readonly field: string; readonly mine: string; readonly theirs: string }[];
} {
  const draft: Record<string, string> = {};
  const lost: { field: string; mine: string; theirs: string }[] = [];
  for (const field of new Set([...Object.keys(base), ...Object.keys(mine), ...Object.keys(theirs)])) {
    const [was, own, other] = [base[field], mine[field], theirs[field]];
    const isMine = own !== was && other === was;
    const value = isMine ? own : other;
    if (own !== was && other !== was && own !== other && (own ?? '') !== '')
      lost.push({ field, mine: own ?? '', theirs: other ?? '' });
    if (value !== undefined) draft[field] = value;
  }
  return { draft, lost };
}

/** The draft as it is kept: one spelling, so that the same is known for the same. */
export function draftText(draft: WeighingDraft): string {
  return JSON.stringify(Object.fromEntries(Object.entries(draft).sort(([a], [b]) => (a < b ? -1 : 1))));
}
