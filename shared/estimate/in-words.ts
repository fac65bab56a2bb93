/**
 * An estimate in the words that say it again: who revises one figure of it states all the others as they were (rule E1). What was typed is
 * kept where it still reads as the same figure, else the figure is told in SI.
 */
import type { EstimateReport } from '#shared/contract/part.ts';
import { layUpInWords } from '#shared/layup/in-words.ts';
import { inWords, shareInWords } from '#shared/quantity/in-words.ts';
import { readLength, readMass, readShare } from '#shared/quantity/typed.ts';
import { type ESTIMATE_FIELDS, LAID_UP } from './from-words.ts';

type Field = (typeof ESTIMATE_FIELDS)[number];
export type EstimateWords = Partial<Record<Field, string>>;
/** An estimate as a part's page tells it, or as it was stated. */
export type StandingEstimate = Omit<EstimateReport, 'seq' | 'happenedOn' | 'by'>;

export function estimateInWords(estimate: StandingEstimate): EstimateWords {
  const { typed } = estimate;
  const isStated = estimate.growthFrom === 'stated';
  // A mass that follows from a schedule was typed by nobody: no more digits than anybody would.
  const told = (massKg: number | undefined) =>
    estimate.layUp === undefined || massKg === undefined ? massKg : Number(massKg.toPrecision(6));
  const mass = (field: Field, massKg: number | undefined) => inWords(typed[field], told(massKg), readMass, 'kg');
  const length = (field: Field, lengthM: number | undefined) => inWords(typed[field], lengthM, readLength, 'm');
  const words: Partial<Record<Field, string | undefined>> = {
    estimate: mass('estimate', estimate.massKg),
    'std uncertainty': stdAsShare(estimate) ?? mass('std uncertainty', estimate.massStdKg),
    x: length('x', estimate.xM),
    y: length('y', estimate.yM),
    z: length('z', estimate.zM),
    'arm uncertainty': length('arm uncertainty', estimate.armStdM),
    evidence: estimate.evidence,
    // A default stays one: it is not stated, and so follows the evidence.
    allowance: isStated ? shareInWords(typed['allowance'], estimate.growth) : undefined,
    'later allowance':
      estimate.laterGrowth === estimate.growth
        ? undefined
        : shareInWords(typed['later allowance'], estimate.laterGrowth),
    flash: estimate.flashKg === 0 ? undefined : mass('flash', estimate.flashKg),
    later: estimate.laterKg === 0 ? undefined : mass('later', estimate.laterKg),
    finish: mass('finish', estimate.finishKg),
  };
  return Object.fromEntries(Object.entries(words).filter(([, text]) => text !== undefined)) as EstimateWords;
}

/** An uncertainty that was typed as a share of the mass (`5 %`) stays that share when the mass is revised. */
export function stdAsShare({ typed, massKg, massStdKg }: StdTyped): string | undefined {
  const text = typed['std uncertainty'];
  const back = text?.endsWith('%') === true ? readShare(text) : undefined;
  return back?.ok === true && back.value.si * massKg === massStdKg ? text : undefined;
}

type StdTyped = {
  readonly typed: Readonly<Record<string, string>>;
  readonly massKg: number;
  readonly massStdKg?: number | undefined;
};

/**
 * What is sent to state an estimate anew, of the words as they were changed. A lay-up schedule goes on with it as long as nothing that follows
 * from it is changed (rule E3), and a geometry as long as the stations are those that it gave (rule E5). Who types another mass or another
 * station leaves the one or the other behind.
 */
export function estimateToSend(
  words: Readonly<Record<string, unknown>>,
  before: StandingEstimate | undefined,
): Readonly<Record<string, unknown>> {
  if (before === undefined) return words;
  const was = estimateInWords(before);
  const isAsItWas = (fields: readonly Field[]) => fields.every((field) => words[field] === was[field]);
  const layUp = isAsItWas(LAID_UP) ? before.layUp : undefined;
  const geometry = isAsItWas(STATIONS) ? before.geometry : undefined;
  const said = new Set<string>([...(layUp === undefined ? [] : LAID_UP), ...(geometry === undefined ? [] : STATIONS)]);
  return {
    ...Object.fromEntries(Object.entries(words).filter(([field]) => !said.has(field))),
    ...(layUp === undefined ? {} : { layUp: layUpInWords(layUp) }),
    ...(geometry === undefined ? {} : { geometry }),
  };
}

const STATIONS = ['x', 'y', 'z'] as const;

/** Whether these words leave the schedule of the estimate behind; to be said before they are sent. */
export function leavesLayUp(words: Readonly<Record<string, unknown>>, before: StandingEstimate | undefined): boolean {
  return before?.layUp !== undefined && !('layUp' in estimateToSend(words, before));
}
