/**
 * Loading limits as a person states them, in words with units (rule C1), into what is recorded: masses in kilograms, stations in metres, fluids
 * in litres. Everything typed stays beside its figure. What makes no sense as a whole is for `refusals.ts`.
 */
import { MOST_LENGTH_M, readMass, readVolume } from '#shared/quantity/typed.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { type Nested, readNested } from '#shared/words/nested.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import {
  type ArmRow,
  type BurnStep,
  type Envelope,
  type Load,
  type LoadingCase,
  type LoadingLimits,
  type LoadingStation,
  MOST_ARM_ROWS,
  MOST_CASES,
  MOST_ENVELOPE_POINTS,
  MOST_STATIONS,
  type StationKind,
  stationKey,
} from './limits.ts';

export const LIMIT_FIELDS = [
  'maximum weight',
  'zero-fuel maximum',
  'landing maximum',
  'envelope by',
  'butt line left',
  'butt line right',
] as const;
const PLACE_FIELDS = ['what', 'name', 'x', 'y', 'z'] as const;
export const STATION_FIELDS: Readonly<Record<StationKind, readonly string[]>> = {
  seat: [...PLACE_FIELDS, 'least', 'most', 'pilot'],
  baggage: [...PLACE_FIELDS, 'most'],
  tank: [...PLACE_FIELDS, 'fluid', 'density', 'usable', 'unusable', 'least'],
};
export const STATION_KINDS = Object.keys(STATION_FIELDS) as readonly StationKind[];
export const ARM_ROW_FIELDS: readonly string[] = ['quantity', 'x'];
export const CORNER_FIELDS: readonly string[] = ['mass', 'at'];
export const CASE_FIELDS: readonly string[] = ['name'];
export const LOAD_FIELDS: readonly string[] = ['station', 'load'];
export const BURN_FIELDS: readonly string[] = ['tank', 'quantity'];

const BY = ['station', 'per cent MAC'] as const;
/** Far beyond any chord; it turns a slip of the keyboard into a message. */
const MOST_PER_CENT = 1000;

/** The limits, or every problem found, each at its place in what was sent. */
export function limitsFromWords(sent: unknown): Result<LoadingLimits, readonly PathProblem[]> {
  const problems: PathProblem[] = [];
  const lists = ['stations', 'envelope', 'cases'];
  const all = readNested(sent, { fields: LIMIT_FIELDS, lists }, { path: [], problems });
  if (all === undefined) return refuse(problems);
  const stations = all
    .list('stations', MOST_STATIONS, { fields: stationFieldsOf, lists: ['arms'] })
    .flatMap((one) => stationFromWords(one) ?? []);
  const corners = all.list('envelope', MOST_ENVELOPE_POINTS, { fields: CORNER_FIELDS });
  const by = all.take((reader) => byFromWords(reader, corners));
  const points = corners.flatMap((one) => one.take((reader) => cornerFromWords(reader, by)) ?? []);
  const kinds = new Map(stations.map(({ name, what }) => [stationKey(name), what]));
  const cases = all
    .list('cases', MOST_CASES, { fields: CASE_FIELDS, lists: ['loads', 'burn'] })
    .flatMap((one) => caseFromWords(one, kinds) ?? []);
  const whole = all.take(wholeFromWords);
  if (problems.length > 0 || whole === undefined) return refuse(problems);
  return accept({ ...whole, stations, envelope: { by, points }, cases, typed: { ...all.reader.typed } });
}

function stationFieldsOf(words: Readonly<Record<string, string>>): readonly string[] {
  const what = STATION_KINDS.find((kind) => kind === words['what']?.trim().toLowerCase());
  return what === undefined ? [...new Set(Object.values(STATION_FIELDS).flat())] : STATION_FIELDS[what];
}

