/**
 * What a weighing would say and do, before it is saved (rule W4): its judgement, what it uses of the allowance, the effect on
 * the aircraft, and the slips of the hand that its figure looks like. Reads the ledger and changes nothing.
 */

import { distance } from 'fastest-levenshtein';
import type { PreviewReport } from '#shared/contract/reports.ts';
import { assemblyDrifts } from '#shared/drift/larger-drift.ts';
import { isFlagged, judge, judgeWeighing, partLimitOf } from '#shared/drift/part-drift.ts';
import { expectedAtScaleKg, projectedInstalledKg } from '#shared/estimate/condition.ts';
import { laminateOf } from '#shared/layup/laminate-of.ts';
import { allowanceSum, copyOf, enter, stateOf, strike } from '#shared/ledger/books.ts';
import type { Statement, StatementOf } from '#shared/ledger/entry.ts';
import {
  aimNgOf,
  inForce,
  isOfPart,
  type Ledger,
  type PresentPart,
  predictedOf,
  presentParts,
} from '#shared/ledger/fold.ts';
import { latestSeq, type PartState, type Standing } from '#shared/ledger/part-state.ts';
import { numberKey } from '#shared/part/from-words.ts';
import { type MassNg, toKg } from '#shared/quantity/exact.ts';
import { showMass } from '#shared/quantity/show.ts';
import { MASS_UNIT_KG, type MassUnit } from '#shared/quantity/units.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { say } from '#shared/words/say.ts';
import { besideEarlier, type Doubt, otherStands, type Replaced as ReplacedWeighing } from './earlier-weighings.ts';
import { pieceNetKg } from './net.ts';
import { scalesOf } from './scales.ts';

/** The entry that the weighing is to replace, where it is a correction that is judged (rule L2). */
export type Replaced = Pick<Standing, 'seq' | 'frameNm'> & { readonly standing: Standing<Statement> | undefined };

/**
 * The preview of a weighing made on `happenedOn`, of a part or of an assembly that is in the ledger. One that replaces an entry is judged
 * in the ledger without that entry, and told against the ledger with it.
 */
export function previewWeighing(
  ledger: Ledger,
  weighing: StatementOf<'weighing' | 'assembly weighing'>,
  happenedOn: string,
  replaced?: Replaced,
): PreviewReport | undefined {
  const without = { ...ledger, books: copyOf(ledger.books) };
  if (replaced?.standing !== undefined && isOfPart(replaced.standing))
    strike(without.books, replaced.standing.statement.partId, replaced.seq);
  const state = stateOf(without.books, weighing.partId);
  if (state === undefined) return undefined;
  const { seq, frameNm } = replaced ?? { seq: (ledger.entries.at(-1)?.seq ?? 0) + 1, frameNm: ledger.datumNm };
  const standing = { seq, happenedOn, frameNm };
  const after = { ...ledger, books: copyOf(without.books) };
  enter(after.books, { ...standing, statement: weighing });
  const effects = effectsOf(ledger, after);
  const before = replacedOf(stateOf(ledger.books, weighing.partId), replaced);
  if (weighing.kind === 'assembly weighing')
    return { ...previewAssembly(after, weighing, { seq, before }), ...effects };
  return { ...previewPart(without, state, { standing: { ...standing, statement: weighing }, before }), ...effects };
}

/** How the weighing of this part stood that is to be replaced; undefined where none of it is. */
function replacedOf(state: PartState | undefined, replaced: Replaced | undefined): ReplacedWeighing | undefined {
  const statement = replaced?.standing?.statement;
  if (replaced === undefined || state === undefined) return undefined;
  if (statement?.kind !== 'weighing' && statement?.kind !== 'assembly weighing') return undefined;
  if (statement.partId !== state.partId) return undefined;
  const didCount =
    state.weighings.some(({ standing }) => standing.seq === replaced.seq) ||
    state.assemblyByLife.at(-1)?.seq === replaced.seq;
  return { didCount, condition: statement.condition };
}

type Judged = Pick<
  PreviewReport,
  'judgement' | 'allowanceFraction' | 'allowanceUsedFraction' | 'projectedKg' | 'laminate' | 'doubts'
>;

function previewPart(ledger: Ledger, state: PartState, given: Pick<Doubted, 'standing' | 'before'>): Judged {
  const { standing } = given;
  const { statement: weighing } = standing;
  const judgement = judgeWeighing(standing, state, partLimitOf(ledger), scalesOf(ledger));
  const estimate = state.estimate?.statement;
  const mouldedKg = estimate === undefined ? 0 : estimate.massKg - estimate.laterKg;
  return {
    judgement,
    laminate: laminateOf(standing, state, scalesOf(ledger)),
    allowanceFraction: estimate?.growth,
    allowanceUsedFraction: judgement === undefined || mouldedKg <= 0 ? undefined : judgement.differenceKg / mouldedKg,
    projectedKg: projectedInstalledKg(pieceNetKg(weighing), weighing.condition, {
      flashKg: estimate?.flashKg ?? 0,
      laterKg: estimate?.laterKg ?? 0,
      finishKg: estimate?.finishKg,
    }),
    doubts: partDoubts(ledger, state, { ...given, judgement }),
  };
}

