/**
 * What a weighing looks like beside the weighings there are of the same pieces (rules W4, W9): one that would not count, one that takes the
 * place of another that it does not agree with, and one that is most likely entered twice. Reads the part's state and changes nothing.
 */

import type { PreviewReport } from '#shared/contract/reports.ts';
import { COVERAGE } from '#shared/drift/part-drift.ts';
import { conditionRank, expectedAtScaleKg } from '#shared/estimate/condition.ts';
import { Condition } from '#shared/ledger/entry.ts';
import { byWhatHappened, latestSeq, type PartState, type Weighing } from '#shared/ledger/part-state.ts';
import { toMassNg } from '#shared/quantity/exact.ts';
import { showMass } from '#shared/quantity/show.ts';
import type { MassUnit } from '#shared/quantity/units.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { pieceNetKg, pieceNetStdKg } from './net.ts';
import { gainStdAt, type Scales } from './scales.ts';

export type Doubt = PreviewReport['doubts'][number];

export type Beside = {
  readonly scales: Scales;
  readonly unit: MassUnit;
  /** What another weighing is called: "Entry 14". */
  readonly nameOf: (seq: number) => string;
  /** What it replaces, where it is a correction: what was so before is no news. */
  readonly replaced?: Replaced | undefined;
};

export type Replaced = { readonly didCount: boolean; readonly condition: Condition };

/** The doubts about a weighing that is not in the part's state yet. */
export function besideEarlier(state: PartState, weighing: Weighing, beside: Beside): Doubt[] {
  const { overtaken, others } = standingWith(state, weighing);
  const { replaced } = beside;
  const tookItBefore = replaced?.didCount === true && replaced.condition === weighing.statement.condition;
  return [
    ...(replaced?.didCount === false ? [] : wouldNotCount(weighing, overtaken, beside)),
    ...(tookItBefore ? [] : others.flatMap((other) => takesThePlace(state, weighing, { ...beside, other }))),
    ...others.flatMap((other) => sameNetLater(state, weighing, { ...beside, other })),
  ];
}

type StandingWith = {
  /** The pieces for which it would not count, and what counts instead; undefined where the piece of that day is gone. */
  readonly overtaken: readonly (readonly [piece: number, by: Weighing | undefined])[];
  /** The weighings that count now and that it would overtake. */
  readonly others: readonly Weighing[];
};

/** Rule W9, piece by piece: the later condition counts, then the later day; an article withdrawn afterwards counts no more. */
function standingWith(state: PartState, weighing: Weighing): StandingWith {
  const overtaken: (readonly [number, Weighing | undefined])[] = [];
  const others = new Set<Weighing>();
  for (const piece of weighing.statement.pieces) {
    const life = state.lives.get(piece)?.at(-1);
    if (life === undefined) continue;
    const { begun, governing } = life;
    if (begun !== undefined && byWhatHappened(begun, weighing) > 0) overtaken.push([piece, undefined]);
    else if (governing !== undefined && isOvertaken(weighing, governing)) overtaken.push([piece, governing]);
    else if (governing !== undefined) others.add(governing);
  }
  return { overtaken, others: [...others] };
}

type Ranked = Pick<Weighing, 'seq' | 'happenedOn' | 'correctedBySeq'> & {
  readonly statement: { readonly condition: Condition };
};

/** Whether `standing` goes on counting beside `weighing` (rule W9). */
export function isOvertaken(weighing: Ranked, standing: Ranked): boolean {
  const ranks = conditionRank(weighing.statement.condition) - conditionRank(standing.statement.condition);
  return ranks < 0 || (ranks === 0 && byWhatHappened(weighing, standing) < 0);
}

/** That another weighing stands, and the ways out: to say a condition that counts, or to put the other one right. */
export function otherStands(standing: Ranked, told: { readonly netWords: string } & Pick<Beside, 'nameOf'>): Doubt {
  const { condition } = standing.statement;
  const seq = latestSeq(standing);
  const one = condition === 'as released' ? say`an as released` : `a ${condition}`;
  return {
    slip: 'does not count',
    words: say`This will not count: ${one} weighing of ${told.netWords} stands (${told.nameOf(seq).toLowerCase()}).`,
    weighAs: Condition.options.filter((later) => conditionRank(later) >= conditionRank(condition)),
    correctSeq: seq,
  };
}

