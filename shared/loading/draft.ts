/**
 * Loading limits while somebody types them: words only, each row with a key of its own, so that it can be moved and a station renamed without
 * losing what a case loads there. What it says is read by `read-draft.ts`. A bare number takes the unit that stands in its field (rule W2).
 */
import type { DisplayUnits } from '#shared/quantity/show.ts';
import { STATION_FIELDS, STATION_KINDS } from './from-words.ts';
import { fluidUnits, type LimitsWords, limitsInWords, type NestedWords } from './in-words.ts';
import { type LoadingLimits, type StationKind, stationKey } from './limits.ts';

export type DraftWords = Readonly<Record<string, string>>;
export type RowDraft = { readonly key: string; readonly words: DraftWords };
/** `arms`: rows of quantity and x, of a tank whose station varies; without rows it has one station. */
export type StationDraft = RowDraft & { readonly arms: readonly RowDraft[] };
/** `loads`: what is typed for a station, by its key. In `burn` a tank is named by its key. */
export type CaseDraft = RowDraft & { readonly loads: DraftWords; readonly burn: readonly RowDraft[] };
export type LimitsDraft = {
  readonly words: DraftWords;
  readonly stations: readonly StationDraft[];
  readonly corners: readonly RowDraft[];
  readonly cases: readonly CaseDraft[];
};

export type NewKey = () => string;

export function emptyDraft(newKey: NewKey): LimitsDraft {
  const corners = Array.from({ length: 4 }, () => ({ key: newKey(), words: {} }));
  return { words: { 'envelope by': 'station' }, stations: [], corners, cases: [] };
}

export function newStation(key: string, what: StationKind, words: DraftWords = {}): StationDraft {
  return { key, words: { what, ...words }, arms: [] };
}

export function newCase(key: string): CaseDraft {
  return { key, words: {}, loads: {}, burn: [] };
}

export function kindOf({ words }: RowDraft): StationKind {
  return STATION_KINDS.find((kind) => kind === words['what']) ?? 'seat';
}

export function draftOf(limits: LoadingLimits, units: DisplayUnits, newKey: NewKey): LimitsDraft {
  const { stations, envelope, cases, ...whole } = limitsInWords(limits, units);
  const drafts = stations.map((station) => ({
    key: newKey(),
    words: textsOf(station),
    arms: rowsOf(station['arms']).map((words) => ({ key: newKey(), words })),
  }));
  const keys = new Map(drafts.map(({ key, words }) => [stationKey(words['name'] ?? ''), key]));
  const keyOf = (name: string | undefined) => keys.get(stationKey(name ?? '')) ?? '';
  return {
    words: textsOf(whole),
    stations: drafts,
    corners: envelope.map((corner) => ({ key: newKey(), words: textsOf(corner) })),
    cases: cases.map((one) => ({
      key: newKey(),
      words: textsOf(one),
      loads: Object.fromEntries(rowsOf(one['loads']).map(({ station, load }) => [keyOf(station), load ?? ''])),
      burn: rowsOf(one['burn']).map(({ tank, quantity }) => ({
        key: newKey(),
        words: { tank: keyOf(tank), quantity: quantity ?? '' },
      })),
    })),
  };
}

/** The limits as they are stated at the door, and where each sent load stands in the draft. */
export function sentOf(draft: LimitsDraft, units: DisplayUnits): LimitsWords {
  const unitOf = unitsFor(draft, units);
  const names = new Map(draft.stations.map(({ key, words }) => [key, (words['name'] ?? '').trim()]));
  return {
    ...filled(draft.words, unitOf),
    stations: draft.stations.map((station) => stationSent(station, unitOf)),
    envelope: filledCorners(draft).map(({ words }) => filled(words, unitOf)),
    cases: draft.cases.map((one) => ({
      ...filled(one.words, unitOf),
      loads: filledLoads(draft, one).map(({ key, load }) => ({
        station: names.get(key) ?? '',
        load: withUnit(load, unitOf(loadField(draft, key))),
      })),
      burn: one.burn.map(({ words }) => ({
        ...filled({ ...words, tank: names.get(words['tank'] ?? '') ?? '' }, unitOf),
      })),
    })),
  };
}

/** Rows that nothing is typed into are no corners. */
export function filledCorners({ corners }: LimitsDraft): readonly RowDraft[] {
  return corners.filter(({ words }) => Object.values(words).some((text) => text.trim() !== ''));
}

/** What a case loads, in the order of the stations; of a station without a name it is told there. */
export function filledLoads({ stations }: LimitsDraft, { loads }: CaseDraft) {
  return stations.flatMap(({ key, words }) => {
    const load = (loads[key] ?? '').trim();
    return load === '' || (words['name'] ?? '').trim() === '' ? [] : [{ key, load }];
  });
}

