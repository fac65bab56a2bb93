/** What the aircraft is, where its stations are counted from, and in which units it is read. */

import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { DatumMoveReport, DescriptionReport } from '#shared/contract/set-up.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { type Shown, shownIn } from '../pieces/units.ts';
import { labelOf } from '../record/kinds.ts';
import { rich } from '../words/rich.ts';
import { AircraftForm } from './aircraft-form.tsx';
import { DatumForm } from './datum-form.tsx';
import { Done, Facts } from './form-parts.tsx';
import { useSetUp } from './questions.ts';
import { StatedIn } from './stated-in.tsx';
import { useOpenForm } from './use-open-form.ts';

export function AircraftSection({ aircraft }: { readonly aircraft: AircraftReport }) {
  const setUp = useSetUp(aircraft.id);
  const isLead = useMay('lead');
  const form = useOpenForm<'change' | 'datum'>();
  const shown = shownIn(aircraft);
  const corrected = isLead ? form.corrected : undefined;
  if (setUp.isPending) return <Waiting what={say`the aircraft`} />;
  if (setUp.isLoadingError) return <Failed error={setUp.error} again={() => void setUp.refetch()} />;
  const { description, moves } = setUp.data;
  if (form.open === 'change' && description !== undefined)
    return <AircraftForm aircraft={aircraft} description={description} onClose={form.close} />;
  if (form.open === 'datum') return <DatumForm aircraft={aircraft} description={description} onClose={form.close} />;
  return (
    <section className="stack" aria-label={say`Aircraft`}>
      <Done words={form.done} />
      {description === undefined ? null : (
        <Description aircraft={aircraft} onCorrected={corrected} description={description} shown={shown} />
      )}
      {isLead ? (
        <div className="row">
          <Button {...form.opens('change')}>{say`Change the aircraft`}</Button>
          <Button {...form.opens('datum')}>{say`Move the datum`}</Button>
        </div>
      ) : null}
      {moves.length === 0 ? null : <Moves aircraft={aircraft} onCorrected={corrected} moves={moves} shown={shown} />}
    </section>
  );
}

function Description(props: {
  readonly aircraft: AircraftReport;
  readonly onCorrected: ((recorded: RecordedReport) => void) | undefined;
  readonly description: DescriptionReport;
  readonly shown: Shown;
}) {
  const { aircraft, description, shown } = props;
  const { lengthWithUnit, units } = shown;
  const notSaid = <span className="soft">{say`not stated yet`}</span>;
  const { macM, lemacM } = description;
  return (
    <div className="card stack-tight">
      <h2>{say`Aircraft`}</h2>
      <Facts
        facts={[
          { name: labelOf('aircraft', 'name'), value: description.name },
          { name: labelOf('aircraft', 'datum'), value: description.datum },
          { name: labelOf('aircraft', 'levelling'), value: description.levelling ?? notSaid },
          { name: labelOf('aircraft', 'mac'), value: macM === undefined ? notSaid : lengthWithUnit(macM) },
          {
            name: labelOf('aircraft', 'lemac'),
            value: lemacM === undefined ? notSaid : say`station ${lengthWithUnit(lemacM)}`,
          },
          { name: say`Shown in`, value: say`masses in ${units.mass}, lengths and stations in ${units.length}` },
        ]}
      />
      <p className="soft small">
        {rich`Stated by ${description.by} on ${dayWords(description.happenedOn)},`}{' '}
        <StatedIn aircraft={aircraft} onCorrected={props.onCorrected} of={description} />
      </p>
      <p className="soft small">{say`Stations are positive aft of the datum.`}</p>
    </div>
  );
}

function Moves(props: {
  readonly aircraft: AircraftReport;
  readonly onCorrected: ((recorded: RecordedReport) => void) | undefined;
  readonly moves: readonly DatumMoveReport[];
  readonly shown: Shown;
}) {
  const { aircraft, moves, shown } = props;
  return (
    <div className="card stack-tight">
      <h2>{say`The datum has been moved`}</h2>
      <ul className="set-up-list">
        {[...moves].reverse().map((move) => (
          <li key={move.seq}>
            {rich`${shown.lengthWithUnit(Math.abs(move.shiftM))} ${move.shiftM < 0 ? say`forward` : say`aft`}, to: ${move.datum}${(
              <span className="soft small block">
                {move.reason} · {move.by}, {dayWords(move.happenedOn)},{' '}
                <StatedIn aircraft={aircraft} onCorrected={props.onCorrected} of={move} />
              </span>
            )}`}
          </li>
        ))}
      </ul>
    </div>
  );
}
