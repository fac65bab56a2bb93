/** The figures everybody looks at first: predicted empty weight, margin, CG against its range, share weighed, what is open. */
import type { HeadlineReport, TargetReport } from '#shared/contract/reports.ts';
import { showFixed, showPercent } from '#shared/quantity/show.ts';
import type { Shown } from '../pieces/units.ts';

export function Headline({ headline, shown }: { readonly headline: HeadlineReport; readonly shown: Shown }) {
  const { mass, units } = shown;
  const { targets } = headline;
  return (
    <section className="headline" aria-label="Where the aircraft stands">
      <Figure name="Predicted empty weight" value={mass(headline.predictedKg)} unit={units.mass}>
        basic {mass(headline.basicKg)} + allowance {mass(headline.allowanceKg)}
      </Figure>
      <MarginFigure targets={targets} shown={shown} />
      <CgFigure headline={headline} shown={shown} />
      <Figure
        name="Weighed"
        value={headline.weighedShare === undefined ? '–' : showPercent(headline.weighedShare)}
        unit="% by mass"
      >
        {mass(headline.weighedKg)} of {mass(headline.basicKg)} {units.mass}; installed {mass(headline.installedKg)}, in
        stock {mass(headline.inStockKg)}
      </Figure>
      <OpenFigure headline={headline} shown={shown} />
    </section>
  );
}

function Figure(props: {
  readonly name: string;
  readonly value: string;
  readonly unit: string;
  readonly mark?: 'good' | 'bad' | 'warn' | undefined;
  readonly word?: string | undefined;
  readonly children: React.ReactNode;
}) {
  return (
    <div className={`card figure ${props.mark ?? ''}`}>
      <h2 className="figure-name">{props.name}</h2>
      <p className="figure-value">
        {props.value} <span className="figure-unit">{props.unit}</span>
      </p>
      {props.word === undefined ? null : <p className="figure-word">{props.word}</p>}
      <p className="soft small">{props.children}</p>
    </div>
  );
}

function MarginFigure({ targets, shown }: { readonly targets: TargetReport | undefined; readonly shown: Shown }) {
  const { mass, units } = shown;
  if (targets === undefined)
    return (
      <Figure name="Margin" value="–" unit={units.mass}>
        No target is set yet: <code>tarebook targets --empty-mass "372 kg"</code>
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
    >
      target {mass(targets.emptyMassKg)} − reserve {mass(targets.reserveKg)} − predicted (
      {showPercent(targets.marginShareOfTarget, { sign: true })} % of the target, revision {targets.revision})
    </Figure>
  );
}

function CgFigure({ headline, shown }: { readonly headline: HeadlineReport; readonly shown: Shown }) {
  const { length, units } = shown;
  const { cg, targets } = headline;
  const standing = targets?.cgStanding;
  const words = {
    'in range': '● in range',
    'forward of range': '◀ forward of range',
    'aft of range': '▶ aft of range',
  };
  return (
    <Figure
      name="CG, predicted"
      value={length(cg.xM)}
      unit={units.length}
      mark={standing === undefined ? undefined : standing === 'in range' ? 'good' : 'bad'}
      word={standing === undefined ? undefined : words[standing]}
    >
      {cg.percentMac === undefined ? '' : `${showFixed(cg.percentMac, 1)} % MAC; `}
      {targets === undefined || standing === undefined
        ? 'no range set'
        : `range ${length(targets.cgForwardM)} to ${length(targets.cgAftM)}`}
      ; y {length(cg.yM)}, z {length(cg.zM)}
    </Figure>
  );
}

function OpenFigure({ headline, shown }: { readonly headline: HeadlineReport; readonly shown: Shown }) {
  const open = [
    { count: headline.driftingCount, words: 'drifting' },
    { count: headline.withoutCause.length, words: `without a cause${listOf(headline.withoutCause)}` },
    { count: headline.watchCount, words: 'to watch' },
    { count: headline.withoutEstimate.length, words: `without an estimate${listOf(headline.withoutEstimate)}` },
    {
      count: headline.withoutArm.length,
      words: `without a station${listOf(headline.withoutArm)} (${shown.mass(headline.withoutArmKg)} ${shown.units.mass} left out of the CG)`,
    },
  ].filter(({ count }) => count > 0);
  return (
    <div className={`card figure ${headline.driftingCount > 0 ? 'warn' : ''}`}>
      <h2 className="figure-name">Open</h2>
      {open.length === 0 ? <p className="figure-word">● nothing open</p> : null}
      <ul className="open-list">
        {open.map(({ count, words }) => (
          <li key={words}>
            <strong>{count}</strong> {words}
          </li>
        ))}
      </ul>
    </div>
  );
}

function listOf(numbers: readonly string[]): string {
  if (numbers.length === 0) return '';
  const first = numbers.slice(0, 4).join(', ');
  return numbers.length > 4 ? `: ${first}, …` : `: ${first}`;
}
