/** The page itself: what a weight and balance report holds, in the order in which it is read and signed. */

import type { ReactNode } from 'react';
import type { WeighingDoubt } from '#shared/aircraft-weighing/doubts.ts';
import { correctionKg, countedRuns } from '#shared/aircraft-weighing/model.ts';
import { runsAgree } from '#shared/aircraft-weighing/refusals.ts';
import { CHECKS, type Run, type Weighed } from '#shared/aircraft-weighing/weighing.ts';
import { CAUTIONS } from '#shared/brief/cautions.ts';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import type { Shown } from '../pieces/units.ts';
import {
  CHECK_WORDS,
  doubtWords,
  EMPTY_WEIGHT_WORDS,
  FROM_WORDS,
  oilWords,
  SUPPORT_WORDS,
} from '../words/aircraft-weighing.ts';
import { rich } from '../words/rich.ts';
import { Diagram } from './diagram.tsx';
import { Reconcile } from './reconcile-card.tsx';
import type { Reported } from './report-screen.tsx';
import { PointFacts } from './result-panel.tsx';

type Shows = {
  readonly aircraft: AircraftReport;
  readonly reported: Reported;
  readonly doubts: readonly WeighingDoubt[];
  readonly shown: Shown;
  readonly datum: string;
  readonly levelling: string | undefined;
  readonly parts: readonly PartReport[];
  readonly range: { readonly cgForwardM?: number | undefined; readonly cgAftM?: number | undefined };
};

