/**
 * What one line of a schedule weighs, by what it is of, and by how much each source of error would change that (rules E3, E4). Sources that
 * several lines share have one name, so that they can be added before anything is squared. Masses in kilograms.
 */
import { bevelledVolumeM3 } from './bevel.ts';
import { curedThicknessM, massFraction, volumeFraction } from './fractions.ts';
import { type Material, type MaterialKind, type MaterialOf, materialKey } from './material.ts';
import { corePerimeterM, coveredM2, type LayUp, type Line, type LineOf, type On, type Region } from './schedule.ts';

export const SHARE_KINDS = ['fibre', 'resin', 'core', 'coat', 'other'] as const;
/** `resin` is all of it: in plies, taken up by core faces, and in kerfs. `other` is filler, adhesive and fittings. */
export type ShareKind = (typeof SHARE_KINDS)[number];

/** Some of the mass of a line, and its change with each source of error that is off by one standard uncertainty. */
export type Share = {
  readonly of: ShareKind;
  readonly massKg: number;
  readonly errorsKg: ReadonlyMap<string, number>;
};

/** What a reader should know of how a line was computed. */
export type LineNote = 'corners left out' | 'covers more than its region';

export type LineShares = {
  readonly region: number;
  readonly line: number;
  readonly on: On;
  readonly shares: readonly Share[];
  /** Of cured plies, in metres. */
  readonly thicknessM?: number;
  /** The fibre of a ply and its fractions. */
  readonly wetted?: { readonly fibreKg: number; readonly fibreKgM3: number; readonly wf: number; readonly vf: number };
  readonly notes: readonly LineNote[];
};

/** Every line of a schedule that has no refusals (`refusals.ts`). */
export function lineShares(layUp: LayUp): readonly LineShares[] {
  const materials = new Map(layUp.materials.map((material) => [materialKey(material.name), material]));
  return layUp.regions.flatMap((region, regionAt) =>
    region.lines.map((line, lineAt) => ({
      region: regionAt,
      line: lineAt,
      on: line.on,
      ...sharesOf(line, { layUp, region, regionAt, materials }),
    })),
  );
}

type Place = {
  readonly layUp: LayUp;
  readonly region: Region;
  readonly regionAt: number;
  readonly materials: ReadonlyMap<string, Material>;
};
type Shares = Pick<LineShares, 'shares' | 'thicknessM' | 'wetted' | 'notes'>;

function sharesOf(line: Line, place: Place): Shares {
  switch (line.is) {
    case 'ply':
      return plyShares(line, place);
    case 'core':
      return coreShares(line, place);
    case 'coat':
      return coatShares(line, place);
    case 'bond line':
    case 'fillet':
      return bondShares(line, place);
    case 'insert': {
      const fitting = materialOf(place, line.material, ['fitting']);
      return {
        shares: [share('other', line.count * fitting.massKg, { [ofMaterial(fitting)]: fitting.std })],
        notes: [],
      };
    }
  }
}

function plyShares(line: LineOf<'ply'>, place: Place): Shares {
  const fabric = materialOf(place, line.material, ['fabric']);
  const { resin, wf, vf } = wetting(place, fabric);
  const fibreKg = coveredM2(line, place.region) * line.layers * fabric.arealKgM2;
  const resinKg = (fibreKg * (1 - wf)) / wf;
  const errors = { [ofMaterial(fabric)]: fabric.std, [ofArea(place)]: place.region.areaStd };
  const { fibreBy, fibreFraction, fibreFractionStd } = laminateOf(place.layUp);
  // Of a fraction f, whether Wf or Vf, resin goes with 1/f - 1, which changes by -1/f^2.
  const byFraction = -fibreFractionStd / (fibreFraction * (1 - fibreFraction));
  // By mass the density of the resin plays no part; by volume the mass of resin goes with it.
  const byResin = fibreBy === 'volume' ? { [ofMaterial(resin)]: resin.std } : {};
  return {
    shares: [
      share('fibre', fibreKg, errors),
      share('resin', resinKg, { ...errors, ...byResin, [FRACTION]: byFraction }),
    ],
    thicknessM: curedThicknessM({
      layers: line.layers,
      arealKgM2: fabric.arealKgM2,
      fibreKgM3: fabric.densityKgM3,
      vf,
    }),
    wetted: { fibreKg, fibreKgM3: fabric.densityKgM3, wf, vf },
    notes: overlap(line),
  };
}

