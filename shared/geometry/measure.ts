/**
 * What a mesh says of a part, once somebody has said in what unit it is drawn and whether it is a shell or a solid (rule E5). Neither is
 * guessed. All of it is in the part's own frame; where that lies in the aircraft is `placement.ts`.
 */

import { showFixed } from '#shared/quantity/show.ts';
import { MOST_LENGTH_M } from '#shared/quantity/typed.ts';
import { LENGTH_UNIT_M, type LengthUnit } from '#shared/quantity/units.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { say } from '#shared/words/say.ts';
import { type Edges, edgesOf } from './edges.ts';
import type { Finding } from './finding.ts';
import { type Mesh, type MeshFormat, type Stepwise, within } from './mesh.ts';
import { type Outline, outlineOf } from './outline.ts';
import type { PartPoint } from './placement.ts';
import { type MeshFile, readMesh } from './read-mesh.ts';
import type { MeshFigureRefusal, MeshRefusal } from './refusal.ts';
import { type Sums, sumsOf } from './sums.ts';
import type { Triple } from './triangle.ts';

export const SHAPES = ['shell', 'solid'] as const;
export type Shape = (typeof SHAPES)[number];

export type MeshQuestion = { readonly unit: LengthUnit; readonly shape: Shape };

/** The figures of a part in its own frame. `volumeM3` is that of a solid; `centroid` is that of its area or its volume. */
export type Measured = {
  readonly format: MeshFormat;
  readonly triangles: number;
  readonly unit: LengthUnit;
  readonly shape: Shape;
  readonly areaM2: number;
  readonly volumeM3: number | undefined;
  readonly centroid: PartPoint;
  readonly low: PartPoint;
  readonly high: PartPoint;
  /** All open edges, and the longest of the borders that they make. */
  readonly openEdgeM: number;
  readonly bordersM: readonly number[];
  readonly outline: Outline;
  readonly findings: readonly Finding[];
};

/** A closed shell whose mean thickness is below this share of its size is a sheet with two faces. */
const THIN = 0.02;

export function* measureMesh(file: MeshFile, question: MeshQuestion): Stepwise<Result<Measured, MeshRefusal>> {
  const read = yield* within(readMesh(file), 0, 0.5);
  if (!read.ok) return read;
  const mesh = read.value;
  const sums = yield* within(sumsOf(mesh), 0.5, 0.65);
  const metresPerUnit = LENGTH_UNIT_M[question.unit];
  const tooFar = beyond(sums, metresPerUnit);
  if (tooFar !== undefined) return refuse(tooFar);
  if (!(sums.area > 0)) return refuse({ code: 'mesh-without-area' });
  const edges = yield* within(edgesOf(mesh), 0.65, 0.9);
  if (question.shape === 'solid') {
    const refusal = notSolid(sums, edges);
    if (refusal !== undefined) return refuse(refusal);
  }
  const outline = yield* within(outlineOf(mesh, sums.box, metresPerUnit), 0.9, 1);
  return accept(told({ mesh, sums, edges, outline }, question));
}

function beyond({ box }: Sums, metresPerUnit: number): MeshFigureRefusal | undefined {
  const furthest = Math.max(...box.low.map(Math.abs), ...box.high.map(Math.abs)) * metresPerUnit;
  if (furthest <= MOST_LENGTH_M) return undefined;
  const metres = furthest < 1e9 ? `${showFixed(furthest, 0)} m` : say`more than a million kilometres`;
  return { code: 'mesh-too-far', metres, most: `${showFixed(MOST_LENGTH_M, 0)} m` };
}

function notSolid(sums: Sums, edges: Edges): MeshFigureRefusal | undefined {
  const gaps = edges.open + edges.crowdedUneven;
  if (gaps > 0) return { code: 'solid-open', edges: gaps };
  if (edges.turned > 0) return { code: 'solid-turned-over', edges: edges.turned };
  const size = Math.max(...sums.box.high.map((high, axis) => high - (sums.box.low[axis] as number)));
  if (Math.abs(sums.volume) <= 1e-12 * size ** 3) return { code: 'solid-without-volume' };
  return undefined;
}

type Found = { readonly mesh: Mesh; readonly sums: Sums; readonly edges: Edges; readonly outline: Outline };

function told({ mesh, sums, edges, outline }: Found, { unit, shape }: MeshQuestion): Measured {
  const perUnitM = LENGTH_UNIT_M[unit];
  const point = (at: Triple): PartPoint => ({
    partXM: figure(at[0] * perUnitM),
    partYM: figure(at[1] * perUnitM),
    partZM: figure(at[2] * perUnitM),
  });
  return {
    format: mesh.format,
    triangles: mesh.corners.length / 3,
    unit,
    shape,
    areaM2: figure(sums.area * perUnitM ** 2),
    volumeM3: shape === 'solid' ? figure(Math.abs(sums.volume) * perUnitM ** 3) : undefined,
    centroid: point(shape === 'solid' ? sums.volumeCentroid : sums.areaCentroid),
    low: point(sums.box.low),
    high: point(sums.box.high),
    openEdgeM: figure(edges.openLength * perUnitM),
    bordersM: edges.borders.map((length) => figure(length * perUnitM)),
    outline,
    findings: findingsOf(sums, edges, { perUnitM, shape }),
  };
}

function findingsOf(
  sums: Sums,
  edges: Edges,
  { perUnitM, shape }: { readonly perUnitM: number; readonly shape: Shape },
): readonly Finding[] {
  const findings: Finding[] = [];
  if (sums.flat > 0) findings.push({ code: 'flat-triangles', count: sums.flat, first: sums.firstFlat ?? 1 });
  if (edges.open > 0) findings.push({ code: 'open-edges', count: edges.open, borders: edges.borderCount });
  if (edges.crowded > 0) findings.push({ code: 'crowded-edges', count: edges.crowded });
  if (edges.turned > 0) findings.push({ code: 'turned-over', count: edges.turned });
  const isClosed = edges.open + edges.crowdedUneven + edges.turned === 0;
  if (shape === 'shell' && isClosed) {
    // A sheet of the thickness t has the volume A t/2, with A the area of both faces.
    const thickness = (2 * Math.abs(sums.volume)) / sums.area;
    const isThin = thickness < THIN * Math.sqrt(sums.area / 2);
    const thicknessM = figure(thickness * perUnitM);
    findings.push(isThin ? { code: 'both-faces', thicknessM } : { code: 'closed-shell' });
  }
  if (shape === 'solid' && sums.volume < 0) findings.push({ code: 'inside-out' });
  return findings;
}

/** Nine digits: more than any tape or file can mean. */
function figure(value: number): number {
  return Number(value.toPrecision(9)) + 0;
}