export function ReportBody(props: Shows) {
  const { aircraft, reported, shown, parts } = props;
  const { weighed, result, isSigned } = reported;
  return (
    <article className={`stack ${isSigned ? '' : 'is-draft'}`}>
      {isSigned ? null : <p className="draft-mark" aria-hidden="true">{say`DRAFT`}</p>}
      <header className="stack-tight">
        <h1>{rich`${isSigned ? '' : say`DRAFT: `}Weight and balance report of ${aircraft.name}`}</h1>
        {isSigned ? null : <p className="notice bad">{say`DRAFT. This weighing is not signed. Do not use it.`}</p>}
        <p>
          {rich`${aircraft.isInvented ? say`An invented aircraft. ` : ''}Weighed on ${reported.happenedOn === '' ? '________' : dayWords(reported.happenedOn)}${reported.seq === undefined ? '' : say`, entry ${reported.seq} of the ledger`}.`}
        </p>
      </header>
      <Section title={say`Result`}>
        <PointFacts title={say`Empty weight and CG`} point={result.empty} aircraft={aircraft} shown={shown} isMain />
        <PointFacts title={say`As weighed`} point={result.asWeighed} aircraft={aircraft} shown={shown} />
        <p>
          {rich`${EMPTY_WEIGHT_WORDS} ${oilWords(reported.oilIsEmptyWeight)} Each figure stands with its standard uncertainty.`}
        </p>
        <Diagram weighed={weighed} result={result} shown={shown} {...props.range} />
      </Section>
      <Doubts doubts={props.doubts} />
      <Section title={say`How it stood`}>
        <p>{rich`Datum: ${props.datum}`}</p>
        {props.levelling === undefined ? null : <p>{rich`Levelled by: ${props.levelling}`}</p>}
        <p>{rich`Reference of the supports: ${weighed.reference}, at ${shown.lengthWithUnit(weighed.referenceM)} from the datum${weighed.referenceStdM > 0 ? ` ± ${shown.lengthWithUnit(weighed.referenceStdM)}` : ''}.`}</p>
        <Supports weighed={weighed} shown={shown} />
      </Section>
      <Section title={say`Readings`}>
        <Readings weighed={weighed} runs={weighed.level} shown={shown} name={say`Run`} />
        {weighed.tilted === undefined ? null : (
          <>
            <p>{rich`Tilted by ${showFixed((weighed.tilted.angleRad * 180) / Math.PI, 2)}° ± ${showFixed((weighed.tilted.angleStdRad * 180) / Math.PI, 2)}°, nose up positive.`}</p>
            <Readings weighed={weighed} runs={weighed.tilted.runs} shown={shown} name={say`Tilted run`} />
          </>
        )}
        <Agreement weighed={weighed} shown={shown} />
      </Section>
      <Section title={say`Taken off and put on`}>
        <Corrections weighed={weighed} shown={shown} />
        <p>{rich`Parts of the ledger that were not aboard: ${reported.notAboard === '' ? say`none` : reported.notAboard}.`}</p>
      </Section>
      <Section title={say`Where the uncertainty comes from`}>
        <Table headings={[say`Source`, say`Mass, ${shown.units.mass}`, say`CG x, ${shown.units.length}`]}>
          {result.contributions.map((one) => (
            <tr key={one.from}>
              <th scope="row">{FROM_WORDS[one.from]}</th>
              <td className="number">{shown.massWithStd(0, one.massStdKg).std ?? '0'}</td>
              <td className="number">{shown.lengthWithStd(0, one.xStdM).std ?? '0'}</td>
            </tr>
          ))}
        </Table>
      </Section>
      <Section title={say`Checklist`}>
        <Table headings={[say`Question`, say`Answer`, say`In words`]}>
          {CHECKS.map((check) => {
            const answer = weighed.checklist.find((one) => one.check === check);
            return (
              <tr key={check}>
                <th scope="row">{CHECK_WORDS[check]}</th>
                <td>{answer === undefined ? say`open` : answer.isSo ? say`yes` : say`no`}</td>
                <td>{answer?.words ?? ''}</td>
              </tr>
            );
          })}
        </Table>
      </Section>
      {reported.signed?.reconcile === undefined ? null : (
        <Section title={say`Against the parts of the ledger`}>
          <Reconcile of={reported.signed.reconcile} shown={shown} />
        </Section>
      )}
      <Section title={say`Cautions`}>
        <ul className="plain-list">
          {CAUTIONS.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      </Section>
      <Section title={say`Signed`}>
        <dl className="signature-lines">
          <Line name={say`Name`} value={reported.signedBy} isSigned={isSigned} />
          <Line name={say`Licence or authority`} value={reported.signedAs} isSigned={isSigned} />
          <Line name={say`Day`} value={dayWords(reported.signedOn)} isSigned={isSigned} />
          <Line name={say`Signature`} value="" isSigned={isSigned} />
        </dl>
      </Section>
      <Section title={say`Equipment list`}>
        <Equipment parts={parts} shown={shown} />
      </Section>
    </article>
  );
}

const PIECES = say`Pieces`;

function Section({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <section className="stack-tight" aria-label={title}>
      <h2>{title}</h2>
      {children}
    </section>
  );
}

function Table({ headings, children }: { readonly headings: readonly string[]; readonly children: ReactNode }) {
  return (
    <div className="scroll-across" tabIndex={0} role="region" aria-label={headings.filter(Boolean).join(', ')}>
      <table>
        <thead>
          <tr>
            {headings.map((heading) => (
              <th key={heading} scope="col" className={heading.includes(', ') || heading === PIECES ? 'number' : ''}>
                {heading}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>{children}</tbody>
      </table>
    </div>
  );
}

function Doubts({ doubts }: { readonly doubts: readonly WeighingDoubt[] }) {
  if (doubts.length === 0) return null;
  return (
    <Section title={say`To be looked at`}>
      <ul className="plain-list">
        {doubts.map((doubt) => (
          <li key={JSON.stringify(doubt)}>⚠ {doubtWords(doubt)}</li>
        ))}
      </ul>
    </Section>
  );
}

function Supports({ weighed, shown }: { readonly weighed: Weighed; readonly shown: Shown }) {
  const { mass, length } = shown.units;
  const hasY = weighed.supports.some(({ yM }) => yM !== undefined);
  const hasZ = weighed.supports.some(({ zM }) => zM !== undefined);
  return (
    <Table
      headings={[
        ...[say`Support`, say`x from the reference, ${length}`, `± x, ${length}`],
        ...(hasY ? [`y, ${length}`] : []),
        ...(hasZ ? [`z, ${length}`] : []),
        ...[say`Scale`, say`Resolution, ${mass}`, say`Calibration, 1 sd`],
      ]}
    >
      {weighed.supports.map((one) => (
        <tr key={one.name}>
          <th scope="row">
            {one.name} <span className="soft">({SUPPORT_WORDS[one.is]})</span>
          </th>
          <td className="number">{shown.length(one.xM)}</td>
          <td className="number">{shown.length(one.xStdM)}</td>
          {hasY ? <td className="number">{shown.length(one.yM)}</td> : null}
          {hasZ ? <td className="number">{shown.length(one.zM)}</td> : null}
          <td>{one.scale ?? say`not named`}</td>
          <td className="number">{shown.mass(one.resolutionKg)}</td>
          <td className="number">{one.gainStd === 0 ? say`not known` : `${showFixed(100 * one.gainStd, 3)} %`}</td>
        </tr>
      ))}
    </Table>
  );
}

function Readings(props: {
  readonly weighed: Weighed;
  readonly runs: readonly Run[];
  readonly shown: Shown;
  readonly name: string;
}) {
  const { weighed, runs, shown, name } = props;
  const { mass } = shown.units;
  return (
    <Table
      headings={[say`Run`, say`Support`, say`Gross, ${mass}`, say`Tare, ${mass}`, say`Net, ${mass}`, say`As typed`]}
    >
      {runs.flatMap((run, at) =>
        run.readings.map(({ grossKg, tareKg, typed }, supportAt) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a run has no name but its place.
          <tr key={`${at} ${weighed.supports[supportAt]?.name}`}>
            <td>
              {name} {at + 1}
              {run.setAside === undefined ? '' : say`, set aside: ${run.setAside}`}
            </td>
            <th scope="row">{weighed.supports[supportAt]?.name}</th>
            <td className="number">{shown.mass(grossKg)}</td>
            <td className="number">{shown.mass(tareKg)}</td>
            <td className="number">{shown.mass(grossKg - tareKg)}</td>
            <td>
              {typed['gross'] ?? ''}
              {typed['tare'] === undefined ? '' : say` less ${typed['tare']}`}
            </td>
          </tr>
        )),
      )}
    </Table>
  );
}

function Agreement({ weighed, shown }: { readonly weighed: Weighed; readonly shown: Shown }) {
  const { isOne, agree, apartKg, apartM } = runsAgree(weighed);
  const { massKg, cgM, from } = weighed.agreement;
  const count = countedRuns(weighed.level).length;
  return (
    <p>
      {isOne
        ? say`One run counts; it has nothing to agree with.`
        : say`${count} runs count and ${agree ? say`agree` : say`DO NOT AGREE`}: ${shown.massWithUnit(apartKg)} and ${shown.lengthWithUnit(apartM)} apart, of ${shown.massWithUnit(massKg)} and ${shown.lengthWithUnit(cgM)} allowed${from === 'common practice' ? say` (common practice, no source)` : ''}.`}
    </p>
  );
}

function Corrections({ weighed, shown }: { readonly weighed: Weighed; readonly shown: Shown }) {
  const { mass, length } = shown.units;
  if (weighed.corrections.length === 0) return <p>{say`Nothing was taken off or put on.`}</p>;
  return (
    <Table headings={[say`What`, say`Mass, ${mass}`, `x, ${length}`, `y, ${length}`, `z, ${length}`, say`As typed`]}>
      {weighed.corrections.map((one, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: two rows may say the same.
        <tr key={`${one.name} ${at}`}>
          <th scope="row">{one.name}</th>
          <td className="number">{shown.mass((one.way === 'on' ? 1 : -1) * correctionKg(one), { sign: true })}</td>
          <td className="number">{shown.length(one.xM)}</td>
          <td className="number">{shown.length(one.yM)}</td>
          <td className="number">{shown.length(one.zM)}</td>
          <td>
            {one.is === 'fluid'
              ? say`${one.fluid}, ${one.typed['volume'] ?? ''} of ${one.typed['density'] ?? ''}`
              : (one.typed['mass'] ?? '')}
          </td>
        </tr>
      ))}
    </Table>
  );
}

/** Assemblies that weigh nothing beside their parts are left out. */
function Equipment({ parts, shown }: { readonly parts: readonly PartReport[]; readonly shown: Shown }) {
  if (parts.length === 0) return <p>{say`The ledger has no parts.`}</p>;
  const { mass, length } = shown.units;
  return (
    <>
      <p>{say`Parts of the ledger that were aboard, with the mass that the ledger has of them, without allowance.`}</p>
      <Table headings={[say`Number`, say`Name`, PIECES, say`Mass, ${mass}`, `x, ${length}`]}>
        {parts
          .filter(({ basicKg }) => basicKg !== 0)
          .map((part) => (
            <tr key={part.partId}>
              <th scope="row">{part.number}</th>
              <td>{part.name}</td>
              <td className="number">{part.quantity}</td>
              <td className="number">{shown.mass(part.basicKg)}</td>
              <td className="number">{shown.length(part.xM)}</td>
            </tr>
          ))}
      </Table>
    </>
  );
}

function Line({
  name,
  value,
  isSigned,
}: {
  readonly name: string;
  readonly value: string | undefined;
  readonly isSigned: boolean;
}) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{isSigned ? (value ?? '') : ''}</dd>
    </div>
  );
}
