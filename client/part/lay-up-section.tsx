/** The way from a part to its lay-up, with what that comes to where there is one. */

import { Link } from 'wouter';
import type { PartPageReport } from '#shared/contract/part.ts';
import { showPercent } from '#shared/quantity/show.ts';
import { say } from '#shared/words/say.ts';
import { plusMinus, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';

export function LayUpSection(props: {
  readonly page: PartPageReport;
  readonly shown: Shown;
  readonly href: string;
  /** How the lay-ups of the shop come out. */
  readonly accuracyHref: string;
}) {
  const { page, shown, href } = props;
  const { layUp } = page;
  if (layUp === undefined)
    return (
      <section className="card stack-tight no-print" aria-label={say`Lay-up`}>
        <h2>{say`Lay-up`}</h2>
        <p className="soft">{say`No lay-up yet. A schedule of plies, cores and coats makes the estimate a calculated one.`}</p>
        <div>
          <Link href={href} className="button slim">{say`Build the lay-up`}</Link>
        </div>
      </section>
    );
  const { computed, schedule, moved } = layUp;
  const lineCount = schedule.regions.reduce((count, { lines }) => count + lines.length, 0);
  return (
    <section className="card stack-tight" aria-label={say`Lay-up`}>
      <h2>{say`Lay-up`}</h2>
      <p>
        {rich`${<strong>{plusMinus(shown.massWithStd(computed.massKg, computed.stdKg), shown.units.mass)}</strong>}, calculated from ${lineCount} ${lineCount === 1 ? say`line` : say`lines`}${schedule.regions.length === 1 ? '' : say` in ${schedule.regions.length} regions`}${
          computed.wf === undefined || computed.vf === undefined
            ? ''
            : say`; plies Wf ${showPercent(computed.wf)}\u00a0%, Vf ${showPercent(computed.vf)}\u00a0%`
        }.`}
      </p>
      {moved.length === 0 ? null : (
        <p className="notice warn">{rich`The list of materials has moved on since: ${moved.map(({ was }) => was.name).join(', ')}.`}</p>
      )}
      <div className="row">
        <Link href={href} className="button slim">{say`Open the lay-up`}</Link>
        <Link href={props.accuracyHref}>{say`How lay-ups compare with the scale`}</Link>
      </div>
    </section>
  );
}