function wholeFromWords(
  reader: FieldReader,
): Omit<LoadingLimits, 'stations' | 'envelope' | 'cases' | 'typed'> | undefined {
  const before = reader.problems.length;
  reader.need('maximum weight');
  const maximumKg = reader.mass('maximum weight')?.si;
  const zeroFuelMaximumKg = reader.mass('zero-fuel maximum')?.si;
  const landingMaximumKg = reader.mass('landing maximum')?.si;
  const isLateral = reader.has('butt line left') || reader.has('butt line right');
  if (isLateral) for (const field of ['butt line left', 'butt line right']) reader.need(field);
  const left = reader.length('butt line left');
  const right = reader.length('butt line right');
  if (maximumKg === undefined || reader.problems.length > before) return undefined;
  return {
    maximumKg,
    ...(zeroFuelMaximumKg === undefined ? {} : { zeroFuelMaximumKg }),
    ...(landingMaximumKg === undefined ? {} : { landingMaximumKg }),
    ...(left === undefined || right === undefined ? {} : { lateral: { leftM: left.si, rightM: right.si } }),
  };
}

function stationFromWords(one: Nested): LoadingStation | undefined {
  const rows = one.list('arms', MOST_ARM_ROWS, { fields: ARM_ROW_FIELDS });
  const typedRows: Record<string, string> = {};
  const arms = rows.flatMap((row, at) => {
    const read = row.take(armRowFromWords);
    for (const [field, text] of Object.entries(row.reader.typed)) typedRows[`${field} ${at + 1}`] = text;
    return read ?? [];
  });
  return one.take((reader) => {
    const before = reader.problems.length;
    for (const field of ['what', 'name']) reader.need(field);
    const what = reader.choice('what', STATION_KINDS);
    const name = reader.text('name', 80);
    const y = reader.length('y');
    const z = reader.length('z');
    const placed = { ...(y === undefined ? {} : { yM: y.si }), ...(z === undefined ? {} : { zM: z.si }) };
    if (what === undefined) return undefined;
    if (what === 'tank') {
      const tank = tankFromWords(reader, rows.length > 0 ? arms : undefined);
      if (name === undefined || tank === undefined || reader.problems.length > before) return undefined;
      return { what, name, ...placed, ...tank, typed: { ...reader.typed, ...typedRows } };
    }
    reader.need('x');
    const xM = reader.length('x')?.si;
    const held = heldFromWords(reader, what);
    if (name === undefined || xM === undefined || held === undefined || reader.problems.length > before)
      return undefined;
    return { ...held, name, xM, ...placed, typed: { ...reader.typed } };
  });
}

/** Left empty, the least that sits in a seat is nothing. */
function heldFromWords(reader: FieldReader, what: 'seat' | 'baggage') {
  reader.need('most');
  const mostKg = reader.mass('most')?.si;
  if (what === 'baggage') return mostKg === undefined ? undefined : { what, mostKg };
  const leastKg = reader.has('least') ? reader.mass('least')?.si : 0;
  const isPilot = reader.choice('pilot', ['yes', 'no'] as const) === 'yes';
  if (mostKg === undefined || leastKg === undefined) return undefined;
  return { what, leastKg, mostKg, ...(isPilot ? { isPilot: true as const } : {}) };
}

function tankFromWords(reader: FieldReader, arms: readonly ArmRow[] | undefined) {
  for (const field of ['fluid', 'density', 'usable']) reader.need(field);
  const fluid = reader.text('fluid', 80);
  const density = reader.density('density');
  if (density?.si === 0)
    reader.problem('density', { code: 'out-of-range', text: density.typed, least: 'more than 0', most: '25 kg/L' });
  const usableL = litres(reader, 'usable');
  const unusableL = reader.has('unusable') ? litres(reader, 'unusable') : 0;
  const leastL = litres(reader, 'least');
  if (arms !== undefined && reader.has('x')) reader.problem('x', { code: 'tank-arm-twice' });
  if (arms === undefined) reader.need('x');
  const xM = reader.length('x')?.si;
  const arm = arms === undefined ? xM : [...arms];
  if (fluid === undefined || density === undefined || usableL === undefined || unusableL === undefined)
    return undefined;
  if (arm === undefined) return undefined;
  const densityKgPerL = tidy(density.si / 1000);
  return { fluid, densityKgPerL, usableL, unusableL, arm, ...(leastL === undefined ? {} : { leastL }) };
}

