/**
 * What makes no sense in a lay-up schedule as a whole (rules E3, E4): materials that are not there or do not fit, and cores that could not be
 * cut. Each with its place, under the names that a person types it by. A figure by itself is refused where it is read.
 */
import type { Refusal } from '#shared/problem/registry.ts';
import { showFixed } from '#shared/quantity/show.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import { bevelledVolumeM3, insetM, leastPerimeterM, roomM } from './bevel.ts';
import { type Material, type MaterialKind, type MaterialOf, materialKey } from './material.ts';
import {
  corePerimeterM,
  coveredM2,
  type LayUp,
  type Line,
  type LineKind,
  type LineOf,
  type Region,
} from './schedule.ts';

/** Which kinds of material a line takes. */
export const MATERIALS_OF: Readonly<Record<LineKind, readonly MaterialKind[]>> = {
  ply: ['fabric'],
  core: ['core'],
  coat: ['coat'],
  'bond line': ['adhesive', 'filler'],
  fillet: ['filler', 'adhesive'],
  insert: ['fitting'],
};

/** Areas and perimeters are rounded as they are typed: a square may seem to have less than it needs. */
const ROUNDING = 0.005;

/** Every objection to a schedule; none where it can be computed. `known` are the materials that could be named instead. */
export function layUpRefusals(layUp: LayUp, known: readonly Material[] = layUp.materials): readonly PathProblem[] {
  const named = new Map(layUp.materials.map((material) => [materialKey(material.name), material]));
  return [
    ...twice(layUp.materials, 'materials', (material) => ({ code: 'material-twice', material })),
    ...twice(layUp.regions, 'regions', (region) => ({ code: 'region-twice', region })),
    ...(layUp.regions.every(({ lines }) => lines.length === 0)
      ? [{ path: ['regions'], refusal: { code: 'schedule-empty' } } as const]
      : []),
    ...laminateRefusals(layUp, { named, known }),
    ...layUp.regions.flatMap((region, at) =>
      region.lines.flatMap((line, lineAt) =>
        lineRefusals(line, region, { named, known }).map(({ path, refusal }) => ({
          path: ['regions', String(at), 'lines', String(lineAt), ...path],
          refusal,
        })),
      ),
    ),
  ];
}

/** The materials of the schedule by name, and those that could be named instead. */
type Named = { readonly named: ReadonlyMap<string, Material>; readonly known: readonly Material[] };

function twice(
  items: readonly { readonly name: string }[],
  field: string,
  refusalOf: (name: string) => Refusal,
): readonly PathProblem[] {
  const keys = items.map(({ name }) => materialKey(name));
  return items.flatMap(({ name }, at) =>
    keys.indexOf(keys[at] ?? '') === at ? [] : [{ path: [field, String(at), 'name'], refusal: refusalOf(name) }],
  );
}

function laminateRefusals({ laminate, regions }: LayUp, materials: Named): readonly PathProblem[] {
  if (laminate === undefined) {
    const isWetted = regions.some(({ lines }) =>
      lines.some((line) => line.is === 'ply' || (line.is === 'core' && line.kerfs !== undefined)),
    );
    return isWetted ? [{ path: ['resin'], refusal: { code: 'resin-missing' } }] : [];
  }
  const { lowWf, highWf } = laminate.band;
  const percent = (share: number) => `${showFixed(share * 100, 1)} %`;
  return [
    ...materialRefusals(laminate.resin, ['resin'], materials, 'resin'),
    ...(lowWf < highWf
      ? []
      : [
          {
            path: ['band high'],
            refusal: { code: 'band-reversed', low: percent(lowWf), high: percent(highWf) },
          } as const,
        ]),
  ];
}

function materialRefusals(
  name: string,
  wanted: readonly MaterialKind[],
  { named, known: others }: Named,
  field: string,
): readonly PathProblem[] {
  const material = named.get(materialKey(name));
  const known = others.filter(({ is }) => wanted.includes(is)).map((one) => one.name);
  if (material === undefined) return [{ path: [field], refusal: { code: 'material-unknown', material: name, known } }];
  if (wanted.includes(material.is)) return [];
  const refusal = { code: 'material-unfit', material: name, is: material.is, wanted: wanted.join(' or ') } as const;
  return [{ path: [field], refusal }];
}

function lineRefusals(line: Line, region: Region, materials: Named): readonly PathProblem[] {
  const problems = materialRefusals(line.material, MATERIALS_OF[line.is], materials, 'material');
  const material = materials.named.get(materialKey(line.material));
  if (line.is !== 'core' || material?.is !== 'core') return problems;
  return [...problems, ...coreRefusals(line, region, material)];
}

function coreRefusals(line: LineOf<'core'>, region: Region, core: MaterialOf<'core'>): readonly PathProblem[] {
  const { outline, bevelDeg, kerfs } = line;
  const { thicknessM } = core;
  const areaM2 = coveredM2(line, region);
  const perimeterM = corePerimeterM(line, region);
  let coreM3 = areaM2 * thicknessM;
  if (bevelDeg !== undefined) {
    if (perimeterM === undefined) return [{ path: ['perimeter'], refusal: { code: 'perimeter-missing' } }];
    const leastM = leastPerimeterM(areaM2, outline);
    if (perimeterM < leastM * (1 - ROUNDING)) {
      const refusal = { code: 'perimeter-too-short', perimeter: inM(perimeterM), least: inM(leastM) } as const;
      return [{ path: ['perimeter'], refusal }];
    }
    const inwardsM = insetM({ thicknessM, bevelDeg });
    const room = roomM({ areaM2, perimeterM, outline });
    if (inwardsM > room * (1 + 1e-9))
      return [{ path: ['bevel'], refusal: { code: 'bevel-too-large', inset: inMm(inwardsM), room: inMm(room) } }];
    coreM3 = bevelledVolumeM3({ areaM2, perimeterM, thicknessM, bevelDeg, outline });
  }
  if (kerfs === undefined) return [];
  if (kerfs.depthM > thicknessM * (1 + 1e-9)) {
    const refusal = { code: 'kerfs-above-core', kerfs: inMm(kerfs.depthM), core: inMm(thicknessM) } as const;
    return [{ path: ['kerf depth'], refusal }];
  }
  const kerfsM3 = kerfs.lengthM * kerfs.widthM * kerfs.depthM;
  if (kerfsM3 < coreM3) return [];
  const refusal = { code: 'kerfs-above-core', kerfs: inLitres(kerfsM3), core: inLitres(coreM3) } as const;
  return [{ path: ['kerf length'], refusal }];
}

function inM(lengthM: number): string {
  return `${showFixed(lengthM, 3)} m`;
}

function inMm(lengthM: number): string {
  return `${showFixed(lengthM * 1000, 1)} mm`;
}

function inLitres(volumeM3: number): string {
  return `${showFixed(volumeM3 * 1000, 3)} L`;
}