type Doubted = {
  readonly standing: Standing<StatementOf<'weighing'>>;
  readonly judgement: PreviewReport['judgement'];
  /** Among which parts another one that fits is looked for. */
  readonly among?: () => readonly PresentPart[];
  /** What an entry that says the same is called. */
  readonly nameOf?: (seq: number) => string;
  /** What it replaces. */
  readonly before?: ReplacedWeighing | undefined;
};

/** The doubts about a weighing that is not in the part's state yet. */
export function partDoubts(ledger: Ledger, state: PartState, doubted: Doubted): Doubt[] {
  const { standing, judgement, among = () => presentParts(ledger), nameOf = (seq) => say`Entry ${seq}` } = doubted;
  const { statement: weighing } = standing;
  const estimate = state.estimate?.statement;
  const earlier = besideEarlier(state, standing, {
    scales: scalesOf(ledger),
    unit: unitOf(ledger),
    nameOf,
    replaced: doubted.before,
  });
  const isOutOfLine = judgement !== undefined && isFlagged(judgement.flag);
  return [
    ...earlier,
    ...saidBefore(state, standing, nameOf),
    ...(isOutOfLine || earlier.length > 0 ? othersThatFit(ledger, weighing, among()) : []),
    ...doubtsOf(weighing, estimate === undefined ? undefined : expectedAtScaleKg(estimate, weighing.condition), {
      quantity: state.definition?.quantity ?? 1,
      lastTareKg: state.weighings.at(-1)?.standing.statement.readings.at(-1)?.tareKg,
    }),
  ];
}

function unitOf(ledger: Ledger): MassUnit {
  return inForce(ledger, 'aircraft')?.massUnit ?? 'kg';
}

/** So near are two numbers that one is mistyped for the other. */
export const MOST_LETTERS_APART = 2;

/** A figure that is out of line or odd here and fits a part of nearly the same number that is not weighed yet: was that one on the scale? */
function othersThatFit(ledger: Ledger, weighing: StatementOf<'weighing'>, among: readonly PresentPart[]): Doubt[] {
  const netKg = pieceNetKg(weighing);
  const limit = partLimitOf(ledger);
  const own = ledger.books.byPart.get(weighing.partId)?.state.definition?.number ?? '';
  const fitting = among.filter(({ partId, definition, estimate, weighedPieces }) => {
    if (partId === weighing.partId || estimate === undefined || weighedPieces >= definition.quantity) return false;
    if (distance(numberKey(own), numberKey(definition.number)) > MOST_LETTERS_APART) return false;
    const expectedKg = expectedAtScaleKg(estimate.statement, weighing.condition);
    return expectedKg > 0 && judge({ expectedKg, netKg, netStdKg: 0, limit }).flag === 'in line';
  });
  if (fitting.length === 0) return [];
  const named = fitting.slice(0, 3).map(({ definition }) => definition);
  return [
    {
      slip: 'another part',
      words: say`It would fit ${named.map(({ number, name }) => `${number} ${name}`).join(', or ')}: not weighed yet.`,
      parts: named.map(({ number }) => number),
    },
  ];
}

/** The same piece in the same condition on the same day with the same reading: it looks as if it were entered twice. */
function saidBefore(
  state: PartState,
  { happenedOn, statement }: Standing<StatementOf<'weighing'>>,
  nameOf: (seq: number) => string,
): Doubt[] {
  const before = state.weighings.find(
    ({ standing, pieces }) =>
      standing.happenedOn === happenedOn &&
      standing.statement.condition === statement.condition &&
      Math.abs(standing.statement.netKg - statement.netKg) < 1e-9 &&
      pieces.some((piece) => statement.pieces.includes(piece)),
  );
  if (before === undefined) return [];
  const seq = latestSeq(before.standing);
  return [{ slip: 'entered before', words: say`${nameOf(seq)} of the same day says the same. Is it entered twice?` }];
}

/**
 * An assembly is judged against its parts (rule W7); it has no allowance of its own to use. Where another weighing of it goes on counting
 * (rule W9), that one's figures are no judgement of this one.
 */
function previewAssembly(
  after: Ledger,
  weighing: StatementOf<'assembly weighing'>,
  { seq, before }: { readonly seq: number; readonly before: ReplacedWeighing | undefined },
): Judged {
  const drift = assemblyDrifts(after).find((one) => one.partId === weighing.partId && one.weighingSeq === seq);
  if (drift === undefined) {
    const standing = stateOf(after.books, weighing.partId)?.assemblyByLife.at(-1);
    if (standing === undefined || standing.seq === seq || before?.didCount === false)
      return { projectedKg: weighing.netKg, doubts: [] };
    const unit = unitOf(after);
    const netWords = `${showMass(standing.statement.netKg, unit)} ${unit}`;
    return {
      projectedKg: weighing.netKg,
      doubts: [otherStands(standing, { netWords, nameOf: (entry) => say`Entry ${entry}` })],
    };
  }
  const { expectedKg, netKg, netStdKg, differenceKg, differenceFraction, limitKg, isTold, flag } = drift;
  return {
    judgement: { expectedKg, netKg, netStdKg, differenceKg, differenceFraction, limitKg, isTold, flag },
    projectedKg: drift.projectedKg,
    doubts: doubtsOf({ ...weighing, pieces: [1] }, expectedKg, { quantity: 1, lastTareKg: undefined }),
  };
}

