/** Moves the datum (rule L8): what the figure means is shown as it is typed, and what every arm becomes, before anything is recorded. */
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { DescriptionReport } from '#shared/contract/set-up.ts';
import { useLedger, useParts } from '../door/queries.ts';
import { Field } from '../pieces/controls.tsx';
import { Failed } from '../pieces/states.tsx';
import { shownIn } from '../pieces/units.ts';
import { DatumPicture } from './datum-picture.tsx';
import { DatumPreview, type StationNow } from './datum-preview.tsx';
import { Facts, FormCard } from './form-parts.tsx';
import { lengthIn } from './typed-as.ts';
import { useEntryForm } from './use-entry-form.ts';

const PLACED = ['/shift', '/datum', '/reason'];

export function DatumForm(props: {
  readonly aircraft: AircraftReport;
  readonly description: DescriptionReport | undefined;
  readonly onClose: (words?: string) => void;
}) {
  const { aircraft } = props;
  const shown = shownIn(aircraft);
  const parts = useParts(aircraft.id);
  const ledger = useLedger(aircraft.id);
  const form = useEntryForm(
    aircraft,
    'datum moved',
    () => ({ shift: '', datum: '', reason: '' }),
    ({ entry }) =>
      props.onClose(`The datum is moved: entry ${entry.seq}. Every station on every screen counts from it.`),
  );
  const { word, set, problemAt } = form;
  const shiftM = lengthIn(word('shift'));
  const armed = (parts.data?.parts ?? []).flatMap(({ number, name, xM }) =>
    xM === undefined ? [] : [{ name: `${number} ${name}`, xM }],
  );
  const { cg, targets } = ledger.data?.headline ?? {};
  const whole: StationNow[] = [
    { name: 'CG, predicted', xM: cg?.xM },
    { name: 'CG range, forward end', xM: targets?.cgForwardM },
    { name: 'CG range, aft end', xM: targets?.cgAftM },
    { name: 'Leading edge of MAC', xM: props.description?.lemacM },
  ].flatMap(({ name, xM }) => (xM === undefined ? [] : [{ name, xM }]));
  return (
    <FormCard
      title="Move the datum"
      form={form}
      placed={PLACED}
      main="Move the datum"
      onSubmit={() => form.send({ kind: 'datum moved', ...form.words })}
      onCancel={() => props.onClose()}
    >
      <Facts facts={[{ name: 'The datum now', value: props.description?.datum ?? aircraft.datum }]} />
      <p className="soft">Nothing on the aircraft moves; every station is counted from the new place.</p>
      <Field
        label="By how much, positive aft"
        value={word('shift')}
        onChange={set('shift')}
        hint={`With its unit. 0.5 m: half a metre towards the tail. -0.5 m: half a metre towards the nose.`}
        problem={problemAt('/shift')}
      />
      {shiftM === undefined || shiftM === 0 ? null : (
        <div className="stack" aria-live="polite">
          <p className="set-up-said">
            The datum goes {shown.lengthWithUnit(Math.abs(shiftM))} {shiftM > 0 ? 'aft' : 'forward'}, towards the{' '}
            {shiftM > 0 ? 'tail' : 'nose'}: every arm becomes {shown.lengthWithUnit(Math.abs(shiftM))}{' '}
            {shiftM > 0 ? 'smaller' : 'larger'}.
          </p>
          <DatumPicture shiftM={shiftM} cgXM={cg?.xM} stationsM={armed.map(({ xM }) => xM)} shown={shown} />
          <DatumPreview shiftM={shiftM} whole={whole} parts={armed} shown={shown} />
        </div>
      )}
      {parts.isLoadingError ? <Failed error={parts.error} again={() => void parts.refetch()} /> : null}
      <Field
        label="The new datum in words"
        isLong
        value={word('datum')}
        onChange={set('datum')}
        hint="For example: front face of the main frame."
        problem={problemAt('/datum')}
      />
      <Field
        label="Reason"
        isLong
        value={word('reason')}
        onChange={set('reason')}
        hint="Stands in the ledger for good."
        problem={problemAt('/reason')}
      />
    </FormCard>
  );
}
