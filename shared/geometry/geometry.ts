/**
 * What is kept of a mesh inside an estimate (rule E5): not the mesh, but what tells which file it was, what was asked of it, what it said, and where
 * the part lies in the aircraft. It is evidence of the estimate's stations.
 */
import { z } from 'zod';
import { plainText } from '#shared/ledger/plain-text.ts';
import { LENGTH_UNITS } from '#shared/quantity/units.ts';
import { accept, type Result } from '#shared/result.ts';
import { MOST_BORDERS } from './edges.ts';
import { Finding } from './finding.ts';
import { type Measured, SHAPES } from './measure.ts';
import { Outline } from './outline.ts';
import { type AircraftPoint, inAircraft, PartPoint, Placement, placed } from './placement.ts';
import { MOST_MESH_BYTES } from './read-mesh.ts';
import type { PlacementRefusal } from './refusal.ts';

export const Geometry = z.strictObject({
  fileName: plainText(200),
  byteLength: z.int().min(1).max(MOST_MESH_BYTES),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  triangles: z.int().min(1),
  unit: z.enum(LENGTH_UNITS),
  shape: z.enum(SHAPES),
  areaM2: z.number().positive(),
  /** Of a solid; a shell has none. */
  volumeM3: z.number().positive().optional(),
  openEdgeM: z.number().min(0),
  bordersM: z.array(z.number().positive()).max(MOST_BORDERS),
  centroid: PartPoint,
  placement: Placement,
  outline: Outline,
  findings: z.array(Finding).max(Finding.options.length),
});
export type Geometry = z.infer<typeof Geometry>;

export type FileEvidence = Pick<Geometry, 'fileName' | 'byteLength' | 'sha256'>;

/** What is kept of a part that was measured in this file and lies so. */
export function geometryOf(
  file: FileEvidence,
  measured: Measured,
  placement: Placement,
): Result<Geometry, PlacementRefusal> {
  const lies = placed(placement);
  if (!lies.ok) return lies;
  const { triangles, unit, shape, areaM2, volumeM3, openEdgeM, bordersM, centroid, outline, findings } = measured;
  return accept({
    ...file,
    triangles,
    unit,
    shape,
    areaM2,
    ...(volumeM3 === undefined ? {} : { volumeM3 }),
    openEdgeM,
    bordersM: [...bordersM],
    centroid,
    placement: lies.value,
    outline,
    findings: [...findings],
  });
}

/** Where the part's centroid lies in the aircraft: the stations of an estimate that has a geometry. */
export function stationOf({ centroid, placement }: Pick<Geometry, 'centroid' | 'placement'>): AircraftPoint {
  return inAircraft(centroid, placement);
}
