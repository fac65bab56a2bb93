/**
 * A second, independent reading of the rules (R1, R2, R3, E2, W1, W3, W7, W8, W9, W11, L2, L7, L8), in plain floating point and without
 * any of the product's arithmetic: everything is worked out anew from all that was said, piece by piece. It is slow and meant to be.
 */
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import {
  type Article,
  type Axis,
  armOf,
  articleOf,
  articlesIn,
  assemblyWeighingsOf,
  isRemoved,
  isSame,
  latestCondition,
  NAIVE_AXES,
  type OnScale,
  onScaleKg,
  ownAllowanceKg,
  ownKg,
  partArmM,
  quantityOf,
  toComeKg,
  weighingsOf,
  whichCounts,
} from './naive-pieces.ts';
import { latest, type Said, saidBy, saidUntil, toTodayM } from './naive-said.ts';

export type NaiveRow = {
  basicKg: number;
  predictedKg: number;
  weighedKg: number;
  marginKg: number | undefined;
  cgM: Record<Axis, number | undefined>;
};

export type NaiveTotals = NaiveRow & {
  installedKg: number;
  inStockKg: number;
  /** Basic mass that has no station, by axis. */
  withoutArmKg: Record<Axis, number>;
  percentMac: number | undefined;
  rangeM: { forward: number | undefined; aft: number | undefined };
  byGroup: Map<string, NaiveRow>;
  byProcess: Map<string, NaiveRow>;
  /** By the number of the assembly that a part is in. What stands in none is under the empty name. */
  byAssembly: Map<string, NaiveRow>;
  /** Sum of the absolute masses that went in: what a difference is to be measured against. */
  scaleKg: number;
  /** The same for moments. */
  scaleKgM: number;
};

/** Mass that counts, where it is and by what right. An assembly's residual is one of these, and may be negative. */
type Item = {
  partId: string;
  basicKg: number;
  allowanceKg: number;
  /** How much of the basic mass has a station, and its moment. The allowance has the part's arm. */
  placedKg: Record<Axis, number>;
  momentKgM: Record<Axis, number>;
  isWeighed: boolean;
  isInstalled: boolean;
};

/** As known at the last of these entries. */
export function naiveTotals(entries: readonly RecordedEntry[]): NaiveTotals {
  return totalsOf(saidBy(entries));
}

/** By the day things happened, with what is known today (rule L7), told from today's datum. */
export function naiveTotalsOn(day: string, entries: readonly RecordedEntry[]): NaiveTotals {
  return totalsOf(saidUntil(day, entries));
}

function totalsOf(said: readonly Said[]): NaiveTotals {
  const items = itemsOf(said);
  const targets = latest('targets', said);
  const aircraft = latest('aircraft', said);
  const aimKg = targets && targets.what.emptyMassKg - targets.what.reserveKg;
  const total = rowOf(items, aimKg, said);
  const placedM = (one: Said | undefined, stationM: number | undefined) =>
    one === undefined || stationM === undefined ? undefined : toTodayM(stationM, one, said);
  const [leadingEdgeM, chordM] = [placedM(aircraft, aircraft?.what.lemacM), aircraft?.what.macM];
  return {
    ...total,
    installedKg: sum(items.map((item) => (item.isInstalled ? item.basicKg : 0))),
    inStockKg: sum(items.map((item) => (item.isWeighed && !item.isInstalled ? item.basicKg : 0))),
    withoutArmKg: byAxis((axis) => sum(items.map((item) => item.basicKg - item.placedKg[axis]))),
    percentMac:
      total.cgM.x === undefined || leadingEdgeM === undefined || chordM === undefined
        ? undefined
        : (100 * (total.cgM.x - leadingEdgeM)) / chordM,
    rangeM: {
      forward: placedM(targets, targets?.what.cgForwardM),
      aft: placedM(targets, targets?.what.cgAftM),
    },
    byGroup: rowsBy(
      (partId) => latest('part added', said, partId)?.what.group ?? '',
      items,
      said,
      new Map(
        targets?.what.groups.flatMap(({ group, massKg }) => (massKg === undefined ? [] : [[group, massKg] as const])),
      ),
    ),
    byProcess: rowsBy((partId) => latest('part added', said, partId)?.what.process ?? '', items, said),
    byAssembly: rowsBy((partId) => assemblyNumberOf(partId, said), items, said),
    scaleKg: sum(items.map(({ basicKg, allowanceKg }) => Math.abs(basicKg) + Math.abs(allowanceKg))),
    scaleKgM: sum(items.map(({ momentKgM }) => Math.max(...NAIVE_AXES.map((axis) => Math.abs(momentKgM[axis]))))),
  };
}

