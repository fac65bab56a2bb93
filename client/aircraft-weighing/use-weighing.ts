/** The draft with everything that follows from it: the result as it is typed, every problem at its field, and what looks like a slip. */
import { useEffect, useMemo, useState } from 'react';
import { type DoubtContext, doubtsOf, type WeighingDoubt } from '#shared/aircraft-weighing/doubts.ts';
import type { ScaleAt } from '#shared/aircraft-weighing/from-words.ts';
import { type ReadWeighing, readWeighing, type WeighingProblem } from '#shared/aircraft-weighing/read-draft.ts';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { ReconcileReport, SentPoint } from '#shared/contract/aircraft-weighing.ts';
import type { ScaleReport } from '#shared/contract/drift.ts';
import type { HeadlineReport } from '#shared/contract/reports.ts';
import { scaleKey } from '#shared/weighing/scales.ts';
import { useReconcile } from './questions.ts';
import type { Draft } from './use-draft.ts';

/** A figure is half typed for a moment: what is wrong with it is told once it rests. */
const REST_MS = 600;

/** What is only not there yet is told when somebody wants to sign. */
const WAITING: ReadonlySet<string> = new Set(['missing', 'reading-missing', 'no-run', 'checklist-open', 'unsigned']);

export type Weighing = {
  readonly draft: Draft;
  readonly aircraft: AircraftReport;
  readonly read: ReadWeighing;
  readonly doubts: readonly WeighingDoubt[];
  /** The result against the parts that count as aboard, once the server has said. */
  readonly reconcile: ReconcileReport | undefined;
  /** What is wrong and rests; what is only not there yet is among it once all is told. */
  readonly told: readonly WeighingProblem[];
  readonly problemAt: (field: string) => string | undefined;
  /** What is wrong with a list as a whole: supports, level, checklist. */
  readonly problemsOf: (list: string) => readonly string[];
  readonly tellAll: () => void;
  readonly happenedOn: string;
};

export type Around = {
  readonly aircraft: AircraftReport;
  readonly scales: readonly ScaleReport[];
  readonly headline: HeadlineReport;
  readonly today: string;
};

export function scaleAtOf(scales: readonly ScaleReport[]): ScaleAt {
  return (name) => scales.find((one) => scaleKey(one.scale) === scaleKey(name));
}

export function doubtContextOf(
  { scales, headline }: Omit<Around, 'aircraft' | 'today'>,
  happenedOn: string,
  reconcile: ReconcileReport | undefined,
): DoubtContext {
  return {
    expectedKg: headline.basicKg > 0 ? headline.basicKg : undefined,
    aboardKg: reconcile?.ledgerKg,
    cgForwardM: headline.targets?.cgForwardM,
    cgAftM: headline.targets?.cgAftM,
    happenedOn,
    dueOf: (name) => scales.find((one) => scaleKey(one.scale) === scaleKey(name))?.dueOn,
  };
}

export function useWeighing(draft: Draft, around: Around): Weighing {
  const { aircraft, scales } = around;
  const units = useMemo(() => ({ mass: aircraft.massUnit, length: aircraft.lengthUnit }), [aircraft]);
  const scaleAt = useMemo(() => scaleAtOf(scales), [scales]);
  const read = useMemo(() => readWeighing(draft.words, units, scaleAt), [draft.words, units, scaleAt]);
  const rested = useRested(read);
  const [isAllTold, setAllTold] = useState(false);
  const happenedOn = draft.words['happenedOn'] || around.today;
  const reconcile = useReconcile(aircraft.id, pointOf(read, draft, happenedOn)).data;
  const doubts =
    read.weighed === undefined || read.result === undefined
      ? []
      : doubtsOf(read.weighed, read.result, doubtContextOf(around, happenedOn, reconcile));
  const told = read.problems.filter(
    (one) =>
      (isAllTold || !WAITING.has(one.code)) &&
      rested.problems.some(({ field, code }) => field === one.field && code === one.code),
  );
  return {
    ...{ draft, aircraft, read, doubts, told, happenedOn },
    reconcile: read.result === undefined ? undefined : reconcile,
    problemAt: (field) => {
      const found = told.find((one) => one.field === field && one.list === undefined);
      return found === undefined ? undefined : `${found.words} ${found.remedy}`;
    },
    problemsOf: (list) => told.filter((one) => one.list === list).map(({ words, remedy }) => `${words} ${remedy}`),
    tellAll: () => setAllTold(true),
  };
}

function pointOf({ result }: ReadWeighing, { words }: Draft, happenedOn: string): SentPoint | undefined {
  if (result === undefined) return undefined;
  const { massKg, massStdKg, xM, xStdM } = result.empty;
  return { happenedOn, notAboard: words['not aboard'] ?? '', massKg, massStdKg, xM, xStdM };
}

function useRested(read: ReadWeighing): ReadWeighing {
  const [rested, setRested] = useState(read);
  useEffect(() => {
    const timer = setTimeout(() => setRested(read), REST_MS);
    return () => clearTimeout(timer);
  }, [read]);
  return rested;
}
