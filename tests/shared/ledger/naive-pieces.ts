/**
 * Second part of the naive model: the single piece. Which article had a number when, what it counts for by itself, what is still to
 * come on it, and which articles stood on the scale in an assembly (rules E2, W3, W7, W8, W9, W11, R2).
 */
import type { Condition, StatementOf } from '#shared/ledger/entry.ts';
import { latest, type Said, toTodayM } from './naive-said.ts';

export type Axis = 'x' | 'y' | 'z';
export const NAIVE_AXES: readonly Axis[] = ['x', 'y', 'z'];

/** One thing of stuff: the piece with this number after `life` others that had the number were withdrawn or scrapped. */
export type Article = { partId: string; piece: number; life: number };

const STAGES: readonly Condition[] = ['as released', 'trimmed', 'fitted', 'finished'];

export function isSame(a: Article, b: Article): boolean {
  return a.partId === b.partId && a.piece === b.piece && a.life === b.life;
}

/** The article that has a number after the first `until` of what was said. */
export function articleOf(partId: string, piece: number, said: readonly Said[], until = said.length): Article {
  const ends = said.slice(0, until).filter(({ what }) => {
    if (what.kind !== 'piece withdrawn' && what.kind !== 'disposition') return false;
    if (what.kind === 'disposition' && what.decision !== 'scrapped') return false;
    return what.partId === partId && what.pieces.includes(piece);
  });
  return { partId, piece, life: ends.length };
}

export function quantityOf(partId: string, said: readonly Said[]): number {
  return latest('part added', said, partId)?.what.quantity ?? 0;
}

export function isRemoved(partId: string, said: readonly Said[], until = said.length): boolean {
  return latest('part removed', said.slice(0, until), partId) !== undefined;
}

export function weighingsOf(article: Article, said: readonly Said[]): StatementOf<'weighing'>[] {
  return said.flatMap(({ what }, at) => {
    if (what.kind !== 'weighing' || what.partId !== article.partId || !what.pieces.includes(article.piece)) return [];
    return isSame(articleOf(article.partId, article.piece, said, at), article) ? [what] : [];
  });
}

export type OnScale = { at: number; what: StatementOf<'assembly weighing'> };

/** The weighings of an article as an assembly. */
export function assemblyWeighingsOf(article: Article, said: readonly Said[]): OnScale[] {
  return allAssemblyWeighings(said).filter(
    ({ at, what }) => what.partId === article.partId && isSame(articleOf(what.partId, 1, said, at), article),
  );
}

function allAssemblyWeighings(said: readonly Said[]): OnScale[] {
  return said.flatMap(({ what }, at) => (what.kind === 'assembly weighing' ? [{ at, what }] : []));
}

/** The articles on the scale: the assembly's own and those of the parts named, but for parts removed before. */
export function articlesIn({ at, what }: OnScale, said: readonly Said[]): Article[] {
  const articles = [articleOf(what.partId, 1, said, at)];
  for (const { partId, pieces } of what.members) {
    if (isRemoved(partId, said, at)) continue;
    for (let piece = 1; piece <= quantityOf(partId, said); piece += 1)
      if (pieces === undefined || pieces.includes(piece)) articles.push(articleOf(partId, piece, said, at));
  }
  return articles;
}

/** Rule W9: the later condition, and of two alike the later one; `weighings` are in the order of the days. */
export function whichCounts<Weighing>(
  weighings: readonly Weighing[],
  conditionOf: (weighing: Weighing) => Condition,
): Weighing | undefined {
  let best: Weighing | undefined;
  for (const one of weighings)
    if (best === undefined || STAGES.indexOf(conditionOf(one)) >= STAGES.indexOf(conditionOf(best))) best = one;
  return best;
}

/** The latest condition that an article was weighed in, by itself or in an assembly, by the first `until` of what was said. */
export function latestCondition(article: Article, said: readonly Said[], until = said.length): Condition | undefined {
  const byThen = said.slice(0, until);
  const alone = weighingsOf(article, byThen).map(({ condition }) => condition);
  const within = allAssemblyWeighings(byThen)
    // What was in it is told with all that is known today.
    .filter((onScale) => articlesIn(onScale, said).some((other) => isSame(other, article)))
    .map(({ what }) => what.condition);
  return whichCounts([...alone, ...within], (condition) => condition);
}

/** Rule E2 on one piece of a part. */
export function toComeKg(partId: string, condition: Condition | undefined, said: readonly Said[]): number {
  const estimate = latest('estimate', said, partId)?.what;
  if (condition === 'finished') return 0;
  return (condition === 'fitted' ? estimate?.finishKg : estimate?.laterKg) ?? 0;
}

/** Net less flash, which cannot take more than there is (rules W1, W3). */
export function onScaleKg(what: StatementOf<'weighing'> | StatementOf<'assembly weighing'>, said: readonly Said[]) {
  const nets = what.readings.map(({ grossKg, tareKg }) => grossKg - tareKg);
  const netKg =
    nets.reduce((sum, net) => sum + net, 0) / nets.length / (what.kind === 'weighing' ? what.pieces.length : 1);
  const flashKg = what.condition === 'as released' ? (latest('estimate', said, what.partId)?.what.flashKg ?? 0) : 0;
  return Math.max(0, netKg - flashKg);
}

/** What an article counts for by its own weighing or else by the estimate, without any allowance. */
export function ownKg(article: Article, said: readonly Said[]): number {
  const weighing = whichCounts(weighingsOf(article, said), ({ condition }) => condition);
  if (weighing === undefined) return latest('estimate', said, article.partId)?.what.massKg ?? 0;
  return onScaleKg(weighing, said) + toComeKg(article.partId, weighing.condition, said);
}

/** Rule R1: growth on what is not weighed, on what goes on later apart. */
export function ownAllowanceKg(article: Article, said: readonly Said[]): number {
  const weighing = whichCounts(weighingsOf(article, said), ({ condition }) => condition);
  const estimate = latest('estimate', said, article.partId)?.what;
  if (estimate === undefined) return 0;
  if (weighing !== undefined) return estimate.laterGrowth * toComeKg(article.partId, weighing.condition, said);
  return estimate.growth * (estimate.massKg - estimate.laterKg) + estimate.laterGrowth * estimate.laterKg;
}

/** The last arm measured, else that of the estimate in force, from today's datum. */
export function partArmM(partId: string, axis: Axis, said: readonly Said[]): number | undefined {
  const measured = said.findLast(
    ({ what }) => what.kind === 'arm measured' && what.partId === partId && what[`${axis}M`] !== undefined,
  );
  return armOf(measured ?? latest('estimate', said, partId), axis, said);
}

export function armOf(one: Said | undefined, axis: Axis, said: readonly Said[]): number | undefined {
  if (one === undefined || !('xM' in one.what || 'yM' in one.what || 'zM' in one.what)) return undefined;
  const stationM = one.what[`${axis}M`];
  return stationM === undefined || axis !== 'x' ? stationM : toTodayM(stationM, one, said);
}
