/** A new aircraft: its name, its datum, the units it is read in, and what it is meant to weigh. */
import { useMutation } from '@tanstack/react-query';
import { type FormEvent, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { LENGTH_UNITS, type LengthUnit, MASS_UNITS, type MassUnit } from '#shared/quantity/units.ts';
import { ask, newId, ProblemError, wordsOf } from '../door/ask.ts';
import { queries } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button, Choice, Field } from '../pieces/controls.tsx';
import { Empty } from '../pieces/states.tsx';

const MASSES = MASS_UNITS.filter((unit) => unit === 'kg' || unit === 'lb').map((value) => ({ value, words: value }));
const LENGTHS = LENGTH_UNITS.filter((unit) => unit !== 'cm' && unit !== 'ft').map((value) => ({ value, words: value }));

/** Where a problem is told beside the answer it is about. */
const PLACES = ['/name', '/datum', '/empty mass', '/cg forward', '/cg aft'];

export function OwnAircraft() {
  const isLead = useMay('lead');
  const [, go] = useLocation();
  const [form, setForm] = useState({ name: '', datum: '', target: '', cgForward: '', cgAft: '' });
  const [massUnit, setMassUnit] = useState<MassUnit>('kg');
  const [lengthUnit, setLengthUnit] = useState<LengthUnit>('m');
  const made = useRef<AircraftReport>(undefined);
  const targetsId = useRef(newId());
  const begin = useMutation({
    mutationFn: async () => {
      const { name, datum } = form;
      // Made once: if the targets are refused, only they are sent again.
      made.current ??= await ask('/api/aircraft', {
        method: 'POST',
        body: { name, datum, massUnit, lengthUnit },
        reply: AircraftReport,
      });
      const { id } = made.current;
      const withUnit = (text: string, unit: string) => (/^[\s\d.,+-]*$/.test(text) ? `${text} ${unit}` : text);
      const body = {
        id: targetsId.current,
        kind: 'targets',
        'empty mass': withUnit(form.target, massUnit),
        ...(form.cgForward === '' ? {} : { 'cg forward': withUnit(form.cgForward, lengthUnit) }),
        ...(form.cgAft === '' ? {} : { 'cg aft': withUnit(form.cgAft, lengthUnit) }),
      };
      await ask(`/api/aircraft/${id}/entries`, { method: 'POST', body, reply: RecordedReport });
      return id;
    },
    onSuccess: async (id) => {
      await queries.invalidateQueries({ queryKey: ['aircraft'] });
      go(`/aircraft/${id}/ledger`);
    },
  });
  if (!isLead)
    return (
      <div className="narrow-page">
        <Empty isPage title="Only the lead begins an aircraft">
          <p>Ask the lead of the shop.</p>
        </Empty>
      </div>
    );
  const set = (field: keyof typeof form) => (value: string) => setForm({ ...form, [field]: value });
  const problem = (pointer: string) => (begin.error instanceof ProblemError ? begin.error.of(pointer) : undefined);
  const isPlaced = PLACES.some((pointer) => problem(pointer) !== undefined);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    begin.mutate();
  };
  return (
    <div className="narrow-page stack">
      <h1>Your own aircraft</h1>
      <p className="soft">Targets can be revised later; every revision stays in the ledger.</p>
      <form className="card stack" onSubmit={submit}>
        <Field label="Name" value={form.name} onChange={set('name')} problem={problem('/name')} autoFocus />
        <Field
          label="Datum"
          value={form.datum}
          onChange={set('datum')}
          hint="In words: where stations are measured from, positive aft. For example: 500 mm ahead of the bow."
          problem={problem('/datum')}
        />
        <Choice label="Masses are shown in" options={MASSES} value={massUnit} onChange={setMassUnit} />
        <Choice label="Stations are shown in" options={LENGTHS} value={lengthUnit} onChange={setLengthUnit} />
        <Field
          label={`Design empty weight (${massUnit})`}
          value={form.target}
          onChange={set('target')}
          problem={problem('/empty mass')}
        />
        <Field
          label={`Empty CG range, forward end (${lengthUnit})`}
          value={form.cgForward}
          onChange={set('cgForward')}
          hint="May be left empty for now, as may the aft end."
          problem={problem('/cg forward')}
        />
        <Field
          label={`Empty CG range, aft end (${lengthUnit})`}
          value={form.cgAft}
          onChange={set('cgAft')}
          problem={problem('/cg aft')}
        />
        {begin.isError ? (
          <p className="notice bad" role="alert">
            {isPlaced ? 'Something above cannot be taken yet; what to change stands beside it.' : wordsOf(begin.error)}
          </p>
        ) : null}
        <Button
          kind="main"
          type="submit"
          isDisabled={
            begin.isPending || form.name.trim() === '' || form.datum.trim() === '' || form.target.trim() === ''
          }
        >
          Begin
        </Button>
      </form>
    </div>
  );
}
