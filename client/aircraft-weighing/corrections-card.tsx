/** What was aboard and does not belong, and what belongs and was not aboard (rule A1). */

import { fieldOf, nextKey, rowsOf, unitsFor, type WeighingDraft, withoutRow } from '#shared/aircraft-weighing/draft.ts';
import { say } from '#shared/words/say.ts';
import { newId } from '../door/ask.ts';
import { Button, Choice } from '../pieces/controls.tsx';
import { densityWords, EMPTY_WEIGHT_WORDS, FLUIDS, oilWords } from '../words/aircraft-weighing.ts';
import { rich } from '../words/rich.ts';
import { WordField } from './supports-card.tsx';
import type { Weighing } from './use-weighing.ts';

const WAYS = [
  { value: 'off', words: say`aboard: take it off` },
  { value: 'on', words: say`missing: put it on` },
] as const;

export function CorrectionsCard({
  of,
  oilIsEmptyWeight,
}: {
  readonly of: Weighing;
  readonly oilIsEmptyWeight: boolean;
}) {
  const add = (words: Readonly<Record<string, string>>) =>
    of.draft.change((before): WeighingDraft => {
      const key = nextKey(before, 'correction', newId().slice(0, 4));
      const named = Object.entries(words).map(([field, text]) => [fieldOf('correction', key, field), text]);
      return { ...before, ...Object.fromEntries(named) };
    });
  return (
    <section className="card stack" aria-label={say`Fluids and other corrections`}>
      <h2>{say`Fluids and other corrections`}</h2>
      <p className="soft">
        {rich`${EMPTY_WEIGHT_WORDS} ${oilWords(oilIsEmptyWeight)} Stations here are counted from the datum.`}
      </p>
      <ul className="weighing-rows">
        {rowsOf(of.draft.words, 'correction').map((key) => (
          <CorrectionRow key={key} of={of} at={key} />
        ))}
      </ul>
      <div className="row">
        <Button
          onPress={() => add({ way: 'off', name: say`Fuel`, fluid: 'avgas', volume: '', density: '' })}
        >{say`Fluid aboard`}</Button>
        <Button
          onPress={() => add({ way: 'on', name: say`Unusable fuel`, fluid: 'avgas', volume: '', density: '' })}
        >{say`Fluid that was drained`}</Button>
        <Button onPress={() => add({ way: 'off', name: '', mass: '' })}>{say`Thing aboard`}</Button>
        <Button onPress={() => add({ way: 'on', name: '', mass: '' })}>{say`Thing that is missing`}</Button>
      </div>
      <p className="soft small">{say`A thing that is missing and is a part of the ledger is ticked under “Not aboard”, not put on here.`}</p>
    </section>
  );
}

function CorrectionRow({ of, at }: { readonly of: Weighing; readonly at: string }) {
  const { words, set, change } = of.draft;
  const field = (word: string) => fieldOf('correction', at, word);
  const isFluid = words[field('density')] !== undefined;
  const name = words[field('name')] ?? '';
  const unit = unitsFor({ mass: of.aircraft.massUnit, length: of.aircraft.lengthUnit })('density') ?? 'kg/L';
  return (
    <li>
      <fieldset className="weighing-row">
        <legend>{name === '' ? say`Something` : name}</legend>
        <Choice
          label={say`It was`}
          options={WAYS}
          value={words[field('way')] === 'on' ? 'on' : 'off'}
          onChange={(way) => set(field('way'), way)}
        />
        <div className="field-grid">
          <WordField
            of={of}
            field={field('name')}
            label={say`What`}
            hint={isFluid ? say`And where: fuel, left tank.` : ''}
          />
          {isFluid ? (
            <>
              <WordField
                of={of}
                field={field('fluid')}
                label={say`Fluid`}
                suggestions={FLUIDS.map(({ fluid }) => fluid)}
                hint={say`One fluid shares the error of its density.`}
              />
              <WordField of={of} field={field('volume')} unitOf="volume" label={say`Volume as dipped`} />
              <WordField
                of={of}
                field={field('density')}
                unitOf="density"
                label={say`Density`}
                suggestions={FLUIDS.map(({ lbPerUsGal }) => densityWords(lbPerUsGal, unit))}
                hint={FLUIDS.map(({ fluid, lbPerUsGal }) => `${fluid} ${densityWords(lbPerUsGal, unit)}`).join(', ')}
              />
            </>
          ) : (
            <WordField of={of} field={field('mass')} unitOf="mass" label={say`Mass`} />
          )}
          <WordField of={of} field={field('x')} unitOf="x" label={say`Station x`} />
          <WordField of={of} field={field('y')} unitOf="y" label="y" hint={say`Left empty: on the middle.`} />
          <WordField of={of} field={field('z')} unitOf="z" label="z" />
        </div>
        <details className="more">
          <summary>{say`Uncertainties`}</summary>
          <div className="field-grid">
            {isFluid ? (
              <>
                <WordField
                  of={of}
                  field={field('volume uncertainty')}
                  unitOf="volume"
                  label={say`Uncertainty of the volume`}
                  hint={say`Left empty: 2 % (common practice, no source).`}
                />
                <WordField
                  of={of}
                  field={field('density uncertainty')}
                  unitOf="density"
                  label={say`Uncertainty of the density`}
                  hint={say`Left empty: 1 % (common practice, no source).`}
                />
              </>
            ) : (
              <WordField of={of} field={field('mass uncertainty')} unitOf="mass" label={say`Uncertainty of the mass`} />
            )}
            <WordField
              of={of}
              field={field('arm uncertainty')}
              unitOf="x"
              label={say`Uncertainty of the station`}
              hint={say`Left empty: 20 mm (common practice, no source).`}
            />
          </div>
        </details>
        <div className="row">
          <Button
            slim
            kind="quiet"
            aria-label={say`Remove ${name === '' ? say`this` : name}`}
            onPress={() => change((before) => withoutRow(before, 'correction', at))}
          >{say`Remove`}</Button>
        </div>
      </fieldset>
    </li>
  );
}
