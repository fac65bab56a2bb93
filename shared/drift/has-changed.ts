import type { ProcessDriftReport } from '#shared/contract/forecast.ts';

/** A call on the only release there is: it is told as that, and is no change of the process yet (rule D4). */
export function isCalledOnce({ signal, points }: Pick<ProcessDriftReport, 'signal' | 'points'>): boolean {
  return signal !== undefined && points.length === 1;
}

export function hasChanged(report: Pick<ProcessDriftReport, 'signal' | 'points'>): boolean {
  return report.signal !== undefined && !isCalledOnce(report);
}
