/**
 * An arm measured, as a person states it: a station, or what it follows from (rule W6): the loads on two supports, or the point at which the
 * part balanced on a bar.
 * Fields: how; x, y, z, arm uncertainty; balance point, balance uncertainty; first load, first station, second load, second station, bench zero, load uncertainty, station
 * uncertainty. Stations of supports are counted from the bench zero, whose own station in the aircraft is the datum unless it is given.
 */
import { ArmWay, type PartId, type StatementOf } from '#shared/ledger/entry.ts';
import type { Typed } from '#shared/quantity/typed.ts';
import { centreOnSupports } from '#shared/weighing/two-supports.ts';
import type { FieldReader } from './field-reader.ts';

const SUPPORT_FIELDS = ['first load', 'first station', 'second load', 'second station'] as const;
const OF_SUPPORTS = [...SUPPORT_FIELDS, 'load uncertainty', 'station uncertainty'] as const;
const OF_BAR = ['balance point', 'balance uncertainty'] as const;
export const ARM_FIELDS = ['how', 'x', 'y', 'z', 'arm uncertainty', ...OF_SUPPORTS, ...OF_BAR, 'bench zero'] as const;

export function armFromWords(reader: FieldReader, partId: PartId): StatementOf<'arm measured'> | undefined {
  const before = reader.problems.length;
  const x = reader.length('x');
  const y = reader.length('y');
  const z = reader.length('z');
  const armStd = notNegative(reader, 'arm uncertainty');
  const how = wayFromWords(reader);
  const follows = how === 'on two supports' ? supportsFromWords(reader) : undefined;
  const balanced = how === 'balanced on a bar' ? balanceFromWords(reader) : undefined;
  if (how === 'on two supports' || how === 'balanced on a bar') {
    for (const field of ['x', 'arm uncertainty'] as const)
      if (reader.has(field)) reader.problem(field, { code: 'arm-stated-twice' });
  } else {
    if (!reader.has('x') && !reader.has('y') && !reader.has('z')) reader.problem('x', { code: 'arm-missing' });
    if (how === 'by hand' && !reader.has('arm uncertainty'))
      reader.problem('arm uncertainty', { code: 'by-hand-without-uncertainty' });
  }
  if (reader.problems.length > before) return undefined;
  const xM = follows?.xM ?? balanced?.xM ?? x?.si;
  const armStdM = follows?.xStdM ?? balanced?.xStdM ?? armStd?.si;
  return {
    kind: 'arm measured',
    partId,
    ...(xM === undefined ? {} : { xM }),
    ...(y === undefined ? {} : { yM: y.si }),
    ...(z === undefined ? {} : { zM: z.si }),
    ...(armStdM === undefined ? {} : { armStdM }),
    ...(how === undefined ? {} : { how }),
    ...(follows === undefined ? {} : { supports: follows.supports }),
    ...(balanced === undefined ? {} : { balance: balanced.balance }),
    typed: { ...reader.typed },
  };
}

/** As it is said, or as the fields that are there say it; a way and the fields of another do not go together. */
function wayFromWords(reader: FieldReader): ArmWay | undefined {
  const said = reader.choice('how', ArmWay.options, {
    supports: 'on two supports',
    bar: 'balanced on a bar',
    hand: 'by hand',
  });
  const ofBar = OF_BAR.find((field) => reader.has(field));
  const ofSupports = OF_SUPPORTS.find((field) => reader.has(field));
  const isOnBench = reader.has('bench zero') && ofBar === undefined;
  const told =
    ofBar !== undefined ? 'balanced on a bar' : ofSupports !== undefined || isOnBench ? 'on two supports' : undefined;
  const how = said ?? told;
  const stray =
    how === 'on two supports'
      ? ofBar
      : how === 'balanced on a bar'
        ? ofSupports
        : (ofBar ?? ofSupports ?? (isOnBench ? 'bench zero' : undefined));
  if (stray !== undefined && how !== undefined) reader.problem(stray, { code: 'arm-ways-mixed', how });
  return how;
}

/** Where the part balanced, and how well that is known: nobody but the person at the bench can say it. */
function balanceFromWords(reader: FieldReader) {
  for (const field of OF_BAR) reader.need(field);
  const point = reader.length('balance point');
  const std = notNegative(reader, 'balance uncertainty');
  const benchZeroM = reader.length('bench zero')?.si ?? 0;
  if (point === undefined || std === undefined) return undefined;
  return { xM: benchZeroM + point.si, xStdM: std.si, balance: { pointM: point.si, benchZeroM } };
}

/** Without a stated uncertainty a load has that of its finest digit, d/sqrt(12) (rule U1), and a station none. */
function supportsFromWords(reader: FieldReader) {
  const before = reader.problems.length;
  for (const field of SUPPORT_FIELDS) reader.need(field);
  const firstLoad = reader.mass('first load');
  const first = reader.length('first station');
  const secondLoad = reader.mass('second load');
  const second = reader.length('second station');
  const benchZero = reader.length('bench zero');
  const loadStd = reader.mass('load uncertainty');
  const stationStd = notNegative(reader, 'station uncertainty');
  if (firstLoad === undefined || first === undefined || secondLoad === undefined || second === undefined)
    return undefined;
  if (first.si === second.si) reader.problem('second station', { code: 'supports-at-one-place' });
  const netStdOf = (load: Typed) => loadStd?.si ?? load.lastDigitSi / Math.sqrt(12);
  const stationStdM = stationStd?.si ?? 0;
  const centre = centreOnSupports(
    { netKg: firstLoad.si, netStdKg: netStdOf(firstLoad), stationM: first.si, stationStdM },
    { netKg: secondLoad.si, netStdKg: netStdOf(secondLoad), stationM: second.si, stationStdM },
  );
  if (!centre.ok) reader.problem('first load', centre.refusal);
  if (!centre.ok || reader.problems.length > before) return undefined;
  const benchZeroM = benchZero?.si ?? 0;
  return {
    xM: benchZeroM + centre.value.xM,
    xStdM: centre.value.xStdM,
    supports: {
      firstNetKg: firstLoad.si,
      firstM: first.si,
      secondNetKg: secondLoad.si,
      secondM: second.si,
      benchZeroM,
    },
  };
}

function notNegative(reader: FieldReader, field: string): Typed | undefined {
  const read = reader.length(field);
  if (read !== undefined && read.si < 0) reader.problem(field, { code: 'negative', what: 'uncertainty' });
  return read;
}