function stationSent(station: StationDraft, unitOf: UnitOf): NestedWords {
  const known = STATION_FIELDS[kindOf(station)];
  const words = Object.fromEntries(
    Object.entries(filled(station.words, unitOf)).filter(([field]) => known.includes(field)),
  );
  if (kindOf(station) !== 'tank' || station.arms.length === 0) return words;
  const { x: _, ...others } = words;
  return { ...others, arms: station.arms.map((row) => filled(row.words, unitOf)) };
}

type UnitOf = (field: string) => string | undefined;

/** `load mass` and `load volume` are the two things that a case may load. */
export function unitsFor({ words }: Pick<LimitsDraft, 'words'>, units: DisplayUnits): UnitOf {
  const { volume, density } = fluidUnits(units);
  const { mass, length } = units;
  const known: Readonly<Record<string, string>> = {
    ...{ 'maximum weight': mass, 'zero-fuel maximum': mass, 'landing maximum': mass },
    ...{ 'butt line left': length, 'butt line right': length, x: length, y: length, z: length },
    at: words['envelope by'] === 'per cent MAC' ? '% MAC' : length,
    mass,
    density,
    ...{ usable: volume, unusable: volume, quantity: volume },
    ...{ 'load mass': mass, 'load volume': volume, 'held mass': mass, 'held volume': volume },
  };
  return (field) => known[field];
}

/** Which unit a field of a station has; `least` and `most` go by what it is. */
export function unitOfStation(station: RowDraft, field: string, unitOf: UnitOf): string | undefined {
  if (field !== 'least' && field !== 'most') return unitOf(field);
  return unitOf(kindOf(station) === 'tank' ? 'held volume' : 'held mass');
}

export function loadField({ stations }: LimitsDraft, stationKeyOf: string): 'load mass' | 'load volume' {
  const station = stations.find(({ key }) => key === stationKeyOf);
  return station !== undefined && kindOf(station) === 'tank' ? 'load volume' : 'load mass';
}

/** One place up or down among its like. */
export function moved<Row extends { readonly key: string }>(
  rows: readonly Row[],
  key: string,
  by: -1 | 1,
): readonly Row[] {
  const at = rows.findIndex((row) => row.key === key);
  const row = rows[at];
  if (row === undefined || rows[at + by] === undefined) return rows;
  return rows.toSpliced(at, 1).toSpliced(at + by, 0, row);
}

/**
 * Rows that were copied from a table, into the corners from `key` on: the first two cells of each line. Cells are parted by tabs, semicolons, or,
 * where there are none, by two spaces or more. Undefined where it is no table: one cell goes into its field.
 */
export function pastedCorners(
  draft: LimitsDraft,
  from: { readonly key: string; readonly text: string },
  newKey: NewKey,
): LimitsDraft | undefined {
  const rows = from.text
    .split(/\r?\n/)
    .map((line) => (/[\t;]/.test(line) ? line.split(/[\t;]/) : line.trim().split(/\s{2,}/)))
    .map((cells) => cells.map((cell) => cell.trim()))
    .filter((cells) => cells.some((cell) => cell !== ''));
  if (rows.length === 0 || (rows.length === 1 && (rows[0]?.length ?? 0) < 2)) return undefined;
  const at = Math.max(
    0,
    draft.corners.findIndex(({ key }) => key === from.key),
  );
  const pasted = rows
    .filter(([mass = '', station = '']) => /\d/.test(mass) || /\d/.test(station))
    .map(([mass = '', station = ''], row) => ({
      key: draft.corners[at + row]?.key ?? newKey(),
      words: { mass, at: station },
    }));
  return { ...draft, corners: draft.corners.toSpliced(at, pasted.length, ...pasted) };
}

function textsOf(words: Readonly<Record<string, unknown>>): DraftWords {
  return Object.fromEntries(
    Object.entries(words).flatMap(([field, text]) => (typeof text === 'string' ? [[field, text]] : [])),
  );
}

function rowsOf(rows: NestedWords[string] | undefined): readonly DraftWords[] {
  return typeof rows === 'object' ? rows : [];
}

function filled(words: DraftWords, unitOf: UnitOf): DraftWords {
  const station = { key: '', words };
  return Object.fromEntries(
    Object.entries(words).flatMap(([field, text]) =>
      text.trim() === '' ? [] : [[field, withUnit(text, unitOfStation(station, field, unitOf))]],
    ),
  );
}

function withUnit(text: string, unit: string | undefined): string {
  return unit !== undefined && /^[\s\d.,'+\-−]*$/.test(text) ? `${text.trim()} ${unit}` : text.trim();
}
