/** Named loading cases as they are typed: what lies at each station, and what is burnt on the way. */

import { type CaseDraft, kindOf, loadField, type StationDraft, unitsFor } from '#shared/loading/draft.ts';
import { say } from '#shared/words/say.ts';
import { Button, Picker } from '../pieces/controls.tsx';
import { rich } from '../words/rich.ts';
import { LimitField } from './limit-field.tsx';
import type { Limits } from './use-limits.ts';

export function CasesCard({ of }: { readonly of: Limits }) {
  const { cases } = of.draft;
  return (
    <section className="card stack" aria-label={say`Named cases`}>
      <div className="stack-tight">
        <h2>{say`Named cases`}</h2>
        <p className="soft">{say`Loadings that are flown, to see each from its start to its landing. They may be left out: every permitted loading is looked at anyway.`}</p>
      </div>
      <ul className="limit-rows">
        {cases.map((one, at) => (
          <CaseRow key={one.key} of={of} one={one} number={at + 1} />
        ))}
      </ul>
      <div>
        <span data-place="add case">
          <Button onPress={of.addCase}>{say`Add a case`}</Button>
        </span>
      </div>
    </section>
  );
}

function CaseRow({ of, one, number }: { readonly of: Limits; readonly one: CaseDraft; readonly number: number }) {
  const unitOf = unitsFor(of.draft, of.units);
  const stations = of.draft.stations.filter(({ words }) => (words['name'] ?? '').trim() !== '');
  const tanks = stations.filter((station) => kindOf(station) === 'tank');
  const title = (one.words['name'] ?? '').trim() || say`Case ${number}`;
  const problem = of.problemAt(one.key, 'loads');
  return (
    <li className="limit-row" aria-label={title}>
      <div className="limit-row-head">
        <strong>{rich`Case ${number}`}</strong>
        <Button
          slim
          kind="quiet"
          aria-label={say`Remove ${title}`}
          onPress={() => of.removeCase(one.key)}
        >{say`Remove`}</Button>
      </div>
      <div className="limit-fields">
        <LimitField
          of={of}
          at={one.key}
          field="name"
          label={say`Name of the case`}
          value={one.words['name'] ?? ''}
          className="case-name"
        />
        {stations.map(({ key, words }) => (
          <LimitField
            key={key}
            of={of}
            at={one.key}
            field={`load ${key}`}
            label={words['name'] ?? ''}
            value={one.loads[key] ?? ''}
            unit={unitOf(loadField(of.draft, key))}
            onChange={(text) => of.setLoad(one.key, key, text)}
          />
        ))}
      </div>
      {problem === undefined ? null : <p className="problem limit-problem">{problem}</p>}
      {stations.length === 0 ? <p className="soft small">{say`Name the stations first.`}</p> : null}
      <Burn {...{ of, one, tanks, title }} />
    </li>
  );
}

function Burn(props: {
  readonly of: Limits;
  readonly one: CaseDraft;
  readonly tanks: readonly StationDraft[];
  readonly title: string;
}) {
  const { of, one, tanks, title } = props;
  const unitOf = unitsFor(of.draft, of.units);
  const [first] = tanks;
  if (first === undefined) return null;
  const options = tanks.map(({ key, words }) => ({ value: key, words: words['name'] ?? '' }));
  return (
    <div className="stack-tight">
      {one.burn.length === 0 ? null : (
        <ol className="arm-rows" aria-label={say`${title}: burnt on the way, in order`}>
          {one.burn.map((step, at) => (
            <li key={step.key} className="arm-row">
              <Picker
                label={say`Burnt from`}
                options={
                  options.some(({ value }) => value === step.words['tank'])
                    ? options
                    : [{ value: '', words: say`choose` }, ...options]
                }
                value={options.some(({ value }) => value === step.words['tank']) ? (step.words['tank'] ?? '') : ''}
                onChange={(tank) => of.set(step.key, 'tank', tank)}
                problem={of.problemAt(step.key, 'tank')}
              />
              <LimitField
                of={of}
                at={step.key}
                field="quantity"
                label={say`How much`}
                value={step.words['quantity'] ?? ''}
                unit={unitOf('quantity')}
              />
              <Button
                slim
                kind="quiet"
                aria-label={say`Remove step ${at + 1} of ${title}`}
                onPress={() => of.removeBurn(one.key, step.key)}
              >{say`Remove`}</Button>
            </li>
          ))}
        </ol>
      )}
      <div>
        <Button slim onPress={() => of.addBurn(one.key, first.key)}>
          {one.burn.length === 0 ? say`Fuel is burnt on the way` : say`Then from a tank again`}
        </Button>
      </div>
    </div>
  );
}
