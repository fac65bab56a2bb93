/** What holds, first of all (rule C5): inside or outside, for the empty weight that is looked at, the others, and the drift since an earlier day. */

import type { AnswerReport, BandReport, EmptyName, LoadingReport } from '#shared/contract/loading.ts';
import { bandVerdictOf, distanceText, loadsText, verdictOf, worstText } from '#shared/loading/say.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { Choice, Field } from '../pieces/controls.tsx';
import { minus, type Shown, tied } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';

export const EMPTY_WORDS: Readonly<Record<EmptyName, string>> = {
  predicted: say`predicted`,
  forecast: say`forecast`,
  'light and forward': say`forecast’s light and forward`,
  'light and aft': say`forecast’s light and aft`,
  'heavy and forward': say`forecast’s heavy and forward`,
  'heavy and aft': say`forecast’s heavy and aft`,
};

/** Outside in red, with its word and shape; nothing on it closes it. */
export function Verdict({ report, shown }: { readonly report: LoadingReport; readonly shown: Shown }) {
  const { units } = shown;
  const looked = report.answers.filter(({ empty }) => empty.name === 'predicted' || empty.name === 'forecast');
  const corners = report.answers.filter((answer) => !looked.includes(answer));
  const isOutside = looked.some((answer) => !verdictOf(answer, units).isInside);
  const { band } = report;
  const isBandOutside = band !== undefined && band.state !== 'inside';
  return (
    <section
      className={`notice verdict stack-tight ${isOutside ? 'bad' : isBandOutside ? 'warn' : 'good'}`}
      aria-label={say`Verdict`}
    >
      <p className="verdict-headline">
        <span aria-hidden="true">{isOutside ? '▲' : isBandOutside ? '△' : '●'} </span>
        {isOutside
          ? say`Outside the envelope`
          : isBandOutside
            ? say`Inside as it is forecast, and not within all of its band`
            : say`Inside the envelope`}
      </p>
      {looked.map((answer) => (
        <Said key={answer.empty.name} answer={answer} shown={shown} />
      ))}
      {band === undefined ? null : <Band band={band} corners={corners} shown={shown} />}
      <p className="small">{say`Planning figures, not approved data: no flight on them. The completed aircraft is weighed, and its loading limits are those of its signed papers.`}</p>
    </section>
  );
}

function Said({ answer, shown }: { readonly answer: AnswerReport; readonly shown: Shown }) {
  const { headline, worst, cases } = verdictOf(answer, shown.units);
  const { empty } = answer;
  return (
    <p>
      <strong>{rich`On the ${empty.name} empty weight (${shown.massWithUnit(empty.massKg)} at ${shown.lengthWithUnit(empty.xM)}):`}</strong>{' '}
      {headline} {worst === undefined ? '' : said(worst)} {cases}
    </p>
  );
}

function Band(props: { readonly band: BandReport; readonly corners: readonly AnswerReport[]; readonly shown: Shown }) {
  const { corners, shown } = props;
  const { units } = shown;
  const { isInside, headline, worst } = bandVerdictOf(props.band, units);
  const insideCount = corners.filter(({ state }) => state === 'inside').length;
  return (
    <details>
      <summary>
        {rich`${<span aria-hidden="true">{isInside ? '●' : '▲'} </span>}${headline} ${insideCount === 0 ? say`None of its ${corners.length} ends has.` : say`Of its ${corners.length} ends, ${insideCount} ${insideCount === 1 ? say`has` : say`have`}.`}`}
      </summary>
      {worst === undefined ? null : <p>{said(worst)}</p>}
      <ul className="band-ends">
        {corners.map((answer) => {
          const { empty, worstOfAll, state } = answer;
          return (
            <li key={empty.name}>
              {rich`${<strong>{empty.name}</strong>} (${shown.massWithUnit(empty.massKg)} at ${shown.lengthWithUnit(empty.xM)}): ${state === 'inside' ? say`● inside` : say`▲ outside`}${
                worstOfAll === undefined
                  ? ''
                  : say`; worst ${said(`${worstText(worstOfAll, units)}: ${loadsText(worstOfAll.loaded.loads, units)}`)}`
              }`}
            </li>
          );
        })}
      </ul>
    </details>
  );
}

