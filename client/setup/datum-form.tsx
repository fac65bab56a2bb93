/** Moves the datum (rule L8): what the figure means is shown as it is typed, and what every arm becomes, before anything is recorded. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { DescriptionReport } from '#shared/contract/set-up.ts';
import { say } from '#shared/words/say.ts';
import { useLedger, useParts } from '../door/queries.ts';
import { Failed } from '../pieces/states.tsx';
import { shownIn } from '../pieces/units.ts';
import { useDraft } from '../record/draft.ts';
import { labelOf } from '../record/kinds.ts';
import { rich } from '../words/rich.ts';
import { DatumPicture } from './datum-picture.tsx';
import { DatumPreview, type StationNow } from './datum-preview.tsx';
import { Facts, FormCard } from './form-parts.tsx';
import { lengthIn } from './typed-as.ts';

export function DatumForm(props: {
  readonly aircraft: AircraftReport;
  readonly description: DescriptionReport | undefined;
  readonly onClose: (words?: string) => void;
}) {
  const { aircraft } = props;
  const shown = shownIn(aircraft);
  const parts = useParts(aircraft.id);
  const ledger = useLedger(aircraft.id);
  const draft = useDraft(`${aircraft.id} set-up datum`, () => ({}));
  const shiftM = lengthIn(draft.form['shift'] ?? '', aircraft.lengthUnit);
  const armed = (parts.data?.parts ?? []).flatMap(({ number, name, xM }) =>
    xM === undefined ? [] : [{ name: `${number} ${name}`, xM }],
  );
  const { cg, targets } = ledger.data?.headline ?? {};
  const whole: StationNow[] = [
    { name: say`CG, predicted`, xM: cg?.xM },
    { name: labelOf('targets', 'cg forward'), xM: targets?.cgForwardM },
    { name: labelOf('targets', 'cg aft'), xM: targets?.cgAftM },
    { name: labelOf('aircraft', 'lemac'), xM: props.description?.lemacM },
  ].flatMap(({ name, xM }) => (xM === undefined ? [] : [{ name, xM }]));
  return (
    <FormCard
      title={say`Move the datum`}
      aircraft={aircraft}
      kind="datum moved"
      draft={draft}
      before={
        <>
          <Facts facts={[{ name: say`The datum now`, value: props.description?.datum ?? aircraft.datum }]} />
          <p className="soft">{say`Nothing on the aircraft moves; every station is counted from the new place.`}</p>
        </>
      }
      after={() => (
        <>
          {shiftM === undefined || shiftM === 0 ? null : (
            <div className="stack" aria-live="polite">
              <p className="set-up-said">{rich`The datum goes ${shown.lengthWithUnit(Math.abs(shiftM))} ${shiftM > 0 ? say`aft` : say`forward`}, towards the ${shiftM > 0 ? say`tail` : say`nose`}: every arm becomes ${shown.lengthWithUnit(Math.abs(shiftM))} ${shiftM > 0 ? say`smaller` : say`larger`}.`}</p>
              <DatumPicture shiftM={shiftM} cgXM={cg?.xM} stationsM={armed.map(({ xM }) => xM)} shown={shown} />
              <DatumPreview shiftM={shiftM} whole={whole} parts={armed} shown={shown} />
            </div>
          )}
          {parts.isLoadingError ? <Failed error={parts.error} again={() => void parts.refetch()} /> : null}
        </>
      )}
      main={say`Move the datum`}
      onRecorded={({ entry }) =>
        props.onClose(say`The datum is moved: entry ${entry.seq}. Every station on every screen counts from it.`)
      }
      onClose={() => props.onClose()}
    />
  );
}
