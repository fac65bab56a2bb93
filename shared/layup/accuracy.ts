/**
 * How the estimates by lay-up compare with the scale (rule E7): by process, by fabric, and by both together, with the fibre fraction that the
 * shop's laminates have in fact. Where that is known well enough, parts that are not weighed yet are offered an estimate with it. Nothing is
 * changed: an offer is recorded as any estimate is, or it is left.
 */
import type { AccuracyReport, AccuracyRow, LaminateReport, LearnedOffer } from '#shared/contract/layup.ts';
import { estimateFor } from '#shared/drift/part-drift.ts';
import { expectedAtScaleKg } from '#shared/estimate/condition.ts';
import { estimateInWords, estimateToSend } from '#shared/estimate/in-words.ts';
import { copyOf, enter } from '#shared/ledger/books.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { type Ledger, type PresentPart, predictedOf, presentParts } from '#shared/ledger/fold.ts';
import { toKg } from '#shared/quantity/exact.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { estimateReport } from '#shared/rollup/part-page.ts';
import { pieceNetKg } from '#shared/weighing/net.ts';
import { scalesOf } from '#shared/weighing/scales.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import { computeLayUp } from './compute.ts';
import { type LayUpWords, layUpInWords } from './in-words.ts';
import { laminateOf } from './laminate-of.ts';
import { materialKey } from './material.ts';
import type { LayUp } from './schedule.ts';
import { lineShares } from './shares.ts';

/** So many weighings make a fraction that is offered on. Common practice, no source. */
export const ENOUGH_WEIGHINGS = 3;

/** What one weighing says; it may be of several pieces and counts once. */
type Finding = {
  readonly process: string;
  readonly fabric: string;
  /** Of the moulded mass as it was computed. */
  readonly differenceFraction: number;
  readonly wf: NonNullable<LaminateReport['wf']>;
  readonly plannedWf: number;
};

export function accuracyReport(ledger: Ledger): AccuracyReport {
  const { findings, leftOut } = findingsOf(ledger);
  const pairs = rowsBy(findings, ({ process, fabric }) => pairKey(process, fabric));
  const { offers, predictedKg } = offersOf(ledger, pairs);
  return {
    processes: [...rowsBy(findings, ({ process }) => process).values()],
    fabrics: [...rowsBy(findings, ({ fabric }) => fabric).values()],
    pairs: [...pairs.values()],
    leftOut,
    offers,
    predictedKg: toKg(predictedOf(ledger).massNg),
    predictedWithOffersKg: predictedKg,
  };
}

/** What the weighings that count say. One that cannot be is a mix-up to be cleared, and teaches nothing. */
function findingsOf(ledger: Ledger): { readonly findings: readonly Finding[]; readonly leftOut: number } {
  const scales = scalesOf(ledger);
  const read = presentParts(ledger).flatMap((part) =>
    part.weighings.flatMap(({ standing }) => {
      const estimate = estimateFor(standing, part.estimates)?.statement;
      const laminate = laminateOf(standing, part, scales);
      return estimate?.layUp === undefined || laminate === undefined
        ? []
        : [findingOf(part, standing.statement, { estimate, layUp: estimate.layUp, laminate })];
    }),
  );
  const findings = read.flatMap((one) => one ?? []);
  return { findings, leftOut: read.length - findings.length };
}

function findingOf(
  part: PresentPart,
  weighing: StatementOf<'weighing'>,
  {
    estimate,
    layUp,
    laminate,
  }: { readonly estimate: StatementOf<'estimate'>; readonly layUp: LayUp; readonly laminate: LaminateReport },
): Finding | undefined {
  if (laminate.wf === undefined) return undefined;
  const differenceKg = pieceNetKg(weighing) - expectedAtScaleKg(estimate, weighing.condition);
  return {
    process: part.definition.process,
    fabric: mainFabric(layUp),
    differenceFraction: differenceKg / (estimate.massKg - estimate.laterKg),
    wf: laminate.wf,
    plannedWf: laminate.planned.wf,
  };
}

/** The fabric that most of the fibre is of. */
function mainFabric(layUp: LayUp): string {
  const fibreKg = new Map<string, number>();
  for (const { region, line, wetted } of lineShares(layUp)) {
    const name = layUp.regions[region]?.lines[line]?.material ?? '';
    const listed = layUp.materials.find((one) => materialKey(one.name) === materialKey(name))?.name ?? name;
    if (wetted !== undefined) fibreKg.set(listed, (fibreKg.get(listed) ?? 0) + wetted.fibreKg);
  }
  return [...fibreKg].sort(([, a], [, b]) => b - a)[0]?.[0] ?? '';
}

function pairKey(process: string, fabric: string): string {
  return `${process}, ${fabric}`;
}