export type Since = '7' | '28' | 'day';
const SINCE = [
  { value: '7', words: say`7 days` },
  { value: '28', words: say`28 days` },
  { value: 'day', words: say`a day` },
] as const;

/** What the drift since an earlier day did to the worst loadings, with the limits of today. */
export function EarlierCard(props: {
  readonly report: LoadingReport;
  readonly shown: Shown;
  readonly since: Since;
  readonly day: string;
  readonly onSince: (since: Since) => void;
  readonly onDay: (day: string) => void;
}) {
  const { report, shown, since, day } = props;
  const { earlier } = report;
  const pairs = (['predicted', 'forecast'] as const).flatMap((name) => {
    const now = report.answers.find(({ empty }) => empty.name === name);
    const before = earlier?.[name];
    return now === undefined || before === undefined ? [] : [{ name, now, before }];
  });
  return (
    <section className="card stack" aria-label={say`What the drift did to it`}>
      <div className="stack-tight">
        <h2>{say`What the drift did to it`}</h2>
        <p className="soft">{say`The limits of today on the empty weight of an earlier day, with what is known of that day now: how the worst loadings have moved since.`}</p>
      </div>
      <div className="row earlier-choice">
        <Choice label={say`Compared with`} options={SINCE} value={since} onChange={props.onSince} />
        {since === 'day' ? <Field label={say`Day`} type="date" value={day} onChange={props.onDay} /> : null}
      </div>
      {earlier === undefined ? (
        <p className="soft">{say`Nothing had happened by then.`}</p>
      ) : (
        <>
          {pairs.map(({ name, now, before }) => (
            <Moved key={name} {...{ name, now, before, shown }} day={dayWords(earlier.day)} />
          ))}
          <p className="soft small">
            {earlier.day === earlier.since
              ? say`As on ${dayWords(earlier.day)}.`
              : say`As on ${dayWords(earlier.since)}; the last day until then on which something happened was ${dayWords(earlier.day)}.`}
          </p>
        </>
      )}
    </section>
  );
}

function Moved(props: {
  readonly name: string;
  readonly now: AnswerReport;
  readonly before: AnswerReport;
  readonly day: string;
  readonly shown: Shown;
}) {
  const { name, now, before, shown } = props;
  const { units } = shown;
  const rows = now.worst.flatMap((worst) => {
    const then = before.worst.find((other) => other.side === worst.side && other.way === worst.way);
    if (worst.outM === undefined || then?.outM === undefined) return [];
    return [{ worst, then, changeM: worst.outM - then.outM }];
  });
  const change = (changeM: number) => {
    if (Math.abs(changeM) < 5e-5) return say`as it was`;
    return `${distanceText(Math.abs(changeM), units)} ${changeM > 0 ? say`worse` : say`better`}`;
  };
  return (
    <div className="stack-tight">
      <p>
        <strong>
          {rich`${name === 'predicted' ? say`Predicted` : say`Forecast`}: ${shown.massWithUnit(before.empty.massKg)} at ${shown.lengthWithUnit(before.empty.xM)} then, ${shown.massWithUnit(now.empty.massKg)} at ${shown.lengthWithUnit(now.empty.xM)} now.`}
        </strong>
      </p>
      <div className="scroll-across" tabIndex={0} role="region" aria-label={say`Worst loadings then and now, ${name}`}>
        <table>
          <thead>
            <tr>
              <th scope="col">{say`Edge`}</th>
              <th scope="col">{say`Then`}</th>
              <th scope="col">{say`Now`}</th>
              <th scope="col">{say`Since`}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ worst, then, changeM }) => (
              <tr key={`${worst.way} ${worst.side}`}>
                <th scope="row">{edgeText(worst)}</th>
                <td>{said(worstText(then, units))}</td>
                <td>{said(worstText(worst, units))}</td>
                <td className="unparted">{said(change(changeM))}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </div>
  );
}

export function edgeText({ way, side }: { readonly way: string; readonly side?: number | undefined }): string {
  if (way === 'too light') return say`least mass`;
  if (way === 'too heavy') return say`greatest mass`;
  return say`${way}, from corner ${side ?? ''}`;
}

/** Words of the rules as they are set on a screen. */
export function said(words: string): string {
  return minus(tied(words).replace(/(\d) (L|US gal)(?![\w-])/g, '$1\u00a0$2'));
}
