/** A process that was called, among what drifts: where, why, and what it adds to the forecast. */

import { Link } from 'wouter';
import type { ProcessDriftReport, ProcessForecastReport } from '#shared/contract/forecast.ts';
import { say, term } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import type { Shown } from '../pieces/units.ts';
import { Facts } from './facts.tsx';
import { addsWords, shiftWords } from './process-figures.ts';
import { asksForCause, callWords, ProcessWord } from './process-words.tsx';

export function ProcessRow(props: {
  readonly aircraftId: string;
  readonly report: ProcessDriftReport;
  readonly forecast: ProcessForecastReport | undefined;
  readonly shown: Shown;
  readonly onCause: (() => void) | undefined;
}) {
  const { report, forecast, shown, onCause } = props;
  const { process, signal, cause } = report;
  if (signal === undefined) return null;
  const act = cause === undefined ? say`State the cause` : say`Change the cause`;
  return (
    <li className="finding">
      <div className="finding-what">
        <p>
          <Link href={`/aircraft/${props.aircraftId}/processes#${slug(process)}`}>
            <strong>{term(process)}</strong>
          </Link>
        </p>
        <ProcessWord report={report} />
        <p className="soft small">{callWords(signal, report.points)}</p>
      </div>
      <Facts
        facts={[
          { name: say`its shift now`, value: shiftWords(forecast) },
          { name: say`adds to the forecast`, value: addsWords(forecast, shown) },
        ]}
      />
      <Facts
        facts={[
          { name: say`cause`, value: term(cause?.cause) ?? (asksForCause(report) ? <em>{say`not stated`}</em> : '–') },
        ]}
      />
      {onCause === undefined || (cause === undefined && !asksForCause(report)) ? null : (
        <div className="finding-acts no-print">
          <Button
            slim
            kind={cause === undefined ? 'plain' : 'quiet'}
            onPress={onCause}
            aria-label={say`${act} of ${term(process)}`}
          >
            {act}
          </Button>
        </div>
      )}
    </li>
  );
}

/** The place of a process on its screen. */
export function slug(process: string): string {
  return process.replaceAll(' ', '-');
}
