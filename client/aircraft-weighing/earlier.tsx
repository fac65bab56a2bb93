/** The weighings that were signed, newest first, each with its report and what it found beyond the parts. */

import { Link } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { SignedWeighingReport } from '#shared/contract/aircraft-weighing.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { EntryLink } from '../pieces/entry-link.tsx';
import { plusMinus, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { Reconcile } from './reconcile-card.tsx';

export function Earlier(props: {
  readonly signed: readonly SignedWeighingReport[];
  readonly aircraft: AircraftReport;
  readonly shown: Shown;
  /** Begins a draft that corrects it; undefined where one is being made, or nobody here may. */
  readonly onCorrect: ((weighing: SignedWeighingReport) => void) | undefined;
}) {
  const { signed, aircraft, shown } = props;
  if (signed.length === 0) return null;
  return (
    <section className="stack" aria-label={say`Signed weighings`}>
      <h2>{say`Signed weighings`}</h2>
      {signed.map((one) => (
        <article key={one.seq} className="card stack-tight" aria-label={say`Weighing of ${dayWords(one.happenedOn)}`}>
          <h3>{rich`Weighed on ${dayWords(one.happenedOn)}, signed by ${one.statement.signedBy}`}</h3>
          <p className="weighing-figure">
            {rich`${plusMinus(shown.massWithStd(one.statement.massKg, one.statement.massStdKg), shown.units.mass)}, CG x ${plusMinus(shown.lengthWithStd(one.statement.xM, one.statement.xStdM), shown.units.length)}`}
          </p>
          {one.datumHasMoved ? (
            <p className="soft">{rich`Its stations are told from the datum of that time: ${one.datum}`}</p>
          ) : null}
          {one.reconcile === undefined ? null : (
            <details className="more">
              <summary>{say`Against the ledger of that day`}</summary>
              <Reconcile of={one.reconcile} shown={shown} />
            </details>
          )}
          <div className="row">
            <Link
              className="button slim"
              href={`/aircraft/${aircraft.id}/aircraft-weighing/report/${one.seq}`}
            >{say`Report to print`}</Link>
            <span>
              <EntryLink aircraftId={aircraft.id} seq={one.latestSeq} />
            </span>
            {props.onCorrect === undefined ? null : (
              <Button
                slim
                kind="quiet"
                onPress={() => props.onCorrect?.(one)}
                aria-label={say`Correct … the weighing of ${dayWords(one.happenedOn)}`}
              >{say`Correct …`}</Button>
            )}
          </div>
        </article>
      ))}
    </section>
  );
}
