/** How a part came to be what it is: its estimates, its arms, the lives of its pieces, and what is in it. */
import { Link } from 'wouter';
import type { PartPageReport } from '#shared/contract/part.ts';
import { showMassWithStd, showPercent } from '#shared/quantity/show.ts';
import { FlagWord } from '../pieces/flag-word.tsx';
import { minus, type Shown } from '../pieces/units.ts';

type Shows = { readonly page: PartPageReport; readonly shown: Shown };

export function Estimates({ page, shown }: Shows) {
  const { estimates } = page;
  const { mass, length } = shown.units;
  return (
    <section className="card stack-tight wide" aria-label="Estimates">
      <h2>Estimates</h2>
      {estimates.length === 0 ? (
        <p className="soft">None yet.</p>
      ) : (
        <div className="scroll-across" tabIndex={0} role="region" aria-label="Estimates as a table">
          <table>
            <thead>
              <tr>
                <th scope="col">Day</th>
                <th scope="col" className="number">
                  Each ({mass})
                </th>
                <th scope="col" className="number">
                  Allowance (%)
                </th>
                <th scope="col" className="number">
                  Flash ({mass})
                </th>
                <th scope="col" className="number">
                  Later ({mass})
                </th>
                <th scope="col" className="number">
                  Arm x ({length})
                </th>
                <th scope="col">Evidence</th>
                <th scope="col">Entry</th>
              </tr>
            </thead>
            <tbody>
              {estimates.map((estimate) => (
                <tr key={estimate.seq}>
                  <td className="unparted">{estimate.happenedOn}</td>
                  <td className="number">
                    {shown.mass(estimate.massKg)}
                    {estimate.massStdKg === undefined
                      ? ''
                      : ` ± ${stdText(estimate.massKg, estimate.massStdKg, shown)}`}
                  </td>
                  <td className="number">
                    {showPercent(estimate.growth)}
                    {estimate.growthFrom === 'shop default' ? ' (default)' : ''}
                  </td>
                  <td className="number">{shown.mass(estimate.flashKg)}</td>
                  <td className="number">{shown.mass(estimate.laterKg)}</td>
                  <td className="number">{shown.length(estimate.xM)}</td>
                  <td>{estimate.evidence}</td>
                  <td className="unparted">
                    {estimate.seq}, {estimate.by}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </section>
  );
}

function stdText(massKg: number, stdKg: number, { units }: Shown): string {
  return showMassWithStd(massKg, stdKg, units.mass).std ?? '0';
}

export function Arms({ page, shown }: Shows) {
  if (page.arms.length === 0) return null;
  const { length } = shown.units;
  return (
    <section className="card stack-tight" aria-label="Measured arms">
      <h2>Measured arms</h2>
      <div className="scroll-across" tabIndex={0} role="region" aria-label="Measured arms as a table">
        <table>
          <thead>
            <tr>
              <th scope="col">Day</th>
              <th scope="col" className="number">
                x ({length})
              </th>
              <th scope="col" className="number">
                y ({length})
              </th>
              <th scope="col" className="number">
                z ({length})
              </th>
              <th scope="col">How</th>
              <th scope="col">Entry</th>
            </tr>
          </thead>
          <tbody>
            {page.arms.map((arm) => (
              <tr key={arm.seq}>
                <td className="unparted">{arm.happenedOn}</td>
                <td className="number">
                  {shown.length(arm.xM)}
                  {arm.armStdM === undefined ? '' : ` ± ${shown.length(arm.armStdM)}`}
                </td>
                <td className="number">{shown.length(arm.yM)}</td>
                <td className="number">{shown.length(arm.zM)}</td>
                <td>{arm.onSupports ? 'two supports' : 'station'}</td>
                <td className="unparted">
                  {arm.seq}, {arm.by}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

export function Pieces({ page }: { readonly page: PartPageReport }) {
  const { pieces, part } = page;
  if (part.quantity === 1 && pieces.every(({ lives }) => lives.length < 2)) return null;
  const rest = part.quantity - pieces.length;
  return (
    <section className="card stack-tight" aria-label="Pieces">
      <h2>Pieces</h2>
      <ul className="pieces">
        {pieces.map(({ piece, isInstalled, lives }) => (
          <li key={piece}>
            <strong>{piece}</strong>
            <div>
              <p>{isInstalled ? 'built in' : part.weighed.includes(piece) ? 'weighed, in stock' : 'not weighed'}</p>
              {lives.map((life, at) => (
                <p key={life.begun?.seq ?? 0} className="soft small">
                  {life.begun === undefined
                    ? ''
                    : `Withdrawn on ${life.begun.happenedOn} (${life.begun.reason}; entry ${life.begun.seq}), then made again. `}
                  {life.weighings.length === 0
                    ? at === lives.length - 1 && life.begun !== undefined
                      ? 'The new one is not weighed yet: the estimate counts.'
                      : ''
                    : `Weighed: ${life.weighings.length === 1 ? 'entry' : 'entries'} ${life.weighings.join(', ')}.`}
                </p>
              ))}
            </div>
          </li>
        ))}
      </ul>
      {rest > 0 ? (
        <p className="soft small">{rest === 1 ? 'One more is' : `${rest} more are`} not weighed yet.</p>
      ) : null}
    </section>
  );
}

export function Within({ page, shown, hrefOf }: Shows & { readonly hrefOf: (partId: string) => string }) {
  if (page.children.length === 0) return null;
  return (
    <section className="card stack-tight" aria-label="Parts in it">
      <h2>Parts in it</h2>
      <div className="scroll-across" tabIndex={0} role="region" aria-label="Parts in it as a table">
        <table>
          <thead>
            <tr>
              <th scope="col">Number</th>
              <th scope="col">Name</th>
              <th scope="col" className="number">
                Pieces
              </th>
              <th scope="col" className="number">
                Predicted ({shown.units.mass})
              </th>
              <th scope="col">Flag</th>
            </tr>
          </thead>
          <tbody>
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
          </tbody>
        </table>
      </div>
    </section>
  );
}
