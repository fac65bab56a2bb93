/**
 * An estimate in the words that say it again: who revises one figure of it states all the others as they were (rule E1). What was typed is
 * kept where it still reads as the same figure, else the figure is told in SI.
 */
import type { EstimateReport } from '#shared/contract/part.ts';
import { inWords, shareInWords } from '#shared/quantity/in-words.ts';
import { readLength, readMass, readShare } from '#shared/quantity/typed.ts';
import type { ESTIMATE_FIELDS } from './from-words.ts';

type Field = (typeof ESTIMATE_FIELDS)[number];
export type EstimateWords = Partial<Record<Field, string>>;
type Figures = Omit<EstimateReport, 'seq' | 'happenedOn' | 'by'>;

export function estimateInWords(estimate: Figures): EstimateWords {
  const { typed } = estimate;
  const isStated = estimate.growthFrom === 'stated';
  const mass = (field: Field, massKg: number | undefined) => inWords(typed[field], massKg, readMass, 'kg');
  const length = (field: Field, lengthM: number | undefined) => inWords(typed[field], lengthM, readLength, 'm');
  const words: Partial<Record<Field, string | undefined>> = {
    estimate: mass('estimate', estimate.massKg),
    'std uncertainty': stdInWords(estimate),
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

function stdInWords(figures: Figures): string | undefined {
  return stdAsShare(figures) ?? inWords(figures.typed['std uncertainty'], figures.massStdKg, readMass, 'kg');
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
 * What is sent to state an estimate anew, of the words as they were changed: a geometry goes on with it as long as the stations are those
 * that it gave (rule E5). Who types another station leaves the geometry behind.
 */
export function estimateToSend(
  words: Readonly<Record<string, unknown>>,
  before: Figures | undefined,
): Readonly<Record<string, unknown>> {
  const geometry = before?.geometry;
  if (before === undefined || geometry === undefined) return words;
  const was = estimateInWords(before);
  if (STATIONS.some((station) => words[station] !== was[station])) return words;
  const others = Object.entries(words).filter(([field]) => !STATIONS.some((station) => station === field));
  return { ...Object.fromEntries(others), geometry };
}

const STATIONS = ['x', 'y', 'z'] as const;