function effectsOf(before: Ledger, after: Ledger): Omit<PreviewReport, keyof Judged> {
  const [was, is] = [predictedOf(before), predictedOf(after)];
  const aimNg = aimNgOf(inForce(before, 'targets'));
  const [cgBefore, cgAfter] = [centreOfGravityM(was, 'x'), centreOfGravityM(is, 'x')];
  return {
    predictedBeforeKg: toKg(was.massNg),
    predictedAfterKg: toKg(is.massNg),
    allowanceFreedKg: toKg((allowanceSum(before.books.sums).massNg - allowanceSum(after.books.sums).massNg) as MassNg),
    marginAfterKg: aimNg === undefined ? undefined : toKg((aimNg - is.massNg) as MassNg),
    cgBeforeXM: cgBefore.ok ? cgBefore.value : undefined,
    cgAfterXM: cgAfter.ok ? cgAfter.value : undefined,
  };
}

/** A figure this near to what a slip would give is taken for one. */
const SLIP_NEARNESS = 0.15;

/** Under half or over double what is expected asks for a second look; a known slip near by is named (rule W4). */
export function doubtsOf(
  weighing: Pick<StatementOf<'weighing'>, 'readings' | 'pieces' | 'netKg' | 'grossResolutionKg' | 'tareResolutionKg'>,
  expectedKg: number | undefined,
  part: { readonly quantity: number; readonly lastTareKg: number | undefined },
): Doubt[] {
  const netKg = pieceNetKg(weighing);
  if (expectedKg === undefined || expectedKg <= 0) return [];
  const ratio = netKg / expectedKg;
  // In line, or nearly so: a figure that is right looks like no slip.
  if (Math.abs(ratio - 1) <= SLIP_NEARNESS) return [];
  const count = weighing.pieces.length;
  const last = weighing.readings.at(-1);
  const tareKg = (last?.tareKg ?? 0) / count;
  const slips: readonly (Doubt & { readonly wouldBeKg: number })[] = [
    {
      slip: 'kg for lb',
      words: say`It fits if the display showed pounds and kilograms were typed.`,
      wouldBeKg: netKg * MASS_UNIT_KG.lb,
    },
    {
      slip: 'lb for kg',
      words: say`It fits if the display showed kilograms and pounds were typed.`,
      wouldBeKg: netKg / MASS_UNIT_KG.lb,
    },
    {
      slip: 'g for kg',
      words: say`It fits if the display showed kilograms and grams were typed.`,
      wouldBeKg: netKg * 1000,
    },
    {
      slip: 'kg for g',
      words: say`It fits if the display showed grams and kilograms were typed.`,
      wouldBeKg: netKg / 1000,
    },
    ...(tareKg > 0
      ? [
          {
            slip: 'tare taken twice',
            words: say`It fits if the scale had been zeroed with the fixture on it and the tare was taken off again.`,
            wouldBeKg: netKg + tareKg,
          },
        ]
      : []),
    ...(tareKg === 0 && part.lastTareKg !== undefined && part.lastTareKg > 0
      ? [
          {
            slip: 'tare not taken',
            words: say`It fits if the fixture of the last time stood on the scale and its tare was not taken off.`,
            wouldBeKg: netKg - part.lastTareKg / count,
          },
        ]
      : []),
    ...(part.quantity > 1 && count === 1
      ? [
          {
            slip: 'whole lot for one piece',
            words: say`It fits if all ${part.quantity} pieces stood on the scale.`,
            wouldBeKg: netKg / part.quantity,
          },
        ]
      : []),
    ...(count > 1
      ? [
          {
            slip: 'one piece for the lot',
            words: say`It fits if one piece, not ${count}, stood on the scale.`,
            wouldBeKg: netKg * count,
          },
        ]
      : []),
  ];
  const named = slips
    .filter(({ wouldBeKg }) => Math.abs(wouldBeKg / expectedKg - 1) <= SLIP_NEARNESS)
    .map(({ slip, words }) => ({ slip, words }));
  if (named.length > 0) return named;
  if (ratio > 2)
    return [
      {
        slip: 'far above',
        words: say`It is more than double what is expected. Is a fixture without its tare on the scale?`,
      },
    ];
  if (ratio < 0.5)
    return [
      {
        slip: 'far below',
        words: say`It is less than half of what is expected. Check the part number and the reading.`,
      },
    ];
  return [];
}