function armRowFromWords(reader: FieldReader): ArmRow | undefined {
  for (const field of ARM_ROW_FIELDS) reader.need(field);
  const quantityL = litres(reader, 'quantity');
  const xM = reader.length('x')?.si;
  return quantityL === undefined || xM === undefined ? undefined : { quantityL, xM };
}

/** As it is said, or as the first corner says it. */
function byFromWords(reader: FieldReader, corners: readonly Nested[]): Envelope['by'] {
  const said = reader.choice('envelope by', BY, { mac: 'per cent MAC', '% mac': 'per cent MAC' });
  const first = corners[0]?.reader.raw('at') ?? '';
  return said ?? (first.includes('%') ? 'per cent MAC' : 'station');
}

function cornerFromWords(reader: FieldReader, by: Envelope['by']): Envelope['points'][number] | undefined {
  for (const field of CORNER_FIELDS) reader.need(field);
  const massKg = reader.mass('mass')?.si;
  const at = by === 'station' ? reader.length('at')?.si : reader.chordPerCent('at', MOST_PER_CENT);
  if (massKg === undefined || at === undefined || Math.abs(at) > Math.max(MOST_PER_CENT, MOST_LENGTH_M))
    return undefined;
  return { massKg, at, typed: { ...reader.typed } };
}

function caseFromWords(one: Nested, kinds: ReadonlyMap<string, StationKind>): LoadingCase | undefined {
  const loads = one
    .list('loads', MOST_STATIONS, { fields: LOAD_FIELDS })
    .flatMap((load) => load.take((reader) => loadFromWords(reader, kinds)) ?? []);
  const burn = one
    .list('burn', MOST_STATIONS, { fields: BURN_FIELDS })
    .flatMap((step) => step.take(burnFromWords) ?? []);
  return one.take((reader) => {
    reader.need('name');
    const name = reader.text('name', 80);
    return name === undefined ? undefined : { name, loads, burn };
  });
}

/** What is in a tank is a volume; a mass given for one is told by what the station needs. */
function loadFromWords(reader: FieldReader, kinds: ReadonlyMap<string, StationKind>): Load | undefined {
  for (const field of LOAD_FIELDS) reader.need(field);
  const station = reader.text('station', 80);
  if (station === undefined || !reader.has('load')) return undefined;
  const isTank = kinds.get(stationKey(station)) === 'tank';
  // In the unit of the other kind it is kept all the same, so that it is told what the station needs.
  const text = reader.raw('load') ?? '';
  const isQuantity = isTank ? !readMass(text).ok : readVolume(text).ok;
  return isQuantity ? withQuantity(reader, station) : withMass(reader, station);
}

function withMass(reader: FieldReader, station: string): Load | undefined {
  const massKg = reader.mass('load')?.si;
  return massKg === undefined ? undefined : { station, massKg, typed: { ...reader.typed } };
}

function withQuantity(reader: FieldReader, station: string): Load | undefined {
  const quantityL = litres(reader, 'load');
  return quantityL === undefined ? undefined : { station, quantityL, typed: { ...reader.typed } };
}

function burnFromWords(reader: FieldReader): BurnStep | undefined {
  for (const field of BURN_FIELDS) reader.need(field);
  const tank = reader.text('tank', 80);
  const quantityL = litres(reader, 'quantity');
  return tank === undefined || quantityL === undefined ? undefined : { tank, quantityL, typed: { ...reader.typed } };
}

function litres(reader: FieldReader, field: string): number | undefined {
  const read = reader.volume(field);
  return read === undefined ? undefined : tidy(read.si * 1000);
}

/** Without the dust of binary fractions. */
function tidy(value: number): number {
  return Number(value.toPrecision(15));
}
