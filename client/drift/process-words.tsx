/** A process in words: whether it changed, which way, where, and how often such a call is a false one. */
import type { ProcessDriftReport, ProcessSignal } from '#shared/contract/forecast.ts';

const READINGS = {
  heavy: { shape: '▲', look: 'heavy', words: 'heavier than estimate and allowance together' },
  light: { shape: '▽', look: 'light', words: 'lighter than its estimates, allowances aside' },
  'allowance to spare': {
    shape: '●',
    look: 'in-line',
    words: 'comes out lighter than estimate and allowance together: the allowance is not used up',
  },
} as const satisfies Record<ProcessSignal['reading'], object>;

const IN_LINE = { shape: '●', look: 'in-line', words: 'in line with estimates and allowances' } as const;

export function ProcessWord({ signal }: Pick<ProcessDriftReport, 'signal'>) {
  const { shape, look, words } = signal === undefined ? IN_LINE : READINGS[signal.reading];
  return (
    <p className={`flag process-word ${look}`}>
      <span aria-hidden="true">{shape}</span> {words}
    </p>
  );
}

const CHARTS = { ewma: 'the running average', cusum: 'the sums', both: 'both charts' } as const;

/** `Called at H-16 on 2025-10-22 by both charts; the change began at H-15 on 2025-10-08, one release before.` */
export function callWords(signal: ProcessSignal): string {
  const { part, on, chart, began, releasesSince: since } = signal;
  const called = `Called at ${part} on ${on} by ${CHARTS[chart]}`;
  if (since === 0) return `${called}, where the change began.`;
  return `${called}; the change began at ${began.part} on ${began.on}, ${since === 1 ? 'one release' : `${since} releases`} before.`;
}

export function falseAlarmWords({ either }: ProcessDriftReport['falseAlarmEvery']): string {
  return `With these limits there is about one call in ${Math.round(either / 10) * 10} releases from a process that has not changed.`;
}

/** Any call but that of an allowance to spare asks why. */
export function asksForCause({ signal }: Pick<ProcessDriftReport, 'signal'>): boolean {
  return signal !== undefined && signal.reading !== 'allowance to spare';
}
