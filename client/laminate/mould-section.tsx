/** What the mould did: every weighing of a laid-up part read backwards (rule E6), with what was taken off to get there. */

import type { LaminateReport } from '#shared/contract/layup.ts';
import type { PartPageReport, PartWeighingReport } from '#shared/contract/part.ts';
import { decimalsFor, showFixed, showPercent } from '#shared/quantity/show.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { EntryLink } from '../pieces/entry-link.tsx';
import { plusMinus, type Shown } from '../pieces/units.ts';
import { bandWords, shareWithStd } from '../words/laminate.ts';
import { rich } from '../words/rich.ts';
import { BandBar } from './band-bar.tsx';
import { ResinRecord } from './resin-record.tsx';
import { TakenOff } from './taken-off.tsx';
import { LaminateVerdict } from './verdict.tsx';
import './laminate.css';

type Props = { readonly aircraftId: string; readonly page: PartPageReport; readonly shown: Shown };
type Read = PartWeighingReport & { readonly laminate: LaminateReport };

export function MouldSection({ aircraftId, page, shown }: Props) {
  const read = page.weighings.filter((weighing): weighing is Read => weighing.laminate !== undefined);
  if (read.length === 0) return null;
  const counting = read.filter(({ countsFor }) => countsFor.length > 0);
  const overtaken = read.filter(({ countsFor }) => countsFor.length === 0);
  const each = (weighing: Read) => (
    <Weighed key={weighing.seq} {...{ aircraftId, weighing, shown }} quantity={page.part.quantity} />
  );
  return (
    <section className="card stack wide" aria-label={say`What the mould did`}>
      <div className="stack-tight">
        <h2>{say`What the mould did`}</h2>
        <p className="soft">{say`Each weighing read backwards through the lay-up schedule of its day: fibre and core as they were cut, what is left is resin. Figures are of one piece.`}</p>
      </div>
      {counting.map(each)}
      {overtaken.length === 0 ? null : (
        <details className="folded">
          <summary>{rich`Weighings that were overtaken (${overtaken.length})`}</summary>
          <div className="stack">{overtaken.map(each)}</div>
        </details>
      )}
    </section>
  );
}

function Weighed(props: {
  readonly aircraftId: string;
  readonly weighing: Read;
  readonly quantity: number;
  readonly shown: Shown;
}) {
  const { aircraftId, weighing, quantity, shown } = props;
  const { laminate, pieces } = weighing;
  return (
    <article
      className="laminate stack-tight"
      aria-label={say`Weighing of ${dayWords(weighing.happenedOn)}, entry ${weighing.seq}`}
    >
      <h3>
        {dayWords(weighing.happenedOn)}, {term(weighing.condition)}
        {quantity === 1 ? '' : `, ${pieces.length === 1 ? say`piece` : say`pieces`} ${pieces.join(', ')}`}
        <span className="soft laminate-entry">
          <EntryLink aircraftId={aircraftId} seq={weighing.seq} />
        </span>
      </h3>
      <LaminateVerdict laminate={laminate} />
      <BandBar laminate={laminate} />
      <Figures laminate={laminate} shown={shown} />
      {laminate.infusion === undefined ? null : <ResinRecord infusion={laminate.infusion} shown={shown} />}
      <TakenOff weighing={weighing} laminate={laminate} shown={shown} />
    </article>
  );
}

function Figures({ laminate, shown }: { readonly laminate: LaminateReport; readonly shown: Shown }) {
  const { resinKg, wf, vf, arealKgM2, planned, band, fibreKg } = laminate;
  const { mass } = shown.units;
  const resinBand = [band.highWf, band.lowWf].map((share) => shown.mass(fibreKg * (1 / share - 1))).join(say` to `);
  return (
    <div className="scroll-across" tabIndex={0} role="region" aria-label={say`What the laminate is`}>
      <table>
        <thead>
          <tr>
            <th scope="col">{say`Of the laminate`}</th>
            <th scope="col" className="number">{say`By this weighing`}</th>
            <th scope="col" className="number">{say`By the schedule`}</th>
            <th scope="col" className="number">{say`Band of the process`}</th>
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">{rich`Resin (${mass})`}</th>
            <td className="number">{plusMinus(shown.massWithStd(resinKg.value, resinKg.std), '').trim()}</td>
            <td className="number">{shown.mass(planned.resinKg)}</td>
            <td className="number">{resinBand}</td>
          </tr>
          {wf === undefined ? null : (
            <tr>
              <th scope="row">{say`Fibre by mass, Wf`}</th>
              <td className="number">{shareWithStd(wf)}</td>
              <td className="number">{rich`${showPercent(planned.wf)} %`}</td>
              <td className="number">{bandWords(band)}</td>
            </tr>
          )}
          {vf === undefined ? null : (
            <tr>
              <th scope="row">{say`Fibre by volume, Vf`}</th>
              <td className="number">{shareWithStd(vf)}</td>
              <td />
              <td />
            </tr>
          )}
          <tr>
            <th scope="row">{say`All that is moulded, by area (g/m²)`}</th>
            <td className="number">{areal(arealKgM2)}</td>
            <td className="number">{showFixed(planned.arealKgM2 * 1000, 0)}</td>
            <td />
          </tr>
        </tbody>
      </table>
    </div>
  );
}

function areal({ value, std }: LaminateReport['arealKgM2']): string {
  const decimals = Math.min(1, decimalsFor(std * 1000, 0));
  return `${showFixed(value * 1000, decimals)} ± ${showFixed(std * 1000, decimals)}`;
}
