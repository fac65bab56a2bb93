/** How a part came to be what it is: its estimates, its arms, the lives of its pieces, and what is in it. */

import { Link } from 'wouter';
import type { PartPageReport } from '#shared/contract/part.ts';
import { showMassWithStd, showPercent } from '#shared/quantity/show.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { FlagWord } from '../pieces/flag-word.tsx';
import { TableCard } from '../pieces/table-card.tsx';
import { minus, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';

type Shows = { readonly page: PartPageReport; readonly shown: Shown };

export function Estimates({ page, shown }: Shows) {
  const { estimates } = page;
  const { mass, length } = shown.units;
  return (
    <TableCard
      title={say`Estimates`}
      isWide
      headings={[
        say`Day`,
        { figures: say`Each (${mass})` },
        { figures: say`Allowance (%)` },
        { figures: say`Flash (${mass})` },
        { figures: say`Later (${mass})` },
        { figures: say`Arm x (${length})` },
        say`Evidence`,
        say`Entry`,
      ]}
      none={estimates.length > 0 ? undefined : say`None yet.`}
    >
      {estimates.map((estimate) => (
        <tr key={estimate.seq}>
          <td className="unparted">{dayWords(estimate.happenedOn)}</td>
          <td className="number">
            {shown.mass(estimate.massKg)}
            {estimate.massStdKg === undefined ? '' : ` ± ${stdText(estimate.massKg, estimate.massStdKg, shown)}`}
          </td>
          <td className="number">
            {showPercent(estimate.growth)}
            {estimate.growthFrom === 'shop default' ? say` (default)` : ''}
          </td>
          <td className="number">{shown.mass(estimate.flashKg)}</td>
          <td className="number">{shown.mass(estimate.laterKg)}</td>
          <td className="number">{shown.length(estimate.xM)}</td>
          <td>{term(estimate.evidence)}</td>
          <td className="unparted">
            {estimate.seq}, {estimate.by}
          </td>
        </tr>
      ))}
    </TableCard>
  );
}

function stdText(massKg: number, stdKg: number, { units }: Shown): string {
  return showMassWithStd(massKg, stdKg, units.mass).std ?? '0';
}

export function Arms({ page, shown }: Shows) {
  if (page.arms.length === 0) return null;
  const { length } = shown.units;
  return (
    <TableCard
      title={say`Measured arms`}
      headings={[
        say`Day`,
        { figures: `x (${length})` },
        { figures: `y (${length})` },
        { figures: `z (${length})` },
        say`How`,
        say`Entry`,
      ]}
    >
      {page.arms.map((arm) => (
        <tr key={arm.seq}>
          <td className="unparted">{dayWords(arm.happenedOn)}</td>
          <td className="number">
            {shown.length(arm.xM)}
            {arm.armStdM === undefined ? '' : ` ± ${shown.length(arm.armStdM)}`}
          </td>
          <td className="number">{shown.length(arm.yM)}</td>
          <td className="number">{shown.length(arm.zM)}</td>
          <td>{arm.how ?? say`station`}</td>
          <td className="unparted">
            {arm.seq}, {arm.by}
          </td>
        </tr>
      ))}
    </TableCard>
  );
}

export function Pieces({ page }: { readonly page: PartPageReport }) {
  const { pieces, part } = page;
  if (part.quantity === 1 && pieces.every(({ lives }) => lives.length < 2)) return null;
  const rest = part.quantity - pieces.length;
  return (
    <section className="card stack-tight" aria-label={say`Pieces`}>
      <h2>{say`Pieces`}</h2>
      <ul className="pieces">
        {pieces.map(({ piece, isInstalled, lives }) => (
          <li key={piece}>
            <strong>{piece}</strong>
            <div>
              <p>
                {isInstalled ? say`built in` : part.weighed.includes(piece) ? say`weighed, in stock` : say`not weighed`}
              </p>
              {lives.map((life, at) => (
                <p key={life.begun?.seq ?? 0} className="soft small">
                  {life.begun === undefined
                    ? ''
                    : say`Withdrawn on ${dayWords(life.begun.happenedOn)} (${life.begun.reason}; entry ${life.begun.seq}), then made again. `}
                  {life.weighings.length === 0
                    ? at === lives.length - 1 && life.begun !== undefined
                      ? say`The new one is not weighed yet: the estimate counts.`
                      : ''
                    : say`Weighed: ${life.weighings.length === 1 ? say`entry` : say`entries`} ${life.weighings.join(', ')}.`}
                </p>
              ))}
            </div>
          </li>
        ))}
      </ul>
      {rest > 0 ? (
        <p className="soft small">{rich`${rest === 1 ? say`One more is` : say`${rest} more are`} not weighed yet.`}</p>
      ) : null}
    </section>
  );
}

export function Within({ page, shown, hrefOf }: Shows & { readonly hrefOf: (partId: string) => string }) {
  if (page.children.length === 0) return null;
  return (
    <TableCard
      title={say`Parts in it`}
      headings={[
        say`Number`,
        say`Name`,
        { figures: say`Pieces` },
        { figures: say`Predicted (${shown.units.mass})` },
        say`Flag`,
      ]}
    >
      {page.children.map((child) => {
        const { value, std } = showMassWithStd(child.predictedKg, child.predictedStdKg, shown.units.mass);
        return (
          <tr key={child.partId}>
            <td>
              <Link href={hrefOf(child.partId)}>{child.number}</Link>
            </td>
            <td>{child.name}</td>
            <td className="number">{child.quantity}</td>
            <td className="number">
              {minus(value)}
              {std === undefined ? '' : ` ± ${std}`}
            </td>
            <td>{child.flag === undefined ? '' : <FlagWord flag={child.flag} />}</td>
          </tr>
        );
      })}
    </TableCard>
  );
}
