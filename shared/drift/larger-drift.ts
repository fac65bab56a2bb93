/**
 * What drifts beyond single parts (rules D3, D5, W7): groups against their targets, the CG against its range, assemblies against the sum of
 * their parts, and parts that are each in line and add up. Reads the ledger and changes nothing.
 */
import type { AssemblyDriftReport, CgDriftReport, GroupDriftReport, ManySmallReport } from '#shared/contract/drift.ts';
import { countedBook } from '#shared/ledger/assemblies.ts';
import { type Ledger, predictedOf, presentParts } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { latestSeq } from '#shared/ledger/part-state.ts';
import { type LengthNm, toKg, toKgM, toM } from '#shared/quantity/exact.ts';
import { breakdownOf } from '#shared/rollup/breakdown.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import { estimateStdKg } from '#shared/uncertainty/sources.ts';
import { pieceNetStdKg } from '#shared/weighing/net.ts';
import { gainStdAt, type Scales, scalesOf } from '#shared/weighing/scales.ts';
import { allPartDrifts, cgEffectM, judge, levelOf, type PartDrift, partLimitOf } from './part-drift.ts';

/** Rule D3: the groups whose predicted mass exceeds their target, the worst first. */
export const groupDrifts: (ledger: Ledger) => readonly GroupDriftReport[] = oncePerEntry((ledger) =>
  breakdownOf(ledger, 'group')
    .flatMap(({ name, predictedNg, predictedStdKg, cgXM, targetKg, marginKg }) =>
      targetKg === undefined || marginKg === undefined || marginKg >= 0
        ? []
        : [
            {
              group: name,
              predictedKg: toKg(predictedNg),
              predictedStdKg,
              targetKg,
              marginKg,
              cgEffectM:
                cgXM === undefined
                  ? undefined
                  : cgEffectM({ massKg: -marginKg, momentKgM: -marginKg * cgXM }, predictedOf(ledger), 'x'),
            },
          ],
    )
    .sort((a, b) => a.marginKg - b.marginKg),
);

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
      },
    ];
  });
}

/** Twice the standard deviation of the sum, where many small differences become a finding. */
const COVERAGE = 2;

type Placed = { readonly by: ManySmallReport['by']; readonly name: string };
type Sum = Placed & { parts: Set<string>; sumKg: number; varianceKg2: number; placedKg: number; momentKgM: number };

/** Rule D5: groups, processes and lots whose parts are each in line and yet add up, the largest sum first. */
export const manySmall: (ledger: Ledger) => readonly ManySmallReport[] = oncePerEntry((ledger) => {
  const scales = scalesOf(ledger);
  const predicted = predictedOf(ledger);
  const sums = new Map<string, Sum>();
  for (const drifts of byPart(allPartDrifts(ledger))) {
    const [first] = drifts;
    if (first === undefined || drifts.some(({ judgement }) => levelOf(judgement.flag) !== 'in line')) continue;
    const { number, group, process } = first.part.definition;
    const places: Placed[] = [
      { by: 'group', name: group },
      { by: 'process', name: process },
    ];
    for (const drift of drifts) {
      const { lot } = drift.weighing.standing.statement;
      for (const place of lot === undefined ? places : [...places, { by: 'lot' as const, name: lot }]) {
        const key = `${place.by} ${place.name}`;
        const sum = sums.get(key) ?? {
          ...place,
          parts: new Set(),
          sumKg: 0,
          varianceKg2: 0,
          placedKg: 0,
          momentKgM: 0,
        };
        sum.parts.add(number);
        const growthKg = drift.judgement.differenceKg * drift.weighing.pieces.length;
        sum.sumKg += growthKg;
        const armNm = drift.part.armsNm.x;
        if (armNm !== undefined) {
          sum.placedKg += growthKg;
          sum.momentKgM += growthKg * toM((armNm - ledger.datumNm) as LengthNm);
        }
        sum.varianceKg2 += varianceKg2(drift, scales);
        sums.set(key, sum);
      }
    }
  }
  return [...sums.values()]
    .map(({ by, name, parts, sumKg, varianceKg2, placedKg, momentKgM }) => ({
      by,
      name,
      partCount: parts.size,
      sumKg,
      sdKg: Math.sqrt(varianceKg2),
      marginEffectKg: sumKg === 0 ? 0 : -sumKg,
      cgEffectM: cgEffectM({ massKg: placedKg, momentKgM }, predicted, 'x'),
    }))
    .filter(({ partCount, sumKg, sdKg }) => partCount > 1 && Math.abs(sumKg) > COVERAGE * sdKg)
    .sort((a, b) => Math.abs(b.sumKg) - Math.abs(a.sumKg));
});

function byPart(drifts: readonly PartDrift[]): Iterable<readonly PartDrift[]> {
  const parts = new Map<string, PartDrift[]>();
  for (const drift of drifts) {
    const known = parts.get(drift.part.partId);
    if (known === undefined) parts.set(drift.part.partId, [drift]);
    else known.push(drift);
  }
  return parts.values();
}

/** Pieces that stand under one estimate, and those weighed as one lot, are off together. */
function varianceKg2({ part, weighing }: PartDrift, scales: Scales): number {
  const { standing, pieces } = weighing;
  const gainStd = gainStdAt(scales, standing.statement.scale, standing);
  const estimate = part.estimate?.statement;
  const ofEstimateKg = estimate === undefined ? 0 : estimateStdKg(estimate) * pieces.length;
  return ofEstimateKg ** 2 + (pieceNetStdKg(standing.statement, gainStd) * pieces.length) ** 2;
}
