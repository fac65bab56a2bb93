/**
 * What stands against a weighing, of a part or of an assembly, and against what is decided on it (rules W1, W7, W11): a part of
 * `admit.ts`, which asks.
 */
import { judgeWeighing, levelOf, partLimitOf } from '#shared/drift/part-drift.ts';
import { showMass } from '#shared/quantity/show.ts';
import { partsBelow } from '#shared/weighing/assembly-from-words.ts';
import { meanNetKg } from '#shared/weighing/net.ts';
import { calibrationAt, type Scales, scaleKey, scalesOf } from '#shared/weighing/scales.ts';
import type { Objection } from './admit.ts';
import type { PartId, StatementOf } from './entry.ts';
import type { Ledger } from './fold.ts';

/** What was read from a scale must fit itself, and the scale where it is known. */
export function toOnScale(
  weighing: Pick<StatementOf<'weighing'>, 'readings' | 'netKg' | 'scale'>,
  scales: Scales,
  at: { readonly happenedOn: string; readonly seq: number },
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
  if (weighing.scale === undefined) return objections;
  const capacityKg = calibrationAt(scales.get(scaleKey(weighing.scale)), at)?.capacityKg;
  const highestKg = Math.max(...weighing.readings.map(({ grossKg }) => grossKg));
  if (capacityKg !== undefined && highestKg > capacityKg)
    objections.push({
      path: ['readings'],
      refusal: {
        code: 'above-capacity',
        gross: `${highestKg} kg`,
        scale: weighing.scale,
        capacity: `${capacityKg} kg`,
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
  ledger: Ledger,
): readonly Objection[] {
  if (assembly.quantity > 1)
    return [
      {
        path: ['partId'],
        refusal: { code: 'assembly-of-many', part: assembly.number, quantity: assembly.quantity },
      },
    ];
  const below = new Map(partsBelow(ledger, assembly.partId).map((part) => [part.partId, part]));
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

/** Rule W11: a piece is decided on once it has been weighed; a light one is not accepted without a word of inspection. */
export function toDisposition(disposition: StatementOf<'disposition'>, ledger: Ledger): readonly Objection[] {
  const state = ledger.books.byPart.get(disposition.partId)?.state;
  if (state?.definition === undefined) return [];
  const { number, quantity } = state.definition;
  const limit = partLimitOf(ledger);
  const scales = scalesOf(ledger);
  return disposition.pieces
    .filter((piece) => piece <= quantity)
    .flatMap((piece): Objection[] => {
      const weighing = state.weighings.find(({ pieces }) => pieces.includes(piece));
      if (weighing === undefined) return [{ path: ['pieces'], refusal: { code: 'not-weighed', part: number, piece } }];
      if (disposition.decision !== 'accepted' || disposition.inspection !== undefined) return [];
      const judgement = judgeWeighing(weighing.standing, state, limit, scales);
      if (judgement === undefined || levelOf(judgement.flag) === 'in line' || judgement.differenceKg >= 0) return [];
      const difference = `${showMass(judgement.differenceKg, 'kg', { sign: true })} kg`;
      return [{ path: ['inspection'], refusal: { code: 'inspection-missing', part: number, difference } }];
    });
}
