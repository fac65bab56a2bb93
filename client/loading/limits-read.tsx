/** The limits that hold, to be read: who stated them, maximum weights, stations and corners. */

import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { LoadingReport, StatedLimits } from '#shared/contract/loading.ts';
import { fluidUnits } from '#shared/loading/in-words.ts';
import type { LoadingStation } from '#shared/loading/limits.ts';
import { loadMassText, volumeText } from '#shared/loading/say.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { DENSITY_UNIT_KG_PER_M3 } from '#shared/quantity/units.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { EntryLink } from '../pieces/entry-link.tsx';
import { TableCard } from '../pieces/table-card.tsx';
import { minus, type Shown } from '../pieces/units.ts';
import { CorrectButton } from '../record/correct-button.tsx';
import { rich } from '../words/rich.ts';
import { said } from './verdict-card.tsx';

export function LimitsRead(props: {
  readonly aircraft: AircraftReport;
  readonly report: LoadingReport;
  readonly stated: StatedLimits;
  readonly shown: Shown;
  readonly onCorrected: ((recorded: RecordedReport) => void) | undefined;
  readonly children?: React.ReactNode;
}) {
  const { aircraft, report, stated, shown } = props;
  const { limits } = stated;
  const { units } = shown;
  const { lateral, envelope } = limits;
  const facts = [
    [say`Maximum weight`, loadMassText(limits.maximumKg, units)],
    ...(limits.zeroFuelMaximumKg === undefined
      ? []
      : [[say`Zero-fuel maximum`, loadMassText(limits.zeroFuelMaximumKg, units)]]),
    ...(limits.landingMaximumKg === undefined
      ? []
      : [[say`Landing maximum`, loadMassText(limits.landingMaximumKg, units)]]),
    ...(lateral === undefined
      ? []
      : [
          [
            say`CG across`,
            say`${shown.length(lateral.leftM, { sign: true })} to ${shown.lengthWithUnit(lateral.rightM, { sign: true })} (right is positive)`,
          ],
        ]),
  ] as const;
  return (
    <>
      <section className="card stack-tight" aria-label={say`The limits that hold`}>
        <h2>{say`The limits that hold`}</h2>
        <dl className="set-up-facts">
          {facts.map(([name, value]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{said(value ?? '')}</dd>
            </div>
          ))}
        </dl>
        <p className="soft small">
          {rich`${stated.revision === 1 ? say`Stated` : say`Revision ${stated.revision}, stated`} on ${dayWords(stated.happenedOn)} by ${stated.by}, entry ${<EntryLink aircraftId={aircraft.id} seq={stated.latestSeq} />}${stated.reason === undefined ? '' : `: ${stated.reason}`}`}
        </p>
        <div className="row no-print">
          {props.children}
          {props.onCorrected === undefined ? null : (
            <CorrectButton aircraft={aircraft} seq={stated.latestSeq} onRecorded={props.onCorrected} />
          )}
        </div>
      </section>
      <TableCard
        title={say`Loading stations`}
        headings={[say`Station`, { figures: `x, ${units.length}` }, { figures: `y, ${units.length}` }, say`Holds`]}
        isWide
        none={limits.stations.length === 0 ? say`None: the aircraft flies as it is empty.` : undefined}
      >
        {limits.stations.map((station) => (
          <tr key={station.name}>
            <th scope="row">{station.name}</th>
            <td className="number">{armText(station, shown)}</td>
            <td className="number">{shown.length(station.yM, { sign: true })}</td>
            <td>{said(holdsText(station, shown))}</td>
          </tr>
        ))}
      </TableCard>
      <TableCard
        title={say`Envelope`}
        headings={[
          say`Corner`,
          { figures: say`mass, ${units.mass}` },
          { figures: envelope.by === 'station' ? say`station x, ${units.length}` : '% MAC' },
          ...(envelope.by === 'station' || report.chord === undefined
            ? []
            : [{ figures: say`station x, ${units.length}` }]),
        ]}
      >
        {envelope.points.map(({ massKg, at }, corner) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a corner has nothing but its place
          <tr key={corner}>
            <th scope="row">{corner + 1}</th>
            <td className="number">{shown.mass(massKg)}</td>
            <td className="number">{envelope.by === 'station' ? shown.length(at) : minus(showFixed(at, 1))}</td>
            {envelope.by === 'station' || report.chord === undefined ? null : (
              <td className="number">{shown.length(report.chord.lemacM + (at / 100) * report.chord.macM)}</td>
            )}
          </tr>
        ))}
      </TableCard>
    </>
  );
}

function armText(station: LoadingStation, { length }: Shown): string {
  if (station.what !== 'tank') return length(station.xM);
  const { arm } = station;
  if (typeof arm === 'number') return length(arm);
  return `${length(arm[0]?.xM)} … ${length(arm.at(-1)?.xM)}`;
}

function holdsText(station: LoadingStation, { units }: Shown): string {
  switch (station.what) {
    case 'seat': {
      const range = say`${loadMassText(station.leastKg, units)} to ${loadMassText(station.mostKg, units)}`;
      return station.isPilot === true ? say`the pilot, ${range}, never empty` : say`nobody, or ${range}`;
    }
    case 'baggage':
      return say`baggage, up to ${loadMassText(station.mostKg, units)}`;
    case 'tank': {
      const { density } = fluidUnits(units);
      const dense = showFixed((station.densityKgPerL * 1000) / DENSITY_UNIT_KG_PER_M3[density], 3);
      const least = station.leastL === undefined ? '' : say`, never less than ${volumeText(station.leastL, units)}`;
      const varies = typeof station.arm === 'number' ? '' : say`; its station goes with the quantity`;
      return say`${station.fluid} at ${dense} ${density}, ${volumeText(station.usableL, units)} usable${least}${varies}`;
    }
  }
}
