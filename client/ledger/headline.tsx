/** The figures everybody looks at first: predicted empty weight, margin, CG against its range, share weighed, what is open. */

import type { ReactNode } from 'react';
import { Link } from 'wouter';
import type { OpenListReport, OpenWhat } from '#shared/contract/open-list.ts';
import type { HeadlineReport, Listed } from '#shared/contract/reports.ts';
import { decimalsFor, showFixed, showPercent } from '#shared/quantity/show.ts';
import { say, term } from '#shared/words/say.ts';
import { DRIFT_ID } from '../drift/drift-section.tsx';
import { minus, percent, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { Figure } from './figure.tsx';
import { RangeGauge, ShareGauge } from './gauge.tsx';

export function Headline(
  props: FigureProps & {
    readonly aircraftId: string;
    readonly forecast: ReactNode;
    /** Processes that ask for a cause, which come with the forecast. */
    readonly processesCalled: readonly string[];
    /** Groups whose forecast is over their target (rule D3). */
    readonly groupsOver: readonly string[];
    /** The titles of proposals that are overdue, which are kept beside the ledger. */
    readonly overdue: readonly string[];
    /** How much of each kind is open today. */
    readonly openCounts: OpenListReport['counts'];
  },
) {
  const { headline, shown, aircraftId } = props;
  const { massWithUnit, massWithStd, units } = shown;
  const { weighedShare } = headline;
  return (
    <section className="headline" aria-label={say`Where the aircraft stands`}>
      <Figure
        name={say`Predicted empty weight`}
        {...massWithStd(headline.predictedKg, headline.predictedStdKg)}
        unit={units.mass}
        facts={[
          {
            name: say`basic`,
            value: `${massWithStd(headline.basicKg, headline.predictedStdKg).value}\u00a0${units.mass}`,
          },
          {
            name: say`allowance`,
            value: `+${massWithStd(headline.allowanceKg, headline.predictedStdKg).value}\u00a0${units.mass}`,
          },
        ]}
      />
      {props.forecast}
      <MarginFigure headline={headline} shown={shown} aircraftId={aircraftId} />
      <CgFigure headline={headline} shown={shown} />
      <Figure
        name={say`Weighed, share by mass`}
        value={weighedShare === undefined ? '–' : showPercent(weighedShare)}
        unit="%"
        picture={weighedShare === undefined ? null : <ShareGauge share={weighedShare} />}
        facts={[
          { name: say`weighed`, value: massWithUnit(headline.weighedKg) },
          { name: say`of these installed`, value: massWithUnit(headline.installedKg) },
          { name: say`in stock`, value: massWithUnit(headline.inStockKg) },
        ]}
      />
      <OpenFigure
        headline={headline}
        shown={shown}
        processesCalled={props.processesCalled}
        groupsOver={props.groupsOver}
        overdue={props.overdue}
        openCounts={props.openCounts}
        aircraftId={aircraftId}
      />
      <p className="soft small headline-note">{uncertaintyWords(headline)}</p>
    </section>
  );
}

/** What ± means, and what of it nobody stated (rule U2). */
function uncertaintyWords({ assumedStdCount, exactArmCount }: HeadlineReport): string {
  const parts = (count: number) => (count === 1 ? say`one part` : say`${count} parts`);
  return [
    say`± is one standard uncertainty: the true figure lies within it about two times in three.`,
    ...(assumedStdCount === 0
      ? []
      : [say`For ${parts(assumedStdCount)} nobody stated one, and 3\u00a0% of the estimate is assumed.`]),
    ...(exactArmCount === 0
      ? []
      : [
          say`The stations of ${parts(exactArmCount)} have none and count as exact: the CG is less sure than it looks.`,
        ]),
  ].join(' ');
}

type FigureProps = { readonly headline: HeadlineReport; readonly shown: Shown };

function MarginFigure({ headline, shown, aircraftId }: FigureProps & { readonly aircraftId: string }) {
  const { massWithUnit, units } = shown;
  const { targets } = headline;
  if (targets === undefined)
    return (
      <Figure
        name={say`Margin of the predicted weight`}
        value="–"
        unit={units.mass}
      >{rich`No target is set yet. ${<Link href={`/aircraft/${aircraftId}/set-up/targets`}>{say`Targets are set in Set-up`}</Link>}.`}</Figure>
    );
  const isOver = targets.marginKg < 0;
  return (
    <Figure
      name={say`Margin of the predicted weight`}
      {...shown.massWithStd(targets.marginKg, headline.predictedStdKg, { sign: true })}
      unit={units.mass}
      mark={isOver ? 'bad' : 'good'}
      word={isOver ? say`▲ over the target` : say`● within the target`}
      facts={[
        { name: say`target, rev. ${targets.revision}`, value: massWithUnit(targets.emptyMassKg) },
        { name: say`reserve`, value: massWithUnit(targets.reserveKg) },
        { name: say`of the target`, value: percent(targets.marginShareOfTarget, { sign: true }) },
      ]}
    >
      <Link href={`/aircraft/${aircraftId}/what-if`}>{say`Try what would help`}</Link>
    </Figure>
  );
}

const STANDING = {
  'in range': say`● in range`,
  'forward of range': say`◀ forward of range`,
  'aft of range': say`▶ aft of range`,
} as const;

function CgFigure({ headline, shown }: FigureProps) {
  const { length, lengthWithUnit, units } = shown;
  const { cg, targets } = headline;
  const standing = targets?.cgStanding;
  const isNearEnd = standing === 'in range' && targets?.cgIsNearEnd === true;
  const facts = [
    ...(targets === undefined || standing === undefined
      ? [{ name: say`range`, value: say`not set` }]
      : [{ name: say`range`, value: say`${length(targets.cgForwardM)} to ${lengthWithUnit(targets.cgAftM)}` }]),
    ...(cg.percentMac === undefined
      ? []
      : [{ name: say`of the MAC`, value: percentMac(cg.percentMac, cg.percentMacStd) }]),
    { name: 'y, z', value: `${length(cg.yM)}, ${lengthWithUnit(cg.zM)}` },
  ];
  return (
    <Figure
      name={say`CG, predicted`}
      {...shown.lengthWithStd(cg.xM, cg.xStdM)}
      unit={units.length}
      mark={standing === undefined ? undefined : standing !== 'in range' ? 'bad' : isNearEnd ? 'warn' : 'good'}
      word={standing === undefined ? undefined : isNearEnd ? say`△ in range, within ± of its end` : STANDING[standing]}
      picture={<RangeGauge at={cg.xM} low={targets?.cgForwardM} high={targets?.cgAftM} />}
      facts={facts}
    />
  );
}

function percentMac(value: number, std: number | undefined): string {
  const decimals = decimalsFor(std ?? 0, 1);
  const plusMinus = std === undefined || std <= 0 ? '' : `\u00a0±\u00a0${showFixed(std, decimals)}`;
  return `${minus(showFixed(value, decimals))}${plusMinus}\u00a0%`;
}

type Open = { readonly count: number; readonly words: string; readonly names: readonly string[] };

type OpenProps = FigureProps & {
  readonly processesCalled: readonly string[];
  readonly groupsOver: readonly string[];
  readonly overdue: readonly string[];
  readonly openCounts: OpenListReport['counts'];
  readonly aircraftId: string;
};

/** What the headline of a ledger does not tell. */
const NOT_IN_HEADLINE: readonly OpenWhat[] = [
  'CG out of range',
  'assembly off its parts',
  'laminate dry or impossible',
  'calibration out of date',
  'check weight failed',
];

/** As the open list counts it: what drifts and has its cause and its decision is open no more. */
function openOf({ headline, shown, processesCalled, groupsOver, overdue, openCounts }: OpenProps): readonly Open[] {
  const named = ({ count, first }: Listed, words: string): Open => ({ count, words, names: first });
  const bare = (count: number, words: string): Open => ({ count, words, names: [] });
  return [
    named(headline.withoutCause, say`flagged without a cause`),
    named(headline.withoutDecision, say`flagged without a decision`),
    named(headline.inDoubt, say`weighed on a scale in doubt`),
    named(
      allOf(processesCalled.map((process) => term(process))),
      processesCalled.length === 1
        ? say`process that changed, without a cause`
        : say`processes that changed, without a cause`,
    ),
    named(allOf(groupsOver), groupsOver.length === 1 ? say`group over its target` : say`groups over their target`),
    named(allOf(overdue), overdue.length === 1 ? say`proposal overdue` : say`proposals overdue`),
    bare(
      headline.manySmallCount,
      headline.manySmallCount === 1 ? say`sum of many small ones` : say`sums of many small ones`,
    ),
    ...openCounts
      .filter(({ what }) => NOT_IN_HEADLINE.includes(what))
      .map(({ what, count }) => bare(count, term(what))),
    named(headline.withoutEstimate, say`without an estimate`),
    named(headline.withoutArm, say`without a station, ${shown.massWithUnit(headline.withoutArmKg)} left out of the CG`),
  ].filter(({ count }) => count > 0);
}

function OpenFigure(props: OpenProps) {
  const { headline } = props;
  const open = openOf(props);
  return (
    <div className={`card figure wide-figure ${open.length > 0 ? 'warn' : ''}`}>
      <h2 className="figure-name">{say`Open`}</h2>
      {open.length > 0 ? null : (
        <p className="figure-word">
          {headline.weighedKg > 0 ? say`● nothing open` : say`nothing open, nothing weighed yet`}
        </p>
      )}
      <ul className="open-list">
        {open.map(({ count, words, names }) => (
          <li key={words}>
            <strong className="open-count">{count}</strong>
            <span>
              {words}
              {names.length === 0 ? null : <span className="soft small open-parts">{listOf(names, count)}</span>}
            </span>
          </li>
        ))}
      </ul>
      {open.length === 0 ? null : (
        <p className="small no-print">
          <Link href={`/aircraft/${props.aircraftId}/open`}>{say`See what is open, and close it`}</Link>
        </p>
      )}
      {headline.driftingCount + headline.watchCount > 0 ? (
        <p className="small">
          {say`${headline.driftingCount} drifting, ${headline.watchCount} to watch.`}{' '}
          <a href={`#${DRIFT_ID}`}>{say`See what drifts`}</a>
        </p>
      ) : null}
    </div>
  );
}

/** A part number keeps its hyphen on the line. */
function listOf(numbers: readonly string[], count: number): string {
  const first = numbers.slice(0, 4).map((number) => number.replaceAll('-', '\u2011'));
  return count > first.length ? say`${first.join(', ')} and ${count - first.length} more` : first.join(', ');
}

function allOf(names: readonly string[]): Listed {
  return { count: names.length, first: [...names] };
}