/** The outermost assembly above a part that is not removed, or the part itself where parts stand below it. */
function assemblyNumberOf(partId: string, said: readonly Said[]): string {
  const added = latest('part added', said, partId)?.what;
  const aboveId = added?.parentPartId;
  if (aboveId !== undefined && isPresent(aboveId, said)) {
    return assemblyNumberOf(aboveId, said) || (latest('part added', said, aboveId)?.what.number ?? '');
  }
  const hasParts = said.some(
    ({ what }) => what.kind === 'part added' && what.parentPartId === partId && isPresent(what.partId, said),
  );
  return hasParts ? (added?.number ?? '') : '';
}

function isPresent(partId: string, said: readonly Said[]): boolean {
  return latest('part added', said, partId) !== undefined && !isRemoved(partId, said);
}

function rowsBy(
  nameOf: (partId: string) => string,
  items: readonly Item[],
  said: readonly Said[],
  aims: ReadonlyMap<string, number> = new Map(),
): Map<string, NaiveRow> {
  const names = new Set([...items.map(({ partId }) => nameOf(partId)), ...aims.keys()]);
  return new Map(
    [...names].map((name) => {
      const own = items.filter(({ partId }) => nameOf(partId) === name);
      return [name, rowOf(own, aims.get(name), said)] as const;
    }),
  );
}

function rowOf(items: readonly Item[], aimKg: number | undefined, said: readonly Said[]): NaiveRow {
  const basicKg = sum(items.map((item) => item.basicKg));
  const predictedKg = basicKg + sum(items.map((item) => item.allowanceKg));
  const cgM = byAxis((axis) => {
    let [placedKg, momentKgM] = [0, 0];
    for (const { partId, allowanceKg, ...item } of items) {
      const armM = partArmM(partId, axis, said);
      placedKg += item.placedKg[axis] + (armM === undefined ? 0 : allowanceKg);
      momentKgM += item.momentKgM[axis] + (armM === undefined ? 0 : allowanceKg * armM);
    }
    return placedKg > 1e-9 ? momentKgM / placedKg : undefined;
  });
  const weighedKg = sum(items.map((item) => (item.isWeighed ? item.basicKg : 0)));
  return { basicKg, predictedKg, weighedKg, marginKg: aimKg === undefined ? undefined : aimKg - predictedKg, cgM };
}

/** Every piece that counts, and the residual of every assembly that was weighed. */
function itemsOf(said: readonly Said[]): Item[] {
  const partIds = new Set(said.flatMap(({ what }) => (what.kind === 'part added' ? [what.partId] : [])));
  const present = [...partIds].filter((partId) => !isRemoved(partId, said));
  const items: Item[] = [];
  for (const partId of present) {
    for (let piece = 1; piece <= quantityOf(partId, said); piece += 1) {
      items.push(pieceItem(articleOf(partId, piece, said), present, said));
    }
    const assembly = articleOf(partId, 1, said);
    if (assemblyWeighingThatCounts(assembly, said) === undefined) continue;
    const residual = residualOf(assembly, said);
    const isInstalled = isArticleInstalled(assembly, present, said);
    items.push({ partId, basicKg: residual.massKg, allowanceKg: 0, ...residual, isWeighed: true, isInstalled });
  }
  return items;
}

function pieceItem(article: Article, present: readonly string[], said: readonly Said[]): Item {
  const { partId } = article;
  const basicKg = ownKg(article, said);
  const isInAssembly = assembliesWith(article, present, said).length > 0;
  const laterGrowth = latest('estimate', said, partId)?.what.laterGrowth ?? 0;
  const keptKg = laterGrowth * toComeKg(partId, latestCondition(article, said), said);
  const armM = byAxis((axis) => partArmM(partId, axis, said));
  return {
    partId,
    basicKg,
    allowanceKg: isInAssembly ? keptKg : ownAllowanceKg(article, said),
    placedKg: byAxis((axis) => (armM[axis] === undefined ? 0 : basicKg)),
    momentKgM: byAxis((axis) => basicKg * (armM[axis] ?? 0)),
    isWeighed: isInAssembly || weighingsOf(article, said).length > 0,
    isInstalled: isArticleInstalled(article, present, said),
  };
}

function assemblyWeighingThatCounts(assembly: Article, said: readonly Said[]): OnScale | undefined {
  return whichCounts(assemblyWeighingsOf(assembly, said), ({ what }) => what.condition);
}

