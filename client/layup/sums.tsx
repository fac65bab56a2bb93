/** What the schedule comes to: the mass and what it is of, when it goes on, the fibre fractions, and what makes it uncertain. */

import { SHARE_KINDS } from '#shared/layup/shares.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { say } from '#shared/words/say.ts';
import { percent, type Shown, tied } from '../pieces/units.ts';
import { sourceWords } from '../words/lay-up.ts';
import { rich } from '../words/rich.ts';
import { ON_WORDS } from './line-fields.ts';
import type { Schedule } from './use-schedule.ts';

const KIND_WORDS = {
  fibre: say`Fibre`,
  resin: say`Resin`,
  core: say`Core`,
  coat: say`Coats`,
  other: say`Other`,
} as const;
const MOST_SOURCES = 4;

export function Sums({ of, shown }: { readonly of: Schedule; readonly shown: Shown }) {
  const { computed, linesLeftOut } = of.read;
  if (computed === undefined)
    return (
      <section className="card stack-tight sums" aria-label={say`What it comes to`}>
        <h2>{say`What it comes to`}</h2>
        <p className="soft">{say`Nothing yet: the masses stand here as soon as a line can be read.`}</p>
      </section>
    );
  const { value, std } = shown.massWithStd(computed.massKg, computed.stdKg);
  const { mass } = shown.units;
  return (
    <section className="card stack-tight sums" aria-label={say`What it comes to`}>
      <h2 className="figure-name">{say`What it comes to`}</h2>
      <p className="figure-value">
        {value}{' '}
        <span className="figure-unit">
          {std === undefined ? '' : `±\u00a0${std} `}
          {mass}
        </span>
      </p>
      {linesLeftOut === 0 ? null : (
        <p className="soft small">
          {rich`${linesLeftOut === 1 ? say`One line is` : say`${linesLeftOut} lines are`} not complete and not counted.`}
        </p>
      )}
      <table className="sums-table">
        <thead>
          <tr>
            <th scope="col">{say`Of it`}</th>
            <th scope="col" className="number">
              {mass}, ±
            </th>
            <th scope="col" className="number">{say`Share`}</th>
          </tr>
        </thead>
        <tbody>
          {SHARE_KINDS.filter((kind) => computed.byKind[kind].massKg > 0).map((kind) => (
            <SumRow
              key={kind}
              name={KIND_WORDS[kind]}
              kind={kind}
              sum={computed.byKind[kind]}
              wholeKg={computed.massKg}
              shown={shown}
            />
          ))}
        </tbody>
        <tbody>
          {(['moulded', 'later', 'finish'] as const).map((on) => (
            <SumRow key={on} name={ON_WORDS[on]} sum={computed.byOn[on]} wholeKg={computed.massKg} shown={shown} />
          ))}
        </tbody>
      </table>
      <Fractions of={of} />
      <Sources of={of} shown={shown} />
    </section>
  );
}

function SumRow(props: {
  readonly name: string;
  readonly kind?: string;
  readonly sum: { readonly massKg: number; readonly stdKg: number };
  readonly wholeKg: number;
  readonly shown: Shown;
}) {
  const { sum, wholeKg, kind } = props;
  const { value, std } = props.shown.massWithStd(sum.massKg, sum.stdKg);
  const share = wholeKg > 0 ? sum.massKg / wholeKg : 0;
  return (
    <tr>
      <th scope="row">
        {kind === undefined ? null : <span className={`swatch of-${kind}`} aria-hidden="true" />}
        {props.name}
      </th>
      <td className="number">
        {value}
        {std === undefined ? '' : ` ± ${std}`}
      </td>
      <td className="number">{percent(share)}</td>
    </tr>
  );
}

function Fractions({ of }: { readonly of: Schedule }) {
  const { computed, readable } = of.read;
  const { wf, vf } = computed ?? {};
  const band = readable?.laminate?.band;
  if (wf === undefined || vf === undefined) return null;
  const isDry = band !== undefined && wf > band.highWf;
  const isRich = band !== undefined && wf < band.lowWf;
  return (
    <>
      <p>
        {rich`Plies: Wf ${percent(wf)}, Vf ${percent(vf)}${
          band === undefined
            ? ''
            : say`; usual ${showFixed(band.lowWf * 100, 0)} to ${showFixed(band.highWf * 100, 0)}\u00a0% by mass`
        }`}
      </p>
      {isDry ? (
        <p className="notice warn small">{say`▲ More fibre than the process usually gets: the part may come out heavier than this, or dry.`}</p>
      ) : null}
      {isRich ? (
        <p className="notice warn small">{say`▲ More resin than the process usually leaves: look whether it is meant so.`}</p>
      ) : null}
    </>
  );
}

function Sources({ of, shown }: { readonly of: Schedule; readonly shown: Shown }) {
  const sources = (of.read.computed?.sources ?? []).slice(0, MOST_SOURCES);
  if (sources.length === 0) return null;
  const { mass } = shown.units;
  return (
    <div className="small">
      <p className="soft">{say`The ± comes mostly from`}</p>
      <ul className="sources">
        {sources.map(({ source, stdKg }) => (
          <li key={source}>
            <span>{tied(sourceWords(source))}</span>
            <span className="number">
              {shown.massWithStd(stdKg, stdKg).std} {mass}
            </span>
          </li>
        ))}
      </ul>
    </div>
  );
}