function rowsBy(findings: readonly Finding[], keyOf: (finding: Finding) => string): ReadonlyMap<string, AccuracyRow> {
  const groups = Map.groupBy(findings, keyOf);
  return new Map([...groups].sort(([a], [b]) => (a < b ? -1 : 1)).map(([name, group]) => [name, rowOf(name, group)]));
}

/** The scatter is less for more weighings; what they share (a roll, a scale, a core) is not, so their own uncertainties are taken as common. */
function rowOf(name: string, findings: readonly Finding[]): AccuracyRow {
  const count = findings.length;
  const differences = findings.map(({ differenceFraction }) => differenceFraction);
  const wfs = findings.map(({ wf }) => wf.value);
  const commonStd = meanOf(findings.map(({ wf }) => wf.std));
  const wfStd = Math.hypot(commonStd, (sdOf(wfs) ?? 0) / Math.sqrt(count));
  return {
    ...{ name, count, meanFraction: meanOf(differences), sdFraction: sdOf(differences) },
    wf: { value: meanOf(wfs), std: wfStd },
    plannedWf: meanOf(findings.map(({ plannedWf }) => plannedWf)),
  };
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Of a sample; undefined where one value scatters about nothing. */
function sdOf(values: readonly number[]): number | undefined {
  if (values.length < 2) return undefined;
  const mean = meanOf(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}

type Offers = { readonly offers: LearnedOffer[]; readonly predictedKg: number };

/** One after another, so that what all of them change is the sum of what each does. */
function offersOf(ledger: Ledger, pairs: ReadonlyMap<string, AccuracyRow>): Offers {
  const day = lastDay(ledger);
  const after = { ...ledger, books: copyOf(ledger.books) };
  const offers: LearnedOffer[] = [];
  let seq = ledger.entries.at(-1)?.seq ?? 0;
  for (const part of presentParts(ledger)) {
    const offer = offerFor(ledger, part, pairs);
    if (offer === undefined) continue;
    const entry = entryFromWords(offer.words, { ledger, day, by: '-', newId: () => NO_ID });
    if (!entry.ok || entry.value.kind !== 'estimate') continue;
    const beforeNg = predictedOf(after).massNg;
    seq += 1;
    enter(after.books, { seq, happenedOn: day, frameNm: ledger.datumNm, statement: entry.value });
    offers.push({
      ...{ partId: part.partId, number: part.definition.number, name: part.definition.name },
      ...{ wf: offer.wf, plannedWf: offer.plannedWf, words: offer.words },
      massKg: entry.value.massKg,
      wasKg: part.estimate?.statement.massKg ?? 0,
      changeKg: toKg(predictedOf(after).massNg) - toKg(beforeNg),
    });
  }
  return { offers, predictedKg: toKg(predictedOf(after).massNg) };
}

/** An offer comes after everything that is known. */
function lastDay({ entries }: Ledger): string {
  return (
    entries
      .map(({ entry }) => entry.happenedOn)
      .sort()
      .at(-1) ?? '1900-01-01'
  );
}

/** An offer is only looked at: what is recorded of it gets an id of its own. */
const NO_ID = '00000000-0000-4000-8000-000000000000';

/** Of a part that is not weighed, in the words that would record it; undefined where nothing is learned, or nothing new. */
function offerFor(ledger: Ledger, part: PresentPart, pairs: ReadonlyMap<string, AccuracyRow>) {
  const { estimate } = part;
  const layUp = estimate?.statement.layUp;
  const isWeighed = part.weighedPieces > 0 || part.assemblyByLife.at(-1) !== undefined;
  if (estimate === undefined || layUp?.laminate === undefined || isWeighed) return undefined;
  const learned = pairs.get(pairKey(part.definition.process, mainFabric(layUp)));
  const plannedWf = computeLayUp(layUp).wf;
  if (learned === undefined || learned.count < ENOUGH_WEIGHINGS || plannedWf === undefined) return undefined;
  // As it is typed, so that what is recorded is what was offered.
  const wf = Number(learned.wf.value.toFixed(3));
  if (Math.abs(wf - plannedWf) < 0.0005) return undefined;
  const fraction = { value: wf, std: learned.wf.std };
  const report = estimateReport(ledger, estimate);
  return {
    wf: fraction,
    plannedWf,
    words: {
      ...{ kind: 'estimate', part: part.definition.number },
      // What is stated beside the schedule stays as it is: arms or geometry, allowances, flash.
      ...estimateToSend(estimateInWords(report), report),
      layUp: withFraction(layUp, fraction),
    },
  };
}

function withFraction(layUp: LayUp, { value, std }: { readonly value: number; readonly std: number }): LayUpWords {
  const { 'fibre by volume': _, ...words } = layUpInWords(layUp);
  const percent = (share: number) => `${showFixed(share * 100, 1)} %`;
  return {
    ...words,
    'fibre by mass': percent(value),
    'fraction uncertainty': percent(Math.min(0.5, std)),
  } as LayUpWords;
}