/** The assemblies, as they are now, whose weighing counts for this article too. */
function assembliesWith(article: Article, present: readonly string[], said: readonly Said[]): Article[] {
  return present
    .map((partId) => articleOf(partId, 1, said))
    .filter((assembly) => {
      const onScale = assemblyWeighingThatCounts(assembly, said);
      return onScale !== undefined && articlesIn(onScale, said).some((other) => isSame(other, article));
    });
}

/** Rule R1: what was weighed in an assembly is where the assembly is, and of several in the one weighed last. */
function isArticleInstalled(article: Article, present: readonly string[], said: readonly Said[]): boolean {
  const isWeighedItself = assemblyWeighingThatCounts(article, said) !== undefined && article.piece === 1;
  const around = assembliesWith(article, present, said)
    .flatMap((assembly) => {
      const onScale = assemblyWeighingThatCounts(assembly, said);
      if (isSame(assembly, article) || onScale === undefined) return [];
      const holds = !isWeighedItself || assembliesIn(onScale, said).some((inner) => isSame(inner, article));
      return holds ? [{ assembly, at: onScale.at }] : [];
    })
    .sort((a, b) => b.at - a.at);
  if (around[0] !== undefined) return isArticleInstalled(around[0].assembly, present, said);
  return said.some(
    ({ what }, at) =>
      what.kind === 'piece installed' &&
      what.partId === article.partId &&
      what.pieces.includes(article.piece) &&
      isSame(articleOf(article.partId, article.piece, said, at), article),
  );
}

/** The weighed assemblies in one. Of two that each hold the other, directly or through others, the one weighed later does. */
function assembliesIn(onScale: OnScale, said: readonly Said[]): Article[] {
  const weighedIn = ({ what, at }: OnScale) =>
    articlesIn({ what, at }, said)
      .filter(({ partId, piece }) => piece === 1 && partId !== what.partId)
      .flatMap((article) => {
        const inner = assemblyWeighingThatCounts(article, said);
        return inner === undefined ? [] : [{ article, inner }];
      });
  const holds = (inner: OnScale, seen: readonly number[]): boolean =>
    inner.at === onScale.at ||
    (!seen.includes(inner.at) && weighedIn(inner).some((next) => holds(next.inner, [...seen, inner.at])));
  return weighedIn(onScale)
    .filter(({ inner }) => onScale.at > inner.at || !holds(inner, []))
    .map(({ article }) => article);
}

type Residual = { massKg: number; placedKg: Record<Axis, number>; momentKgM: Record<Axis, number> };

/** Rule W7: what an assembly's weighing says beyond what the articles in it count for. */
function residualOf(assembly: Article, said: readonly Said[]): Residual {
  const onScale = assemblyWeighingThatCounts(assembly, said);
  if (onScale === undefined) return { massKg: 0, placedKg: byAxis(() => 0), momentKgM: byAxis(() => 0) };
  const parts = articlesIn(onScale, said).map((article) => ({
    article,
    ownKg: ownKg(article, said),
    toComeKg: toComeKg(article.partId, latestCondition(article, said, onScale.at + 1), said),
  }));
  const nested = assembliesIn(onScale, said).map((inner) => residualOf(inner, said));
  const shownKg = onScaleKg(onScale.what, said);
  const massKg =
    shownKg +
    sum(parts.map((part) => part.toComeKg)) -
    sum(parts.map((part) => part.ownKg)) -
    sum(nested.map((one) => one.massKg));
  const placedKg = byAxis(() => 0);
  const momentKgM = byAxis(() => 0);
  for (const axis of NAIVE_AXES) {
    const placed = parts.flatMap((part) => {
      const armM = partArmM(part.article.partId, axis, said);
      return armM === undefined ? [] : [{ ...part, armM }];
    });
    const partsKg = sum(placed.map((part) => part.ownKg)) + sum(nested.map((one) => one.placedKg[axis]));
    const partsKgM = sum(placed.map((part) => part.ownKg * part.armM)) + sum(nested.map((one) => one.momentKgM[axis]));
    const measuredM = armOf(said[onScale.at], axis, said);
    if (measuredM !== undefined) {
      const toCome = parts.map((part) => part.toComeKg * (partArmM(part.article.partId, axis, said) ?? measuredM));
      placedKg[axis] = shownKg + sum(parts.map((part) => part.toComeKg)) - partsKg;
      momentKgM[axis] = shownKg * measuredM + sum(toCome) - partsKgM;
    } else if (partsKg > 1e-9) {
      placedKg[axis] = massKg;
      momentKgM[axis] = massKg * (partsKgM / partsKg);
    }
  }
  return { massKg, placedKg, momentKgM };
}

function byAxis<Value>(of: (axis: Axis) => Value): Record<Axis, Value> {
  return { x: of('x'), y: of('y'), z: of('z') };
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}
