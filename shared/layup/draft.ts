/**
 * A lay-up schedule while somebody types it: words only, each region and line with a key of its own so that it can be moved. What it says so far is
 * read by `read-draft.ts`. A bare number takes the unit that stands in its field (rule W2). Nothing is changed in place.
 */
import type { LengthUnit } from '#shared/quantity/units.ts';
import { layUpInWords } from './in-words.ts';
import { lineFieldsOf } from './line-words.ts';
import type { MaterialWords } from './material-words.ts';
import type { LayUp, LineKind } from './schedule.ts';

export type DraftWords = Readonly<Record<string, string>>;
export type LineDraft = { readonly key: string; readonly words: DraftWords };
export type RegionDraft = { readonly key: string; readonly words: DraftWords; readonly lines: readonly LineDraft[] };
export type ScheduleDraft = {
  /** resin, fraction, by (mass or volume), fraction uncertainty, band low, band high. */
  readonly words: DraftWords;
  readonly regions: readonly RegionDraft[];
  /** Materials with the figures that the schedule was computed from; others are taken from the list. */
  readonly copied: readonly MaterialWords[];
};

/** The words of a line hold `covers` instead of `coverage` and `area`: a share of the region, or an area of its own. */
export const COVERS = 'covers';

export type NewKey = () => string;

export function newLine(key: string, is: LineKind): LineDraft {
  return { key, words: { is } };
}

export function newRegion(key: string, name: string): RegionDraft {
  return { key, words: { name }, lines: [] };
}

export function emptyDraft(newKey: NewKey, name: string): ScheduleDraft {
  return { words: { by: 'mass' }, regions: [newRegion(newKey(), name)], copied: [] };
}

export function draftOf(layUp: LayUp, newKey: NewKey): ScheduleDraft {
  const { materials, regions, ...top } = layUpInWords(layUp);
  const { 'fibre by mass': byMass, 'fibre by volume': byVolume, ...words } = textsOf(top);
  return {
    words: { ...words, by: byVolume === undefined ? 'mass' : 'volume', fraction: byMass ?? byVolume ?? '' },
    copied: materials,
    regions: regions.map(({ lines, ...region }) => ({
      key: newKey(),
      words: textsOf(region),
      lines: lines.map((line) => ({ key: newKey(), words: withCovers(line) })),
    })),
  };
}

function textsOf(words: Readonly<Record<string, unknown>>): DraftWords {
  return Object.fromEntries(
    Object.entries(words).flatMap(([field, text]) => (typeof text === 'string' ? [[field, text]] : [])),
  );
}

function withCovers({ coverage, area, ...line }: DraftWords): DraftWords {
  const covers = area ?? coverage;
  return covers === undefined ? line : { ...line, [COVERS]: covers };
}

/** The schedule as it is stated at the door. */
export type SentSchedule = DraftWords | { readonly [field: string]: unknown };

export function sentOf({ words, regions, copied }: ScheduleDraft, lengthUnit: LengthUnit): SentSchedule {
  const unitOf = unitsFor(lengthUnit);
  const { by, fraction, ...top } = words;
  const named = { ...top, [by === 'volume' ? 'fibre by volume' : 'fibre by mass']: fraction ?? '' };
  return {
    ...filled(named, unitOf),
    materials: copied,
    regions: regions.map((region) => ({
      ...filled(region.words, unitOf),
      lines: region.lines.map((line) => lineSent(line.words, unitOf)),
    })),
  };
}

function lineSent({ [COVERS]: covers, ...words }: DraftWords, unitOf: UnitOf): DraftWords {
  const known = lineFieldsOf(words);
  const cover: DraftWords =
    covers === undefined || covers.trim() === '' ? {} : { [coversField(covers)]: withUnit(covers, unitOf(COVERS)) };
  return Object.fromEntries(
    Object.entries({ ...filled(words, unitOf), ...cover }).filter(([field]) => known.includes(field)),
  );
}

/** What `covers` says: a share where it has no unit or that of one. */
export function coversField(covers: string): 'coverage' | 'area' {
  return isBare(covers) || covers.trim().endsWith('%') ? 'coverage' : 'area';
}

type UnitOf = (field: string) => string | undefined;

/** The unit that a bare number in a field has. */
export function unitsFor(lengthUnit: LengthUnit): UnitOf {
  const isInches = lengthUnit === 'in' || lengthUnit === 'ft';
  const small = isInches ? 'in' : 'mm';
  const units: Readonly<Record<string, string>> = {
    'fibre by mass': '%',
    'fibre by volume': '%',
    'fraction uncertainty': '%',
    'band low': '%',
    'band high': '%',
    area: isInches ? 'ft²' : 'm²',
    'area uncertainty': '%',
    perimeter: lengthUnit,
    [COVERS]: '%',
    length: lengthUnit,
    section: `${small}²`,
    'kerf length': lengthUnit,
    'kerf width': small,
    'kerf depth': small,
  };
  return (field) => units[field];
}

function filled(words: DraftWords, unitOf: UnitOf): DraftWords {
  return Object.fromEntries(
    Object.entries(words).flatMap(([field, text]) =>
      text.trim() === '' ? [] : [[field, withUnit(text, unitOf(field))]],
    ),
  );
}

function withUnit(text: string, unit: string | undefined): string {
  return unit !== undefined && isBare(text) ? `${text.trim()} ${unit}` : text.trim();
}

function isBare(text: string): boolean {
  return /^[\s\d.,'+\-−]*$/.test(text);
}

export type LinePlace = { readonly region: number; readonly line: number };

export function placeOf({ regions }: ScheduleDraft, lineKey: string): LinePlace | undefined {
  for (const [region, { lines }] of regions.entries()) {
    const line = lines.findIndex(({ key }) => key === lineKey);
    if (line >= 0) return { region, line };
  }
  return undefined;
}

/** The line taken out of where it stands and put where `to` says. */
export function withDraftLineMoved(draft: ScheduleDraft, lineKey: string, to: LinePlace): ScheduleDraft {
  const from = placeOf(draft, lineKey);
  const line = from === undefined ? undefined : draft.regions[from.region]?.lines[from.line];
  if (line === undefined || draft.regions[to.region] === undefined) return draft;
  const regions = draft.regions.map((region, at) => {
    const lines = region.lines.filter(({ key }) => key !== lineKey);
    return { ...region, lines: at === to.region ? lines.toSpliced(to.line, 0, line) : lines };
  });
  return { ...draft, regions };
}

/** One place up or down; from the end of a region into the next one. Undefined where there is no further. */
export function nextPlace({ regions }: ScheduleDraft, from: LinePlace, by: -1 | 1): LinePlace | undefined {
  const line = from.line + by;
  if (line >= 0 && line < (regions[from.region]?.lines.length ?? 0)) return { ...from, line };
  const region = from.region + by;
  const beside = regions[region];
  if (beside === undefined) return undefined;
  return { region, line: by === 1 ? 0 : beside.lines.length };
}
