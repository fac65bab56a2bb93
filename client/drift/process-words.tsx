/** A process in words: whether it changed, which way, where, and how often such a call is a false one. */

import type { ProcessDriftReport, ProcessSignal } from '#shared/contract/forecast.ts';
import { hasChanged, isCalledOnce } from '#shared/drift/has-changed.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { percent } from '../pieces/units.ts';

const READINGS = {
  heavy: { shape: '▲', look: 'heavy', words: say`heavier than estimate and allowance together` },
  light: { shape: '▽', look: 'light', words: say`lighter than its estimates, allowances aside` },
  'allowance to spare': {
    shape: '●',
    look: 'in-line',
    words: say`comes out lighter than estimate and allowance together: the allowance is not used up`,
  },
} as const satisfies Record<ProcessSignal['reading'], object>;

const ONCE = { shape: '●', look: 'in-line', words: say`one release so far` } as const;

const IN_LINE = { shape: '●', look: 'in-line', words: say`in line with estimates and allowances` } as const;

/** One release says which way it is off, and no more than that. */
export function ProcessWord({ report }: { readonly report: ProcessDriftReport }) {
  const { signal } = report;
  const { shape, look, words } =
    signal === undefined ? IN_LINE : isCalledOnce(report) ? ONCE : READINGS[signal.reading];
  return (
    <p className={`flag process-word ${look}`}>
      <span aria-hidden="true">{shape}</span> {words}
    </p>
  );
}

const CHARTS = { ewma: say`the running average`, cusum: say`the sums`, both: say`both charts` } as const;

/** `Called at H-16 on 2025-10-22 by both charts; the change began at H-15 on 2025-10-08, one release before.` */
export function callWords(signal: ProcessSignal, points: ProcessDriftReport['points']): string {
  const { part, on, chart, began, releasesSince: since } = signal;
  const [first] = points;
  if (first !== undefined && isCalledOnce({ signal, points }))
    return say`${part} on ${dayWords(on)} is ${percent(first.differenceFraction - first.allowanceFraction, { sign: true })} off estimate and allowance together. Whether the process changed, the next release will show.`;
  const called = say`${youngWords(signal, points)}Called at ${part} on ${dayWords(on)} by ${CHARTS[chart]}`;
  if (since === 0) return say`${called}, where the change began.`;
  return say`${called}; the change began at ${began.part} on ${dayWords(began.on)}, ${since === 1 ? say`one release` : say`${since} releases`} before.`;
}

/** With fewer releases than this, how few they are is said before the call. */
const FEW_RELEASES = 3;

/** `The first release was 24.0 % off estimate and allowance. `; nothing where more stand behind the call. */
function youngWords({ seq }: ProcessSignal, points: ProcessDriftReport['points']): string {
  const behind = points.slice(0, points.findIndex((point) => point.seq === seq) + 1);
  if (behind.length === 0 || behind.length >= FEW_RELEASES) return '';
  const missed = behind.map(({ differenceFraction, allowanceFraction }) => differenceFraction - allowanceFraction);
  const off = percent(missed.reduce((sum, one) => sum + one, 0) / behind.length, { sign: true });
  return behind.length === 1
    ? say`The first release was ${off} off estimate and allowance. `
    : say`The first ${behind.length} releases were ${off} off estimate and allowance on average. `;
}

export function falseAlarmWords({ either }: ProcessDriftReport['falseAlarmEvery']): string {
  return say`With these limits there is about one call in ${Math.round(either / 10) * 10} releases from a process that has not changed.`;
}

/** Any change asks why; an allowance to spare is none. */
export function asksForCause(report: ProcessDriftReport): boolean {
  return hasChanged(report) && report.signal?.reading !== 'allowance to spare';
}