function coreShares(line: LineOf<'core'>, place: Place): Shares {
  const core = materialOf(place, line.material, ['core']);
  const areaM2 = coveredM2(line, place.region);
  const perimeterM = corePerimeterM(line, place.region);
  const { bevelDeg, outline, kerfs } = line;
  const isBevelled = bevelDeg !== undefined && bevelDeg < 90 && perimeterM !== undefined;
  const wholeM3 = isBevelled
    ? bevelledVolumeM3({ areaM2, perimeterM, thicknessM: core.thicknessM, bevelDeg, outline })
    : areaM2 * core.thicknessM;
  const kerfsM3 = kerfs === undefined ? 0 : kerfs.lengthM * kerfs.widthM * kerfs.depthM;
  const area = { [ofArea(place)]: place.region.areaStd };
  const shares = [share('core', (wholeM3 - kerfsM3) * core.densityKgM3, { ...area, [ofMaterial(core)]: core.std })];
  const uptakeKg = areaM2 * line.faces * core.uptakeKgM2;
  if (uptakeKg > 0)
    shares.push(share('resin', uptakeKg, { ...area, [`resin taken up by ${core.name}`]: core.uptakeStd }));
  if (kerfsM3 > 0) {
    const resin = materialOf(place, laminateOf(place.layUp).resin, ['resin']);
    shares.push(share('resin', kerfsM3 * resin.densityKgM3, { [ofMaterial(resin)]: resin.std }));
  }
  return { shares, notes: isBevelled && outline === 'other' ? [...overlap(line), 'corners left out'] : overlap(line) };
}

function coatShares(line: LineOf<'coat'>, place: Place): Shares {
  const coat = materialOf(place, line.material, ['coat']);
  const massKg = coveredM2(line, place.region) * line.faces * coat.arealKgM2;
  return {
    shares: [share('coat', massKg, { [ofMaterial(coat)]: coat.std, [ofArea(place)]: place.region.areaStd })],
    notes: overlap(line),
  };
}

function bondShares(line: LineOf<'bond line' | 'fillet'>, place: Place): Shares {
  const paste = materialOf(place, line.material, ['adhesive', 'filler']);
  const massKg = line.lengthM * line.sectionM2 * paste.densityKgM3;
  return { shares: [share('other', massKg, { [ofMaterial(paste)]: paste.std })], notes: [] };
}

/** The resin around a fabric, and the fibre fractions of the two: one as stated, the other by their densities. */
function wetting(place: Place, fabric: MaterialOf<'fabric'>) {
  const { resin: name, fibreBy, fibreFraction } = laminateOf(place.layUp);
  const resin = materialOf(place, name, ['resin']);
  const densities = { fibreKgM3: fabric.densityKgM3, resinKgM3: resin.densityKgM3 };
  if (fibreBy === 'mass') return { resin, wf: fibreFraction, vf: volumeFraction(fibreFraction, densities) };
  return { resin, wf: massFraction(fibreFraction, densities), vf: fibreFraction };
}

function overlap({
  areaM2,
  coverage,
}: {
  readonly areaM2?: number | undefined;
  readonly coverage: number;
}): LineNote[] {
  return areaM2 === undefined && coverage > 1 ? ['covers more than its region'] : [];
}

/** `relative` says how each source changes the mass, as a fraction of it. */
function share(of: ShareKind, massKg: number, relative: Readonly<Record<string, number>>): Share {
  const errors = Object.entries(relative).filter(([, std]) => std !== 0);
  return { of, massKg, errorsKg: new Map(errors.map(([source, std]) => [source, massKg * std])) };
}

const FRACTION = 'fibre fraction';

function ofMaterial({ name }: Material): string {
  return `material ${name}`;
}

function ofArea({ region, regionAt }: Place): string {
  return `area of ${region.name} (${regionAt + 1})`;
}

function laminateOf({ laminate }: LayUp): NonNullable<LayUp['laminate']> {
  if (laminate === undefined) throw new Error('a schedule with plies or kerfs has a resin');
  return laminate;
}

function materialOf<Kind extends MaterialKind>(
  { materials }: Place,
  name: string,
  kinds: readonly Kind[],
): MaterialOf<Kind> {
  const material = materials.get(materialKey(name));
  if (material === undefined || !isOneOf(material, kinds)) throw new Error('a schedule has its materials with it');
  return material;
}

function isOneOf<Kind extends MaterialKind>(material: Material, kinds: readonly Kind[]): material is MaterialOf<Kind> {
  return kinds.some((kind) => kind === material.is);
}