function wouldNotCount(weighing: Weighing, overtaken: StandingWith['overtaken'], beside: Beside): Doubt[] {
  const isAll = overtaken.length === weighing.statement.pieces.length;
  return [...new Set(overtaken.map(([, by]) => by))].map((by) => {
    const pieces = overtaken.filter(([, other]) => other === by).map(([piece]) => piece);
    const which = `${pieces.length === 1 ? say`piece` : say`pieces`} ${pieces.join(', ')}`;
    if (by === undefined)
      return { slip: 'does not count', words: say`This will not count: ${which} was withdrawn after that day.` };
    const doubt = otherStands(by, { netWords: netWords(by, beside.unit), nameOf: beside.nameOf });
    return isAll ? doubt : { ...doubt, words: doubt.words.replace('will not count', `will not count for ${which}`) };
  });
}

function netWords(weighing: Weighing, unit: MassUnit): string {
  const each = weighing.statement.pieces.length === 1 ? '' : ' each';
  return `${massWords(pieceNetKg(weighing.statement), unit)}${each}`;
}

function massWords(massKg: number, unit: MassUnit): string {
  return `${showMass(massKg, unit)} ${unit}`;
}

type BesideOther = Beside & { readonly other: Weighing };

/** Weighed again in the same condition, and further apart than the two readings can be told to lie: is it the same piece? */
function takesThePlace(state: PartState, weighing: Weighing, { other, scales, unit, nameOf }: BesideOther): Doubt[] {
  if (other.statement.condition !== weighing.statement.condition) return [];
  if (wasReworked(state, other, weighing)) return [];
  const apartKg = pieceNetKg(weighing.statement) - pieceNetKg(other.statement);
  if (!isTold(apartKg, [weighing, other], scales)) return [];
  const seq = latestSeq(other);
  const { condition } = other.statement;
  return [
    {
      slip: 'takes the place of another',
      words:
        say`It takes the place of ${nameOf(seq).toLowerCase()}: ${netWords(other, unit)}, ${condition}, on ${dayWords(other.happenedOn)}. ` +
        say`This is ${massWords(Math.abs(apartKg), unit)} ${apartKg > 0 ? say`more` : say`less`}, which the scale does not explain. Is it the same piece?`,
      correctSeq: seq,
    },
  ];
}

/** On one day the very same net in a later condition, although something should have come off or gone on in between. */
function sameNetLater(state: PartState, weighing: Weighing, { other, scales, unit, nameOf }: BesideOther): Doubt[] {
  const estimate = state.estimate?.statement;
  const [before, now] = [other.statement.condition, weighing.statement.condition];
  if (estimate === undefined || before === now || other.happenedOn !== weighing.happenedOn) return [];
  if (toMassNg(pieceNetKg(other.statement)) !== toMassNg(pieceNetKg(weighing.statement))) return [];
  const changeKg = expectedAtScaleKg(estimate, now) - expectedAtScaleKg(estimate, before);
  if (!isTold(changeKg, [weighing, other], scales)) return [];
  return [
    {
      slip: 'entered before',
      words:
        say`${nameOf(latestSeq(other))} of the same day has the very same net, ${before}. Once ${now}, the piece should be ` +
        say`${massWords(Math.abs(changeKg), unit)} ${changeKg > 0 ? say`heavier` : say`lighter`}. Is it entered twice?`,
    },
  ];
}

/** More than two standard uncertainties of both weighings together, as rule D1 tells a difference. */
function isTold(differenceKg: number, both: readonly Weighing[], scales: Scales): boolean {
  const stds = both.map(({ statement, happenedOn, seq }) =>
    pieceNetStdKg(statement, gainStdAt(scales, statement.scale, { happenedOn, seq })),
  );
  return toMassNg(Math.abs(differenceKg)) > toMassNg(COVERAGE * Math.hypot(...stds));
}

/** What was to be reworked in between may well weigh something else. */
function wasReworked({ dispositions }: PartState, other: Weighing, weighing: Weighing): boolean {
  return dispositions.some(
    (decided) =>
      decided.statement.decision === 'to be reworked' &&
      byWhatHappened(decided, other) > 0 &&
      byWhatHappened(decided, weighing) < 0 &&
      decided.statement.pieces.some((piece) => weighing.statement.pieces.includes(piece)),
  );
}
