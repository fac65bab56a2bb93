/** The processes of a brief told apart (rule D4): those that drift, and those that only leave allowance over. */
import type { BriefContent, BriefProcess } from '#shared/contract/brief.ts';
import { say, term } from '#shared/words/say.ts';

type Drift = Pick<BriefContent['drift'], 'processes' | 'calledOnce'>;

export function driftingProcesses({ processes }: Drift): readonly BriefProcess[] {
  return processes.filter(({ signal }) => signal.reading !== 'allowance to spare');
}

export function sparingProcesses({ processes }: Drift): readonly BriefProcess[] {
  return processes.filter(({ signal }) => signal.reading === 'allowance to spare');
}

/** `prepreg: one release so far, which does not say yet whether the process changed.` Nothing where there is no such process. */
export function calledOnceWords({ calledOnce = [] }: Drift): string | undefined {
  if (calledOnce.length === 0) return undefined;
  return say`${calledOnce.map((process) => term(process)).join(', ')}: one release so far, which does not say yet whether the process changed.`;
}

/** What processes have shown takes the predicted weight to the forecast. */
export function shownByProcessesKg({ forecast }: Pick<BriefContent, 'forecast'>): number {
  return forecast.forecastKg - forecast.predictedKg;
}
