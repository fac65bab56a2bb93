/**
 * What drifts beyond single parts (rules D3, D5, W7): groups against their targets, the CG against its range, assemblies against the sum of
 * their parts, and parts that are each in line and add up. Reads the ledger and changes nothing.
 */
import type { AssemblyDriftReport, CgDriftReport, GroupDriftReport, ManySmallReport } from '#shared/contract/drift.ts';
import { groupForecasts } from '#shared/forecast/by-group.ts';
import { runningForecastOf } from '#shared/forecast/running-forecast.ts';
import { countedBook } from '#shared/ledger/assemblies.ts';
import { inForce, type Ledger, predictedOf, presentParts, statedBy, type Totals } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { byWhatHappened, latestSeq } from '#shared/ledger/part-state.ts';
import { type MassNg, toKg, toKgM, toM, toMassNg } from '#shared/quantity/exact.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import { type Figures, runningOf } from '#shared/rollup/running.ts';
import { pieceNetStdKg } from '#shared/weighing/net.ts';
import { gainStdAt, scalesOf } from '#shared/weighing/scales.ts';
import { cgEffectM, judge, partLimitOf } from './part-drift.ts';
import { COVERAGE, smallCauseOf } from './small-cause.ts';

/** Rule D3: the groups whose forecast exceeds their target, the worst first. Where none can be, no part is looked at. */
export const groupDrifts: (ledger: Ledger) => readonly GroupDriftReport[] = oncePerEntry((ledger) => {
  if (!mayBeOver(ledger)) return [];
  return groupForecasts(ledger)
    .flatMap(({ group, predictedNg, forecastNg, forecastStdKg, cgXM, targetKg, marginKg }) =>
      targetKg === undefined || marginKg === undefined || marginKg >= 0
        ? []
        : [
            {
              group,
              predictedKg: toKg(predictedNg),
              forecastKg: toKg(forecastNg),
              forecastStdKg,
              targetKg,
              marginKg,
              cgEffectM:
                cgXM === undefined
                  ? undefined
                  : cgEffectM({ massKg: -marginKg, momentKgM: -marginKg * cgXM }, predictedOf(ledger), 'x'),
            },
          ],
    )
    .sort((a, b) => a.marginKg - b.marginKg);
});

/** Whether a group would be over its target if all that processes add fell to it: without that, none is. */
function mayBeOver(ledger: Ledger): boolean {
  const { byGroup } = runningOf(ledger);
  const { processes } = runningForecastOf(ledger);
  const addedKg = processes.reduce((sum, { shift, atRisk }) => sum + Math.max(0, shift.mean * atRisk.massKg), 0);
  return (inForce(ledger, 'targets')?.groups ?? []).some(({ group, massKg }) => {
    const predictedKg = toKg((byGroup.get(group)?.predictedNg ?? 0n) as MassNg);
    return massKg !== undefined && predictedKg + addedKg >= massKg;
  });
}

/** The names of the groups that are predicted over their target, the worst first: what the headline can tell after every entry. */
export function groupsOver(totals: Totals, { byGroup }: Pick<Figures, 'byGroup'>): readonly string[] {
  return (inForce(totals, 'targets')?.groups ?? [])
    .flatMap(({ group, massKg }) => {
      if (massKg === undefined) return [];
      const overNg = (byGroup.get(group)?.predictedNg ?? 0n) - toMassNg(massKg);
      return overNg > 0n ? [{ group, overKg: toKg(overNg as MassNg) }] : [];
    })
    .sort((a, b) => b.overKg - a.overKg)
    .map(({ group }) => group);
}

/** Rule D3: the CG outside its range, or within one standard uncertainty of an end. */
export function cgDrift(ledger: Ledger): CgDriftReport | undefined {
  const { cg, targets } = headlineOf(ledger);
  if (cg.xM === undefined || targets?.cgStanding === undefined) return undefined;
  const isOut = targets.cgStanding !== 'in range';
  if (!isOut && !targets.cgIsNearEnd) return undefined;
  return {
    level: isOut ? 'drifting' : 'watch',
    standing: targets.cgStanding,
    xM: cg.xM,
    xStdM: cg.xStdM,
    cgForwardM: targets.cgForwardM,
    cgAftM: targets.cgAftM,
  };
}

