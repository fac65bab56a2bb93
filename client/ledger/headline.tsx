/** The figures everybody looks at first: predicted empty weight, margin, CG against its range, share weighed, what is open. */
import type { HeadlineReport, TargetReport } from '#shared/contract/reports.ts';
import { showFixed, showPercent } from '#shared/quantity/show.ts';
import { percent, type Shown } from '../pieces/units.ts';
import { Figure } from './figure.tsx';
import { RangeGauge, ShareGauge } from './gauge.tsx';

export function Headline({ headline, shown }: { readonly headline: HeadlineReport; readonly shown: Shown }) {
  const { mass, massWithUnit, units } = shown;
  const { targets, weighedShare } = headline;
  return (
    <section className="headline" aria-label="Where the aircraft stands">
      <Figure
        name="Predicted empty weight"
        value={mass(headline.predictedKg)}
        unit={units.mass}
        facts={[
          { name: 'basic', value: massWithUnit(headline.basicKg) },
          { name: 'allowance', value: massWithUnit(headline.allowanceKg, { sign: true }) },
        ]}
      />
      <MarginFigure targets={targets} shown={shown} />
      <CgFigure headline={headline} shown={shown} />
      <Figure
        name="Weighed, share by mass"
        value={weighedShare === undefined ? '–' : showPercent(weighedShare)}
        unit="%"
        picture={weighedShare === undefined ? null : <ShareGauge share={weighedShare} />}
        facts={[
          { name: 'weighed', value: massWithUnit(headline.weighedKg) },
          { name: 'of these installed', value: massWithUnit(headline.installedKg) },
          { name: 'in stock', value: massWithUnit(headline.inStockKg) },
        ]}
      />
      <OpenFigure headline={headline} shown={shown} />
    </section>
  );
}

function MarginFigure({ targets, shown }: { readonly targets: TargetReport | undefined; readonly shown: Shown }) {
  const { mass, massWithUnit, units } = shown;
  if (targets === undefined)
    return (
      <Figure name="Margin" value="–" unit={units.mass}>
        No target is set yet. <code>tarebook targets --empty-mass</code> sets one.
      </Figure>
    );
  const isOver = targets.marginKg < 0;
  return (
    <Figure
      name="Margin"
      value={mass(targets.marginKg, { sign: true })}
      unit={units.mass}
      mark={isOver ? 'bad' : 'good'}
      word={isOver ? '▲ over the target' : '● within the target'}
      facts={[
        { name: `target, rev. ${targets.revision}`, value: massWithUnit(targets.emptyMassKg) },
        { name: 'reserve', value: massWithUnit(targets.reserveKg) },
        { name: 'of the target', value: percent(targets.marginShareOfTarget, { sign: true }) },
      ]}
    />
  );
}

const STANDING = {
  'in range': '● in range',
  'forward of range': '◀ forward of range',
  'aft of range': '▶ aft of range',
} as const;

function CgFigure({ headline, shown }: { readonly headline: HeadlineReport; readonly shown: Shown }) {
  const { length, lengthWithUnit, units } = shown;
  const { cg, targets } = headline;
  const standing = targets?.cgStanding;
  const facts = [
    ...(targets === undefined || standing === undefined
      ? [{ name: 'range', value: 'not set' }]
      : [{ name: 'range', value: `${length(targets.cgForwardM)} to ${lengthWithUnit(targets.cgAftM)}` }]),
    ...(cg.percentMac === undefined ? [] : [{ name: 'of the MAC', value: `${showFixed(cg.percentMac, 1)}\u00a0%` }]),
    { name: 'y, z', value: `${length(cg.yM)}, ${lengthWithUnit(cg.zM)}` },
  ];
  return (
    <Figure
      name="CG, predicted"
      value={length(cg.xM)}
      unit={units.length}
      mark={standing === undefined ? undefined : standing === 'in range' ? 'good' : 'bad'}
      word={standing === undefined ? undefined : STANDING[standing]}
      picture={<RangeGauge at={cg.xM} low={targets?.cgForwardM} high={targets?.cgAftM} />}
      facts={facts}
    />
  );
}

function OpenFigure({ headline, shown }: { readonly headline: HeadlineReport; readonly shown: Shown }) {
  const open = [
    { count: headline.driftingCount, words: 'drifting', parts: [] },
    { count: headline.withoutCause.length, words: 'without a cause', parts: headline.withoutCause },
    { count: headline.watchCount, words: 'to watch', parts: [] },
    { count: headline.withoutEstimate.length, words: 'without an estimate', parts: headline.withoutEstimate },
    {
      count: headline.withoutArm.length,
      words: `without a station, ${shown.massWithUnit(headline.withoutArmKg)} left out of the CG`,
      parts: headline.withoutArm,
    },
  ].filter(({ count }) => count > 0);
  return (
    <div className={`card figure ${headline.driftingCount > 0 ? 'warn' : ''}`}>
      <h2 className="figure-name">Open</h2>
      {open.length === 0 ? <p className="figure-word">● nothing open</p> : null}
      <ul className="open-list">
        {open.map(({ count, words, parts }) => (
          <li key={words}>
            <strong className="open-count">{count}</strong>
            <span>
              {words}
              {parts.length === 0 ? null : <span className="soft small open-parts">{listOf(parts)}</span>}
            </span>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** A part number keeps its hyphen on the line. */
function listOf(numbers: readonly string[]): string {
  const first = numbers.slice(0, 4).map((number) => number.replaceAll('-', '\u2011'));
  return numbers.length > 4 ? `${first.join(', ')} and ${numbers.length - 4} more` : first.join(', ');
}
