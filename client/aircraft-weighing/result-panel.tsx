/** What the scales come to as it is typed: as weighed, empty weight and CG with their uncertainty, whether the runs agree, and what looks like a slip. */

import type { WeighedPoint } from '#shared/aircraft-weighing/compute.ts';
import type { WeighingDoubt } from '#shared/aircraft-weighing/doubts.ts';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { decimalsFor, showFixed } from '#shared/quantity/show.ts';
import { percentMac } from '#shared/rollup/centre-of-gravity.ts';
import { say } from '#shared/words/say.ts';
import { minus, plusMinus, type Shown } from '../pieces/units.ts';
import { doubtWords } from '../words/aircraft-weighing.ts';
import { fieldWords, problemWords } from './field-words.ts';
import type { Weighing } from './use-weighing.ts';

export function ResultPanel({ of, shown }: { readonly of: Weighing; readonly shown: Shown }) {
  const { result, agreement, weighed, leftOut } = of.read;
  return (
    <section className="card stack weighing-result" aria-label={say`Result`}>
      <h2>{say`Result`}</h2>
      {result === undefined || weighed === undefined ? (
        <NoResult of={of} />
      ) : (
        <>
          <PointFacts title={say`Empty weight`} point={result.empty} aircraft={of.aircraft} shown={shown} isMain />
          <PointFacts title={say`As weighed`} point={result.asWeighed} aircraft={of.aircraft} shown={shown} />
          {agreement === undefined ? null : (
            <p className={`notice ${agreement.agree ? '' : 'bad'}`}>
              {agreement.isOne
                ? say`One run counts: there is nothing to agree with.`
                : say`Runs ${agreement.agree ? say`● agree` : say`▲ do not agree`}: ${shown.massWithUnit(agreement.apartKg)} and ${shown.lengthWithUnit(agreement.apartM)} apart, of ${shown.massWithUnit(weighed.agreement.massKg)} and ${shown.lengthWithUnit(weighed.agreement.cgM)} allowed${weighed.agreement.from === 'common practice' ? say` (common practice, no source)` : ''}.`}
            </p>
          )}
          {leftOut === 0 ? null : <p className="soft">{leftOutWords(of)}</p>}
        </>
      )}
      <LookAgain doubts={of.doubts} />
    </section>
  );
}

/** Why there is none: what cannot be, or else what is still to be typed. */
function NoResult({ of }: { readonly of: Weighing }) {
  if (of.told.length === 0)
    return (
      <p className="soft">{say`Give every support its station and read it once: the result stands here as you type.`}</p>
    );
  return (
    <div className="notice bad stack-tight">
      <strong>{say`No result yet.`}</strong>
      <ul className="plain-list">
        {of.told.slice(0, MOST_TOLD).map((one) => (
          <li key={JSON.stringify(one)}>{problemWords(of.draft.words, one)}</li>
        ))}
      </ul>
    </div>
  );
}

const MOST_TOLD = 4;
const OF_THE_RESULT = new Set(['support', 'run', 'reading', 'correction', 'angle']);

function leftOutWords({ read, draft }: Weighing): string {
  const fields = read.problems.flatMap(({ field }) =>
    field !== undefined && OF_THE_RESULT.has(field.split(' ')[0] ?? '') ? [field] : [],
  );
  const named = [...new Set(fields)].map((field) => fieldWords(draft.words, field));
  const [first, more] = [named.slice(0, MOST_TOLD), named.length - MOST_TOLD];
  return say`What is not complete yet is left out of it${first.length === 0 ? '' : `: ${first.join('; ')}${more > 0 ? say`; and ${more} more` : ''}`}.`;
}

export function LookAgain({ doubts }: { readonly doubts: readonly WeighingDoubt[] }) {
  if (doubts.length === 0) return null;
  return (
    <div className="notice warn stack-tight" role="status">
      <strong>{say`⚠ Look again`}</strong>
      <ul className="plain-list">
        {doubts.map((doubt) => (
          <li key={JSON.stringify(doubt)}>{doubtWords(doubt)}</li>
        ))}
      </ul>
    </div>
  );
}

export function PointFacts(props: {
  readonly title: string;
  readonly point: WeighedPoint;
  readonly aircraft: AircraftReport;
  readonly shown: Shown;
  readonly isMain?: boolean;
}) {
  const { point, shown, aircraft } = props;
  const { units } = shown;
  const rows = factsOf(point, aircraft, shown);
  return (
    <div className={props.isMain === true ? 'weighing-main' : ''}>
      <h3>{props.title}</h3>
      <p className="weighing-figure">{plusMinus(shown.massWithStd(point.massKg, point.massStdKg), units.mass)}</p>
      <dl className="weighing-facts">
        {rows.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </div>
  );
}

/** The CG along each axis that is known, and in per cent MAC where the aircraft states its chord. */
export function factsOf(
  point: WeighedPoint,
  aircraft: AircraftReport,
  shown: Shown,
): readonly (readonly [string, string])[] {
  const { units } = shown;
  const at = (m: number, std: number | undefined) => plusMinus(shown.lengthWithStd(m, std), units.length);
  const { macM, lemacM } = aircraft;
  const mac =
    macM === undefined || lemacM === undefined
      ? []
      : [['CG, % MAC', macWords(percentMac(point.xM, { macM, lemacM }), (100 * point.xStdM) / macM)] as const];
  return [
    [say`CG x`, at(point.xM, point.xStdM)],
    ...mac,
    ...(point.yM === undefined ? [] : [['CG y', at(point.yM, point.yStdM)] as const]),
    ...(point.zM === undefined ? [] : [['CG z', at(point.zM, point.zStdM)] as const]),
  ];
}

function macWords(value: number, std: number): string {
  const decimals = decimalsFor(std, 1);
  return plusMinus({ value: minus(showFixed(value, decimals)), std: showFixed(std, decimals) }, '%');
}