/** Rule W7: each weighed assembly beside the sum of its parts in the same condition, with its residual as the pair it is. */
export function assemblyDrifts(ledger: Ledger): readonly AssemblyDriftReport[] {
  const limit = partLimitOf(ledger);
  const scales = scalesOf(ledger);
  const predicted = predictedOf(ledger);
  return presentParts(ledger).flatMap((part): AssemblyDriftReport[] => {
    const book = countedBook(ledger.books.assemblies, part.partId);
    if (book === undefined) return [];
    const { standing, residual, projectedNg } = book;
    const { statement } = standing;
    const residualKg = toKg(residual.massNg);
    const placedKg = toKg(residual.x.placedNg);
    const momentKgM = toKgM(residual.x.momentNgNm) - placedKg * toM(ledger.datumNm);
    // An assembly is one piece, the first of its part (rule W7).
    const decided = part.dispositions.findLast(
      (one) => byWhatHappened(one, standing) > 0 && one.statement.pieces.includes(1),
    );
    const netStdKg = pieceNetStdKg({ ...statement, pieces: [1] }, gainStdAt(scales, statement.scale, standing));
    return [
      {
        partId: part.partId,
        number: part.definition.number,
        name: part.definition.name,
        group: part.definition.group,
        weighingSeq: latestSeq(standing),
        weighedOn: standing.happenedOn,
        condition: statement.condition,
        partCount: statement.members.length,
        ...judge({ expectedKg: statement.netKg - residualKg, netKg: statement.netKg, netStdKg, limit }),
        projectedKg: toKg(projectedNg),
        partsKg: toKg(projectedNg) - residualKg,
        residualKg,
        residualMomentXKgM: momentKgM,
        marginEffectKg: residualKg === 0 ? 0 : -residualKg,
        cgEffectM: cgEffectM({ massKg: placedKg, momentKgM }, predicted, 'x'),
        disposition: decided?.statement.decision,
        decidedBy: decided === undefined ? undefined : statedBy(ledger, decided).by,
      },
    ];
  });
}

/** Rule D5: groups, processes and lots whose parts are each in line and yet add up, the largest sum first. */
export const manySmall: (ledger: Ledger) => readonly ManySmallReport[] = oncePerEntry((ledger) =>
  manySmallOf(ledger, runningOf(ledger)).map((sum) => {
    const standing = smallCauseOf(ledger, sum);
    if (standing === undefined) return sum;
    const { cause, found } = standing.statement;
    const { seq, by, happenedOn: on } = statedBy(ledger, standing);
    return { ...sum, cause: { seq, cause, found, on, by } };
  }),
);

/** How many of them nobody has explained, from the figures of all parts. */
export function openSmallCount(totals: Totals, figures: Pick<Figures, 'smallSums'>): number {
  return manySmallOf(totals, figures).filter((sum) => smallCauseOf(totals, sum) === undefined).length;
}

function manySmallOf(totals: Totals, figures: Pick<Figures, 'smallSums'>): readonly ManySmallReport[] {
  const predicted = predictedOf(totals);
  return [...figures.smallSums()]
    .map(({ by, name, partCount, growthKg, varianceKg2, placedKg, momentKgM }) => ({
      by,
      name,
      partCount,
      sumKg: growthKg,
      sdKg: Math.sqrt(varianceKg2),
      marginEffectKg: growthKg === 0 ? 0 : -growthKg,
      cgEffectM: cgEffectM({ massKg: placedKg, momentKgM: momentKgM - placedKg * toM(totals.datumNm) }, predicted, 'x'),
    }))
    .filter(({ partCount, sumKg, sdKg }) => partCount > 1 && Math.abs(sumKg) > COVERAGE * sdKg)
    .sort((a, b) => Math.abs(b.sumKg) - Math.abs(a.sumKg));
}
