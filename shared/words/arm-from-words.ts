/**
 * An arm measured, as a person states it: a station, or the loads on two supports from which it follows (rule W6).
 * Fields: x, y, z, arm uncertainty; first load, first station, second load, second station, bench zero, load uncertainty, station
 * uncertainty. Stations of supports are counted from the bench zero, whose own station in the aircraft is the datum unless it is given.
 */
import type { PartId, StatementOf } from '#shared/ledger/entry.ts';
import type { Typed } from '#shared/quantity/typed.ts';
import { centreOnSupports } from '#shared/weighing/two-supports.ts';
import type { FieldReader } from './field-reader.ts';

const SUPPORT_FIELDS = ['first load', 'first station', 'second load', 'second station'] as const;
export const ARM_FIELDS = [
  'x',
  'y',
  'z',
  'arm uncertainty',
  ...SUPPORT_FIELDS,
  'bench zero',
  'load uncertainty',
  'station uncertainty',
] as const;

export function armFromWords(reader: FieldReader, partId: PartId): StatementOf<'arm measured'> | undefined {
  const before = reader.problems.length;
  const x = reader.length('x');
  const y = reader.length('y');
  const z = reader.length('z');
  const armStd = notNegative(reader, 'arm uncertainty');
  const isOnSupports = ARM_FIELDS.slice(4).some((field) => reader.has(field));
  const onSupports = isOnSupports ? supportsFromWords(reader) : undefined;
  if (isOnSupports && reader.has('x')) reader.problem('x', { code: 'arm-stated-twice' });
  if (isOnSupports && reader.has('arm uncertainty')) reader.problem('arm uncertainty', { code: 'arm-stated-twice' });
  if (!isOnSupports && !reader.has('x') && !reader.has('y') && !reader.has('z'))
    reader.problem('x', { code: 'arm-missing' });
  if (reader.problems.length > before) return undefined;
  const xM = onSupports?.xM ?? x?.si;
  const armStdM = onSupports?.xStdM ?? armStd?.si;
  return {
    kind: 'arm measured',
    partId,
    ...(xM === undefined ? {} : { xM }),
    ...(y === undefined ? {} : { yM: y.si }),
    ...(z === undefined ? {} : { zM: z.si }),
    ...(armStdM === undefined ? {} : { armStdM }),
    ...(onSupports === undefined ? {} : { supports: onSupports.supports }),
    typed: { ...reader.typed },
  };
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
