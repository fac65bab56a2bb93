/** Shows how far a long recording has come, on the error stream, so that the output stays clean. Short work shows nothing. */
import { LOCALE, say } from '#shared/words/say.ts';
import type { Surroundings } from './surroundings.ts';

const SHORT_MS = 700;
const STEP_MS = 1000;

export function progressOn({ err, now }: Surroundings): (done: number, total: number) => void {
  const started = now().getTime();
  let shown = started;
  return (done, total) => {
    const at = now().getTime();
    const isLast = done === total;
    if (at - started < SHORT_MS || (!isLast && at - shown < STEP_MS) || (isLast && shown === started)) return;
    shown = at;
    err.write(`${say`${done.toLocaleString(LOCALE)} of ${total.toLocaleString(LOCALE)} entries recorded`}\n`);
  };
}
