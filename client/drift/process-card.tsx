/** One process: whether it changed, what that does, why it did, and its two charts (rules D4, F1). */

import { useCallback, useState } from 'react';
import type { ProcessDriftReport, ProcessForecastReport, ReleaseReport } from '#shared/contract/forecast.ts';
import { hasChanged } from '#shared/drift/has-changed.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { Picture } from '../ledger/picture.tsx';
import { Button } from '../pieces/controls.tsx';
import { withDays } from '../pieces/day.tsx';
import { EntryLink } from '../pieces/entry-link.tsx';
import { minus, percent, type Shown } from '../pieces/units.ts';
import { averageConfig, sumsConfig } from './control-charts.ts';
import { type Fact, Facts } from './facts.tsx';
import { addsWords, shiftWords } from './process-figures.ts';
import { slug } from './process-row.tsx';
import { asksForCause, callWords, falseAlarmWords, ProcessWord } from './process-words.tsx';

type Props = {
  readonly aircraftId: string;
  readonly report: ProcessDriftReport;
  readonly forecast: ProcessForecastReport | undefined;
  readonly shown: Shown;
  readonly onCause: (() => void) | undefined;
};

export function ProcessCard(props: Props) {
  const { report, onCause } = props;
  const { process, signal, cause } = report;
  // What is in line is read in a line; its charts are a press away.
  const [isOpen, setOpen] = useState(hasChanged(report));
  const act = cause === undefined ? say`State the cause` : say`Change the cause`;
  const isAsked = cause !== undefined || asksForCause(report);
  return (
    <section
      className={`card stack-tight process ${isOpen ? 'is-open' : ''}`}
      id={slug(process)}
      aria-labelledby={`process-${slug(process)}`}
    >
      <h2 id={`process-${slug(process)}`}>{term(process)}</h2>
      <ProcessWord report={report} />
      {signal === undefined ? null : <p>{withDays(callWords(signal, report.points))}</p>}
      <div className="process-facts">
        <Facts facts={shiftFacts(props)} />
        <Facts facts={causeFacts(props)} />
      </div>
      <div className="row no-print">
        {signal === undefined || onCause === undefined || !isAsked ? null : (
          <Button slim onPress={onCause} aria-label={say`${act} of ${term(process)}`}>
            {act}
          </Button>
        )}
        <Button slim kind="quiet" aria-expanded={isOpen} onPress={() => setOpen(!isOpen)}>
          {isOpen ? say`Hide the charts of ${term(process)}` : say`Show the charts of ${term(process)}`}
        </Button>
      </div>
      {isOpen ? <Charts report={report} /> : null}
    </section>
  );
}

function shiftFacts({ report, forecast, shown }: Props): readonly Fact[] {
  const open = forecast?.openPieces ?? 0;
  return [
    { name: say`its shift now`, value: shiftWords(forecast) },
    { name: say`adds to the forecast`, value: addsWords(forecast, shown) },
    {
      name: say`still open`,
      value:
        open === 0
          ? say`nothing`
          : `${open === 1 ? say`one piece` : say`${open} pieces`}, ${shown.massWithUnit(forecast?.openKg)}`,
    },
    { name: say`releases`, value: releaseWords(report, forecast) },
  ];
}

function releaseWords({ points }: ProcessDriftReport, forecast: ProcessForecastReport | undefined): string {
  if (forecast === undefined || forecast.earlierCount === 0) return String(points.length);
  return say`${points.length}, of which ${forecast.releaseCount} since ${forecast.since?.part ?? say`it changed`} count`;
}

function causeFacts({ aircraftId, report }: Props): readonly Fact[] {
  const { cause, signal } = report;
  if (signal === undefined) return [];
  if (cause === undefined)
    return [{ name: say`cause`, value: asksForCause(report) ? <em>{say`not stated`}</em> : say`none is asked for` }];
  return [
    { name: say`cause`, value: term(cause.cause) },
    ...(cause.found === undefined ? [] : [{ name: say`found`, value: <span className="found">{cause.found}</span> }]),
    {
      name: say`stated`,
      value: (
        <>
          {dayWords(cause.on)}, {cause.by}, <EntryLink aircraftId={aircraftId} seq={cause.seq} />
        </>
      ),
    },
  ];
}

function Charts({ report }: { readonly report: ProcessDriftReport }) {
  const average = useCallback(() => averageConfig(report), [report]);
  const sums = useCallback(() => sumsConfig(report), [report]);
  const { process, signal, limits, points } = report;
  const call = signal === undefined ? say`No release is outside.` : callWords(signal, report.points);
  return (
    <>
      <div className="chart-pair">
        <Picture
          isWithin
          title={say`Running average of ${term(process)} and its limits`}
          summary={say`Each release against estimate and allowance, 0 being as expected; the average follows with a weight of ${limits.lambda} for the newest. ${call}`}
          configure={average}
        >
          <ReleaseTable
            points={points}
            columns={[
              [say`difference, %`, (one) => percentOf(one.differenceFraction)],
              [say`allowance, %`, (one) => percentOf(one.allowanceFraction)],
              ['±, %', (one) => percentOf(one.stdFraction)],
              [say`deviation`, (one) => fixed(one.deviation)],
              [say`average`, (one) => fixed(one.ewma)],
              [say`lower limit`, (one) => fixed(one.ewmaLower)],
              [say`upper limit`, (one) => fixed(one.ewmaUpper)],
            ]}
          />
        </Picture>
        <Picture
          isWithin
          title={say`Sums of the deviations of ${term(process)} and their limit`}
          summary={say`Small deviations of one side add up, less ${limits.k} a release; beyond ${limits.h} the process is called. ${call}`}
          configure={sums}
        >
          <ReleaseTable
            points={points}
            columns={[
              [say`deviation`, (one) => fixed(one.deviation)],
              [say`heavy sum`, (one) => fixed(one.cusumHigh)],
              [say`light sum`, (one) => fixed(one.cusumLow)],
              [say`limit`, () => fixed(limits.h)],
            ]}
          />
        </Picture>
      </div>
      <p className="soft small">{falseAlarmWords(report.falseAlarmEvery)}</p>
    </>
  );
}

function percentOf(fraction: number): string {
  return percent(fraction).replace(/\u00a0%$/, '');
}

function fixed(value: number): string {
  return minus(value.toFixed(2));
}

type Column = readonly [heading: string, cell: (point: ReleaseReport) => string];

function ReleaseTable(props: { readonly points: readonly ReleaseReport[]; readonly columns: readonly Column[] }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{say`Part`}</th>
          <th scope="col">{say`Day`}</th>
          <th scope="col" className="number">{say`Entry`}</th>
          {props.columns.map(([heading]) => (
            <th key={heading} scope="col" className="number">
              {heading}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {props.points.map((point) => (
          <tr key={`${point.seq} ${point.pieces[0]}`}>
            <td>{point.part}</td>
            <td>{dayWords(point.on)}</td>
            <td className="number">{point.seq}</td>
            {props.columns.map(([heading, cell]) => (
              <td key={heading} className="number">
                {cell(point)}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
