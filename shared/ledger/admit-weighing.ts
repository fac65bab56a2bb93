/**
 * What stands against a weighing, of a part or of an assembly, and against what is decided on it (rules W1, W7, W11): a part of
 * `admit.ts`, which asks.
 */
import { assemblyDrifts } from '#shared/drift/larger-drift.ts';
import { judgeWeighing, levelOf, partLimitOf } from '#shared/drift/part-drift.ts';
import { showMass } from '#shared/quantity/show.ts';
import { type At, partsBelow } from '#shared/weighing/assembly-from-words.ts';
import { meanNetKg } from '#shared/weighing/net.ts';
import { calibrationAt, scaleKey, scalesOf } from '#shared/weighing/scales.ts';
import type { Objection } from './admit.ts';
import { countedBook } from './assemblies.ts';
import type { PartId, StatementOf } from './entry.ts';
import type { Ledger } from './fold.ts';
import { byWhatHappened, isOf, partState } from './part-state.ts';

/** What was read from a scale must fit itself, and the scale where it is known. */
export function toOnScale(
  weighing: Pick<StatementOf<'weighing'>, 'readings' | 'netKg' | 'scale'>,
  ledger: Ledger,
  at: At,
): readonly Objection[] {
  const objections: Objection[] = [];
  for (const { grossKg, tareKg } of weighing.readings)
    if (grossKg <= tareKg)
      objections.push({
        path: ['readings'],
        refusal: { code: 'gross-not-above-tare', gross: `${grossKg} kg`, tare: `${tareKg} kg` },
      });
  const meanKg = meanNetKg(weighing.readings);
  if (Math.abs(meanKg - weighing.netKg) > 1e-9 * Math.max(1, meanKg))
    objections.push({
      path: ['netKg'],
      refusal: { code: 'net-disagrees', net: `${weighing.netKg} kg`, readings: `${meanKg} kg` },
    });
  if (weighing.scale === undefined || ledger.whole.scale.size === 0) return objections;
  const calibration = calibrationAt(scalesOf(ledger).get(scaleKey(weighing.scale)), at);
  const { capacityKg } = calibration ?? {};
  const above = weighing.readings.find(({ grossKg }) => capacityKg !== undefined && grossKg > capacityKg);
  if (above !== undefined)
    objections.push({
      path: ['readings'],
      refusal: {
        code: 'above-capacity',
        gross: above.typed['gross'] ?? `${above.grossKg} kg`,
        scale: weighing.scale,
        capacity: calibration?.typed['capacity'] ?? `${capacityKg} kg`,
      },
    });
  return objections;
}

/** A part that has parts of its own is an assembly: weighed without a word on what was in it, it would count twice. */
export function toWeighedPart(part: StatementOf<'part added'>, ledger: Ledger): readonly Objection[] {
  if ((ledger.books.byParent.get(part.partId)?.size ?? 0) === 0) return [];
  const count = partsBelow(ledger, part.partId).length;
  return count === 0 ? [] : [{ path: ['partId'], refusal: { code: 'is-an-assembly', part: part.number, count } }];
}

/** The parts in an assembly belong to it, are there, and are not in it without the assembly between. */
export function toMembers(
  { members }: StatementOf<'assembly weighing'>,
  assembly: StatementOf<'part added'>,
  { ledger, at }: { readonly ledger: Ledger; readonly at: At },
): readonly Objection[] {
  if (assembly.quantity > 1)
    return [
      {
        path: ['partId'],
        refusal: { code: 'assembly-of-many', part: assembly.number, quantity: assembly.quantity },
      },
    ];
  const below = new Map(partsBelow(ledger, assembly.partId, at).map((part) => [part.partId, part]));
  const named = new Set<PartId>([assembly.partId, ...members.map(({ partId }) => partId)]);
  const path = ['members'];
  return members.flatMap(({ partId, pieces }): Objection[] => {
    const part = below.get(partId);
    if (part === undefined) {
      const number = ledger.books.byPart.get(partId)?.state.definition?.number ?? partId;
      return [{ path, refusal: { code: 'not-in-assembly', part: number, assembly: assembly.number } }];
    }
    const { parentPartId, number, quantity } = part;
    const between = parentPartId === undefined || named.has(parentPartId) ? undefined : below.get(parentPartId)?.number;
    const beyond = pieces?.find((piece) => piece > quantity);
    return [
      ...(between === undefined
        ? []
        : [{ path, refusal: { code: 'in-without-its-assembly', part: number, assembly: between } as const }]),
      ...(beyond === undefined
        ? []
        : [{ path, refusal: { code: 'no-such-piece', piece: beyond, part: number, quantity } as const }]),
    ];
  });
}

/**
 * Rule W11: a piece is decided on once it has been weighed, and a light one is not accepted without a word of inspection. Asked is the
 * article there was at the moment of the decision: a decision that is corrected must not stand in its own way, nor what came later.
 */
export function toDisposition(
  disposition: StatementOf<'disposition'>,
  { ledger, at, ownSeq }: { readonly ledger: Ledger; readonly at: At; readonly ownSeq: number | undefined },
): readonly Objection[] {
  const book = ledger.books.byPart.get(disposition.partId);
  if (book?.state.definition === undefined) return [];
  const before = [...book.standings.values()].filter(
    (standing) =>
      standing.seq !== ownSeq &&
      (isOf(standing, 'part added') || isOf(standing, 'estimate') || byWhatHappened(standing, at) < 0),
  );
  const state = partState(disposition.partId, before);
  const { number, quantity } = book.state.definition;
  const [limit, scales] = [partLimitOf(ledger), scalesOf(ledger)];
  return disposition.pieces
    .filter((piece) => piece <= quantity)
    .flatMap((piece): readonly Objection[] => {
      const weighing = state.weighings.find(({ pieces }) => pieces.includes(piece));
      if (weighing === undefined)
        return piece === 1 && state.assemblyByLife.at(-1) !== undefined
          ? toAcceptedAssembly(disposition, number, { ledger, at })
          : [{ path: ['pieces'], refusal: { code: 'not-weighed', part: number, piece } }];
      if (disposition.decision !== 'accepted' || disposition.inspection !== undefined) return [];
      const judgement = judgeWeighing(weighing.standing, state, limit, scales);
      if (judgement === undefined || levelOf(judgement.flag) === 'in line' || judgement.differenceKg >= 0) return [];
      const difference = `${showMass(judgement.differenceKg, 'kg', { sign: true })} kg`;
      return [{ path: ['inspection'], refusal: { code: 'inspection-missing', part: number, difference } }];
    });
}

/** An assembly that is lighter than the sum of its parts can be short of a bond or a part: it is inspected as a light piece is. */
function toAcceptedAssembly(
  { partId, decision, inspection }: StatementOf<'disposition'>,
  number: string,
  { ledger, at }: { readonly ledger: Ledger; readonly at: At },
): readonly Objection[] {
  if (decision !== 'accepted' || inspection !== undefined) return [];
  const counted = countedBook(ledger.books.assemblies, partId)?.standing;
  if (counted === undefined || byWhatHappened(counted, at) > 0) return [];
  const drift = assemblyDrifts(ledger).find((one) => one.partId === partId);
  if (drift === undefined || levelOf(drift.flag) === 'in line' || drift.differenceKg >= 0) return [];
  const difference = `${showMass(drift.differenceKg, 'kg', { sign: true })} kg`;
  return [{ path: ['inspection'], refusal: { code: 'inspection-missing', part: number, difference } }];
}
