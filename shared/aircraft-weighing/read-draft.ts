/**
 * What a weighing says while it is being made (rules A1, A2, A6): the result of everything that can be read already, every problem at its field,
 * and what looks like a slip. A row or run that is not complete is left out of the result and does not take the others with it.
 */
import { explain, type Refusal } from '#shared/problem/registry.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import { computeWeighing, type WeighedResult } from './compute.ts';
import { type DraftUnits, type SentDraft, sentOf, type WeighingDraft } from './draft.ts';
import { type ScaleAt, weighedFromWords } from './from-words.ts';
import { runsAgree } from './refusals.ts';
import type { Weighed } from './weighing.ts';

export type WeighingProblem = {
  /** The field of the draft; undefined where it is about the whole. */
  readonly field: string | undefined;
  /** The list it is about, where it is about one as a whole: supports, level, checklist. */
  readonly list: string | undefined;
  readonly code: Refusal['code'];
  readonly words: string;
  readonly remedy: string;
};

export type ReadWeighing = {
  readonly sent: SentDraft;
  /** What can be read, with the result; undefined while too little is there. */
  readonly weighed: Weighed | undefined;
  readonly result: WeighedResult | undefined;
  readonly agreement: ReturnType<typeof runsAgree> | undefined;
  /** Rows and runs that are not in the result yet. */
  readonly leftOut: number;
  readonly problems: readonly WeighingProblem[];
};

/** Each round leaves something out, so more are never needed. */
const MOST_ROUNDS = 200;

export function readWeighing(draft: WeighingDraft, units: DraftUnits, scaleAt: ScaleAt): ReadWeighing {
  const sent = sentOf(draft, units);
  const whole = weighedFromWords(sent.weighed, scaleAt, { units });
  // What is wrong with the whole is told after what is wrong with a field of it, and the result still stands.
  const found = whole.ok ? [] : whole.refusal;
  const told = (more: readonly PathProblem[]) => [...found, ...more].map((problem) => toldOf(problem, sent));
  let rest: Readonly<Record<string, unknown>> = sent.weighed;
  let leftOut = 0;
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const read = weighedFromWords(withReference(rest), scaleAt, { isWhole: false, units });
    if (read.ok) {
      const { value: weighed } = read;
      const [result, agreement] = [computeWeighing(weighed), runsAgree(weighed)];
      return { sent, weighed, result, agreement, leftOut, problems: told([]) };
    }
    const next = without(rest, read.refusal);
    if (next === undefined) return { ...NO_RESULT, sent, leftOut, problems: told(behind(read.refusal, found)) };
    leftOut += 1;
    rest = next;
  }
  return { ...NO_RESULT, sent, leftOut, problems: told([]) };
}

const NO_RESULT = { weighed: undefined, result: undefined, agreement: undefined };

/** What keeps a result from standing and was hidden behind what is not filled in yet. Only supports and the whole have the places that were sent. */
function behind(refusals: readonly PathProblem[], found: readonly PathProblem[]): readonly PathProblem[] {
  const known = new Set(found.map(({ path }) => path.join('/')));
  return refusals.filter(({ path }) => (path[0] === 'supports' || path.length === 1) && !known.has(path.join('/')));
}

/** A reference that has no words yet has a station all the same. */
function withReference(weighed: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> {
  return weighed['reference'] === undefined ? { ...weighed, reference: 'not said' } : weighed;
}

function toldOf({ path, refusal }: PathProblem, sent: SentDraft): WeighingProblem {
  const { words, remedy } = explain(refusal);
  return {
    ...{ field: sent.fieldAt(path), list: path.length === 1 ? path[0] : undefined },
    ...{ code: refusal.code, words, remedy },
  };
}

/** What may be left out, the smallest first: a correction, an answer, a run of the tilt, a run. Supports may not: they carry. */
const MAY_GO = ['corrections', 'checklist', 'tilted', 'level'] as const;
const OF_TILT: readonly Refusal['code'][] = ['support-z-missing', 'tilt-too-small'];

function without(
  weighed: Readonly<Record<string, unknown>>,
  found: readonly PathProblem[],
): Readonly<Record<string, unknown>> | undefined {
  for (const list of MAY_GO) {
    const sent = weighed[list];
    if (!Array.isArray(sent)) continue;
    const wrong = new Set(
      found.flatMap(({ path: [first, at] }) => (first === list && at !== undefined ? [Number(at)] : [])),
    );
    const kept = sent.filter((_, at) => !wrong.has(at));
    if (kept.length < sent.length) return { ...weighed, [list]: kept };
  }
  const isOfTilt = found.some(({ path, refusal }) => path[0] === 'angle' || OF_TILT.includes(refusal.code));
  const { tilted } = weighed;
  if (isOfTilt && Array.isArray(tilted) && tilted.length > 0) return { ...weighed, tilted: [], angle: undefined };
  const [limit] = found.flatMap(({ path: [first] }) => (first === 'mass limit' || first === 'cg limit' ? [first] : []));
  return limit === undefined ? undefined : { ...weighed, [limit]: undefined };
}
