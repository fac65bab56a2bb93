/** In sight below the schedule, however long it is: what it comes to, whether it is recorded, and the act that records it. */

import type { PartPageReport } from '#shared/contract/part.ts';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { plusMinus, type Shown } from '../pieces/units.ts';
import type { Kept } from './kept.ts';
import type { EstimateToBe } from './use-estimate.ts';
import type { Schedule } from './use-schedule.ts';

export function Bar(props: {
  readonly of: Schedule;
  readonly estimate: EstimateToBe;
  readonly page: PartPageReport;
  readonly begin: Kept;
  readonly shown: Shown;
}) {
  const { of, estimate, shown } = props;
  const { computed } = of.read;
  return (
    <section className="lay-up-bar no-print" aria-label={say`Recording`}>
      {estimate.refusal === undefined ? null : (
        <p className="notice bad" role="alert">
          {estimate.refusal}
        </p>
      )}
      <div className="lay-up-bar-row">
        <p className="lay-up-total">
          {computed === undefined
            ? say`Nothing to count yet`
            : plusMinus(shown.massWithStd(computed.massKg, computed.stdKg), shown.units.mass)}
        </p>
        <p className={`small lay-up-state ${estimate.wrongCount > 0 ? 'wrong' : 'soft'}`} role="status">
          {stateWords(props)}
        </p>
        <span className="row">
          {of.putBack === undefined ? null : <Button slim onPress={of.putBack}>{say`Put it back`}</Button>}
          {of.isTyped ? <Button slim onPress={() => of.drop(props.begin)}>{say`Drop it`}</Button> : null}
          <Button slim kind={of.isTyped ? 'main' : 'plain'} onPress={estimate.send}>
            {estimate.isSending ? say`Recording …` : say`Record as estimate`}
          </Button>
        </span>
      </div>
    </section>
  );
}

function stateWords({ of, estimate, page }: Parameters<typeof Bar>[0]): string {
  const { wrongCount, before } = estimate;
  if (wrongCount > 0)
    return say`Nothing is recorded while ${wrongCount === 1 ? say`one field` : say`${wrongCount} fields`} must be put right.`;
  if (!of.isTyped)
    return before !== undefined && page.layUp !== undefined ? say`As recorded in entry ${before.seq}.` : '';
  const kept = of.isKept ? say`Not recorded; kept on this device.` : say`Not recorded, and this device cannot keep it.`;
  return of.begunAt === before?.seq
    ? kept
    : say`${kept} The estimate has changed since, in entry ${before?.seq ?? '?'}.`;
}
