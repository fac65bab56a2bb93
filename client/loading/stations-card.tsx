/** The loading stations as they are typed: seats, lockers and tanks, each with what it may hold. */

import { kindOf, type RowDraft, type StationDraft, unitOfStation, unitsFor } from '#shared/loading/draft.ts';
import type { StationKind } from '#shared/loading/limits.ts';
import { STATIONS } from '#shared/loading/read-draft.ts';
import { say } from '#shared/words/say.ts';
import { Button, Picker } from '../pieces/controls.tsx';
import { rich } from '../words/rich.ts';
import { LimitField } from './limit-field.tsx';
import type { Limits } from './use-limits.ts';

const KINDS: Readonly<Record<StationKind, string>> = { seat: say`Seat`, baggage: say`Baggage`, tank: say`Tank` };
const PILOT = [
  { value: 'no', words: say`may be empty` },
  { value: 'yes', words: say`the pilot’s, never empty` },
] as const;

/** Rows to begin with. Each says where its figure is from; none is put in unless somebody asks for it. */
const EXAMPLES = [
  {
    words: say`Pilot’s seat, 55 to 110 kg`,
    source: 'lightest and heaviest pilot: common practice, no source',
    what: 'seat',
    row: { name: 'Pilot', least: '55 kg', most: '110 kg', pilot: 'yes' },
  },
  {
    words: say`Seat for an occupant of 170 lb`,
    source: '14 CFR 23.25 as it stood before 2017',
    what: 'seat',
    row: { name: 'Occupant', most: '170 lb' },
  },
  {
    words: say`Tank of avgas, 6.0 lb/US gal`,
    source: 'AC 43.13-1B',
    what: 'tank',
    row: { name: 'Tank', fluid: 'avgas', density: '6.0 lb/US gal' },
  },
] as const;

export function StationsCard({ of }: { readonly of: Limits }) {
  const { stations } = of.draft;
  const problem = of.problemAt(STATIONS, '');
  return (
    <section className="card stack" aria-label={say`Loading stations`}>
      <div className="stack-tight">
        <h2>{say`Loading stations`}</h2>
        <p className="soft">{say`Where people, baggage and fluids go, and how much. Stations x are from the datum, aft is positive; y to the right is positive. Fluids are what can be used: what is unusable is in the empty weight.`}</p>
      </div>
      {stations.length === 0 ? <p className="soft">{say`No station yet.`}</p> : null}
      <ul className="limit-rows">
        {stations.map((station, at) => (
          <StationRow key={station.key} of={of} station={station} number={at + 1} />
        ))}
      </ul>
      {problem === undefined ? null : <p className="notice bad">{problem}</p>}
      <div className="row" data-place="add station">
        {(Object.keys(KINDS) as StationKind[]).map((what) => (
          <Button key={what} onPress={() => of.addStation(what)}>
            {rich`Add a ${KINDS[what].toLowerCase() === 'baggage' ? say`baggage place` : KINDS[what].toLowerCase()}`}
          </Button>
        ))}
      </div>
      <div className="stack-tight limit-examples" role="group" aria-label={say`Examples, adjust`}>
        <p className="small">
          {rich`${<strong>{say`Examples, adjust:`}</strong>} rows to begin with, to be changed to what your aircraft has.`}
        </p>
        <ul>
          {EXAMPLES.map(({ words, source, what, row }) => (
            <li key={words}>
              <Button slim onPress={() => of.addStation(what, row)}>
                {words}
              </Button>{' '}
              <span className="soft small">{source}</span>
            </li>
          ))}
        </ul>
      </div>
    </section>
  );
}

function StationRow({
  of,
  station,
  number,
}: {
  readonly of: Limits;
  readonly station: StationDraft;
  readonly number: number;
}) {
  const what = kindOf(station);
  const { key, words, arms } = station;
  const unitOf = unitsFor(of.draft, of.units);
  const field = (name: string, label: string, hint?: string) => (
    <LimitField
      {...{ of, label, hint }}
      at={key}
      field={name}
      value={words[name] ?? ''}
      unit={unitOfStation(station, name, unitOf)}
    />
  );
  const title = (words['name'] ?? '').trim() || `${KINDS[what]} ${number}`;
  return (
    <li className="limit-row" aria-label={title}>
      <div className="limit-row-head">
        <strong>{KINDS[what]}</strong>
        <Button
          slim
          kind="quiet"
          aria-label={say`Remove ${title}`}
          onPress={() => of.removeStation(key)}
        >{say`Remove`}</Button>
      </div>
      <div className="limit-fields">
        {field('name', say`Name`)}
        {what === 'tank' && arms.length > 0 ? null : field('x', say`Station x`)}
        {field('y', say`Butt line y`, say`May stay empty.`)}
        {what === 'seat' ? field('least', say`Least`) : null}
        {what === 'tank' ? null : field('most', say`Most`)}
        {what === 'seat' ? (
          <Picker
            label={say`This seat`}
            options={PILOT}
            value={words['pilot'] === 'yes' ? 'yes' : 'no'}
            onChange={(pilot) => of.set(key, 'pilot', pilot)}
            problem={of.problemAt(key, 'pilot')}
          />
        ) : null}
        {what === 'tank' ? (
          <>
            {field('fluid', say`Fluid`)}
            {field('density', say`Density`)}
            {field('usable', say`Usable`)}
            {field('unusable', say`Unusable`, say`In the empty weight.`)}
            {field('least', say`Least in it`, say`Left empty: none.`)}
          </>
        ) : null}
      </div>
      {what === 'tank' ? <Arms of={of} station={station} title={title} /> : null}
    </li>
  );
}

/** The station of what is in a tank, where it goes with how much that is. */
function Arms({ of, station, title }: { readonly of: Limits; readonly station: StationDraft; readonly title: string }) {
  const { key, arms } = station;
  const problem = of.problemAt(key, 'arms');
  return (
    <div className="stack-tight">
      {arms.length === 0 ? null : (
        <ol className="arm-rows" aria-label={say`${title}: station by quantity`}>
          {arms.map((row, at) => (
            <ArmRow key={row.key} {...{ of, row, title }} stationKey={key} number={at + 1} />
          ))}
        </ol>
      )}
      {problem === undefined ? null : <p className="problem">{problem}</p>}
      <div className="row">
        <Button slim onPress={() => of.addArm(key)}>
          {arms.length === 0 ? say`Its station varies with quantity` : say`Another row`}
        </Button>
        {arms.length === 0 ? null : (
          <span className="soft small">{say`Linear from row to row, and level before the first and after the last.`}</span>
        )}
      </div>
    </div>
  );
}

function ArmRow(props: {
  readonly of: Limits;
  readonly row: RowDraft;
  readonly title: string;
  readonly stationKey: string;
  readonly number: number;
}) {
  const { of, row, number } = props;
  const unitOf = unitsFor(of.draft, of.units);
  return (
    <li className="arm-row">
      <LimitField
        of={of}
        at={row.key}
        field="quantity"
        label={say`With`}
        value={row.words['quantity'] ?? ''}
        unit={unitOf('quantity')}
      />
      <LimitField
        of={of}
        at={row.key}
        field="x"
        label={say`at station x`}
        value={row.words['x'] ?? ''}
        unit={unitOf('x')}
      />
      <Button
        slim
        kind="quiet"
        aria-label={say`Remove row ${number} of ${props.title}`}
        onPress={() => of.removeArm(props.stationKey, row.key)}
      >{say`Remove`}</Button>
    </li>
  );
}
