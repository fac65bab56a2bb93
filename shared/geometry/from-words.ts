/**
 * An estimate whose stations come from the geometry of its part (rule E5). The geometry is sent as it is kept; where the part lies is worked
 * out here and not typed as well.
 */
import type { StatementOf } from '#shared/ledger/entry.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { MOST_LENGTH_M } from '#shared/quantity/typed.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { Geometry, stationOf } from './geometry.ts';
import { placed } from './placement.ts';

const STATIONS = ['x', 'y', 'z'] as const;

/** The estimate with the geometry that was sent beside its fields, as it was where none was; undefined where a problem was found. */
export function estimateWithGeometry(
  reader: FieldReader,
  sent: unknown,
  estimate: StatementOf<'estimate'> | undefined,
): StatementOf<'estimate'> | undefined {
  if (sent === undefined || sent === null) return estimate;
  const before = reader.problems.length;
  for (const field of STATIONS)
    if (reader.has(field)) reader.problem(field, { code: 'station-from-geometry', station: field });
  const read = Geometry.safeParse(sent);
  if (!read.success) {
    const [issue] = read.error.issues;
    const why = `${issue?.path.join(' ') ?? ''} ${issue?.message ?? ''}`.trim();
    reader.problem('geometry', { code: 'shape-refused', why });
    return undefined;
  }
  const lies = placed(read.data.placement);
  if (!lies.ok) reader.problem('geometry', lies.refusal);
  const station = stationOf(read.data);
  for (const [axis, atM] of Object.entries(station))
    if (Math.abs(atM) > MOST_LENGTH_M)
      reader.problem('geometry', {
        code: 'out-of-range',
        text: `${axis.slice(0, 1)} = ${showFixed(atM, 3)} m`,
        least: `-${MOST_LENGTH_M} m`,
        most: `${MOST_LENGTH_M} m`,
      });
  if (estimate === undefined || reader.problems.length > before) return undefined;
  return { ...estimate, ...station, geometry: read.data };
}
