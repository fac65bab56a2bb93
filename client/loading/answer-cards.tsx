/** The answer for one empty weight in tables: the worst loading at each edge, the named cases, and what is left to load. */

import type { AnswerReport, LoadedReport } from '#shared/contract/loading.ts';
import { caseText, distanceText, loadMassText, loadsText, volumeText, worstText } from '#shared/loading/say.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { say } from '#shared/words/say.ts';
import { TableCard } from '../pieces/table-card.tsx';
import { minus, type Shown } from '../pieces/units.ts';
import { letterOf } from '../where/along-config.ts';
import { rich } from '../words/rich.ts';
import { edgeText, said } from './verdict-card.tsx';

type Shows = { readonly answer: AnswerReport; readonly shown: Shown };

function State({ isInside, words }: { readonly isInside: boolean; readonly words?: string }) {
  return (
    <span className={`flag ${isInside ? 'in-line' : 'outside'}`}>
      {isInside ? '●' : '▲'} {words ?? (isInside ? say`inside` : say`outside`)}
    </span>
  );
}

function inMac({ percentMac }: LoadedReport): string {
  return percentMac === undefined ? '' : say` (${minus(showFixed(percentMac, 1))}\u00a0%\u00a0MAC)`;
}

/** Rule C2: with a sloped limit the worst loading need not be the one of extreme CG; both are told. */
export function WorstCard({ answer, shown }: Shows) {
  const { units } = shown;
  const { mostForward, mostAft, lightest, lateral } = answer;
  const extremes = [
    [say`most forward CG of all`, mostForward],
    [say`most aft CG of all`, mostAft],
    [say`lightest of all`, lightest],
  ] as const;
  return (
    <TableCard
      title={say`Worst permitted loadings`}
      headings={[say`Edge`, say`Verdict`, say`How far`, say`Loading`]}
      isWide
    >
      {answer.worst.map((worst) => (
        <tr key={`${worst.way} ${worst.side}`}>
          <th scope="row">{edgeText(worst)}</th>
          <td>
            <State isInside={!worst.isOutside} />
          </td>
          <td>{said(worstText(worst, units))}</td>
          <td>
            {said(loadsText(worst.loaded.loads, units))}
            <span className="soft small block">
              {rich`CG ${shown.lengthWithUnit(worst.loaded.xM)}${inMac(worst.loaded)}`}
            </span>
          </td>
        </tr>
      ))}
      {extremes.map(([name, loaded]) =>
        loaded === undefined ? null : (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td />
            <td>{said(loadMassText(loaded.massKg, units))}</td>
            <td>
              {said(loadsText(loaded.loads, units))}
              <span className="soft small block">{rich`CG ${shown.lengthWithUnit(loaded.xM)}${inMac(loaded)}`}</span>
            </td>
          </tr>
        ),
      )}
      {lateral === undefined
        ? null
        : (
            [
              [say`farthest left`, lateral.leftmost, lateral.leftOutM],
              [say`farthest right`, lateral.rightmost, lateral.rightOutM],
            ] as const
          ).map(([name, loaded, outM]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>
                <State isInside={outM <= 1e-9} />
              </td>
              <td>
                {said(
                  `${distanceText(Math.abs(outM), units)} ${outM > 1e-9 ? say`beyond its end` : say`inside its end`}`,
                )}
              </td>
              <td>
                {said(loadsText(loaded.loads, units))}
                <span className="soft small block">{rich`CG y ${shown.lengthWithUnit(loaded.yM, { sign: true })}`}</span>
              </td>
            </tr>
          ))}
    </TableCard>
  );
}

/** Rule C3. */
export function CasesTable({ answer, shown }: Shows) {
  const { units } = shown;
  return (
    <TableCard
      title={say`Named cases`}
      headings={[say`Case`, say`Verdict`, say`Start`, say`Landing`, say`Aboard at the start`]}
      isWide
      none={answer.cases.length === 0 ? say`No case is named. The limits may name loadings that are flown.` : undefined}
    >
      {answer.cases.map((one, at) => (
        <tr key={one.name}>
          <th scope="row">
            {letterOf(at)} {one.name}
          </th>
          <td>
            <State isInside={one.state === 'inside'} />
            {one.state === 'inside' ? null : (
              <span className="small block">{said(caseText(one, units).replace(/^outside: /, ''))}</span>
            )}
          </td>
          <td>
            {said(loadMassText(one.start.massKg, units))}
            <span className="soft small block">
              {shown.lengthWithUnit(one.start.xM)}
              {inMac(one.start)}
            </span>
          </td>
          <td>
            {said(loadMassText(one.landing.massKg, units))}
            <span className="soft small block">
              {shown.lengthWithUnit(one.landing.xM)}
              {inMac(one.landing)}
            </span>
          </td>
          <td>{said(loadsText(one.start.loads, units))}</td>
        </tr>
      ))}
    </TableCard>
  );
}

const STOPPED = {
  'maximum weight': say`the maximum weight stops it`,
  'zero-fuel maximum': say`the zero-fuel maximum stops it`,
  stations: say`seats and baggage places hold no more`,
  tanks: say`the tanks are then full`,
} as const;

/** What the weights leave, whatever the CG. */
export function PayloadCard({ answer, shown }: Shows) {
  const { units } = shown;
  const { withFullTanks, withFullSeats, withFullSeatsAndBaggage } = answer.payload;
  const mass = (massKg: number) =>
    massKg < 0 ? say`▲ ${loadMassText(-massKg, units)} too heavy already` : loadMassText(massKg, units);
  const fuel = ({ massKg, quantityL }: typeof withFullSeats) =>
    massKg < 0 || quantityL === undefined ? mass(massKg) : `${volumeText(quantityL, units)} (${mass(massKg)})`;
  const rows = [
    {
      name: say`People and baggage with full tanks (${loadMassText(withFullTanks.fuelKg, units)} of fuel)`,
      value: mass(withFullTanks.massKg),
      stoppedBy: withFullTanks.stoppedBy,
    },
    {
      name: say`Fuel with every seat at its most (${loadMassText(withFullSeats.seatsKg, units)})`,
      value: fuel(withFullSeats),
      stoppedBy: withFullSeats.stoppedBy,
    },
    {
      name: say`Fuel with every seat and baggage place at its most`,
      value: fuel(withFullSeatsAndBaggage),
      stoppedBy: withFullSeatsAndBaggage.stoppedBy,
    },
  ];
  return (
    <section className="card stack-tight" aria-label={say`What is left to load`}>
      <h2>{say`What is left to load`}</h2>
      <p className="soft small">{say`By weight alone, whatever the CG.`}</p>
      <dl className="left-to-load">
        {rows.map(({ name, value, stoppedBy }) => (
          <div key={name}>
            <dt>{said(name)}</dt>
            <dd>
              <strong>{said(value)}</strong> <span className="soft small">{STOPPED[stoppedBy]}</span>
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
