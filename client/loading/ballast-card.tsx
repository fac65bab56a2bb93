/** Ballast (rule C4): the least at one of the places that it could go to, checked with it in and at the four ends of the forecast's band. */

import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import { z } from 'zod';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import {
  type BallastFor,
  LoadingBallastReport,
  type LoadingReport,
  MOST_BALLAST_PLACES,
  type SentLoadingBallast,
} from '#shared/contract/loading.ts';
import { acrossText, distanceText, loadMassText, worstText } from '#shared/loading/say.ts';
import { plain } from '#shared/quantity/in-words.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { ask, newId, ProblemError } from '../door/ask.ts';
import { Button, Field, Picker } from '../pieces/controls.tsx';
import { Failed, Working } from '../pieces/states.tsx';
import { typedWith } from '../pieces/typed-units.ts';
import type { Shown } from '../pieces/units.ts';
import { useSettled } from '../what-if/questions.ts';
import { addToScratch } from '../what-if/scratch.ts';
import { rich } from '../words/rich.ts';
import { EMPTY_WORDS, said } from './verdict-card.tsx';

const Place = z.object({
  key: z.string(),
  name: z.string(),
  x: z.string(),
  y: z.string().default(''),
  most: z.string(),
});
type Place = z.infer<typeof Place>;
const FIELDS = ['name', 'x', 'y', 'most'] as const;
const LABELS = { name: say`Place`, x: say`Station x`, y: say`y, right positive`, most: say`Carries at most` } as const;
const ALL = '';

/** Typed places stay on this device. */
function usePlaces(aircraftId: string) {
  const at = `tarebook ballast ${aircraftId}`;
  const [places, setPlaces] = useState<readonly Place[]>(() => {
    try {
      const read = z
        .array(Place)
        .min(1)
        .safeParse(JSON.parse(localStorage.getItem(at) ?? 'null'));
      return read.success ? read.data : [newPlace()];
    } catch {
      return [newPlace()];
    }
  });
  const become = (next: readonly Place[]) => {
    setPlaces(next);
    try {
      localStorage.setItem(at, JSON.stringify(next));
    } catch {
      // A full or forbidden store must not stop the typing.
    }
  };
  return { places, become };
}

function newPlace(): Place {
  return { key: newId(), name: '', x: '', y: '', most: '' };
}

export function BallastCard(props: {
  readonly aircraft: AircraftReport;
  readonly report: LoadingReport;
  readonly shown: Shown;
}) {
  const { aircraft, report, shown } = props;
  const { places, become } = usePlaces(aircraft.id);
  const [aim, setAim] = useState(ALL);
  const cases = report.stated?.limits.cases ?? [];
  const isAcross = report.stated?.limits.lateral !== undefined;
  const counted = places.filter(({ x }) => x.trim() !== '');
  const asked = useSettled<SentLoadingBallast>({
    places: counted.map(({ name, x, y, most }) => ({
      ...(name.trim() === '' ? {} : { name: name.trim() }),
      x: typedWith(x.trim(), shown.units.length),
      ...(!isAcross || y.trim() === '' ? {} : { y: typedWith(y.trim(), shown.units.length) }),
      ...(most.trim() === '' ? {} : { most: typedWith(most.trim(), shown.units.mass) }),
    })),
    ...(aim === ALL ? {} : { aim }),
  });
  const answer = useQuery({
    queryKey: ['aircraft', aircraft.id, 'loading ballast', report.seq, asked],
    queryFn: ({ signal }) =>
      ask(`/api/aircraft/${aircraft.id}/loading/ballast`, {
        method: 'POST',
        body: asked,
        reply: LoadingBallastReport,
        signal,
      }),
    enabled: asked.places.length > 0,
    retry: false,
  });
  const problemOf = (key: string, field: string) => {
    const at = counted.findIndex((place) => place.key === key);
    return answer.error instanceof ProblemError && at >= 0 ? answer.error.of(`/places/${at}/${field}`) : undefined;
  };
  return (
    <section className="card stack" aria-label={say`Ballast`}>
      <div className="stack-tight">
        <h2>{say`Ballast`}</h2>
        <p className="soft">{rich`The least that brings ${aim === ALL ? say`every permitted loading` : say`the case`} inside on the forecast empty weight. It is part of the empty weight then: everything is held against the limits once more with it in.`}</p>
      </div>
      {cases.length === 0 ? null : (
        <div className="ballast-aim">
          <Picker
            label={say`What is to come inside`}
            options={[
              { value: ALL, words: say`every permitted loading` },
              ...cases.map(({ name }) => ({ value: name, words: say`the case ${name}` })),
            ]}
            value={aim}
            onChange={setAim}
          />
        </div>
      )}
      <ul className="ballast-places" aria-label={say`Where ballast could go`}>
        {places.map((place, at) => (
          <li key={place.key} className="ballast-place">
            {FIELDS.filter((field) => isAcross || field !== 'y').map((field) => (
              <Field
                key={field}
                label={LABELS[field]}
                hint={field === 'y' ? say`Left empty: in the middle` : undefined}
                value={place[field]}
                unit={{ name: undefined, x: shown.units.length, y: shown.units.length, most: shown.units.mass }[field]}
                onChange={(text) => become(places.map((one) => (one === place ? { ...one, [field]: text } : one)))}
                problem={problemOf(place.key, field)}
                autoComplete="off"
              />
            ))}
            {places.length === 1 ? null : (
              <Button
                slim
                kind="quiet"
                aria-label={say`Remove place ${at + 1}`}
                onPress={() => become(places.filter((one) => one !== place))}
              >{say`Remove`}</Button>
            )}
          </li>
        ))}
      </ul>
      <div>
        <Button
          slim
          isDisabled={places.length >= MOST_BALLAST_PLACES}
          onPress={() => become([...places, newPlace()])}
        >{say`Another place`}</Button>
      </div>
      <div aria-live="polite" className="stack">
        {asked.places.length === 0 ? (
          <p className="soft">{say`Type a station where ballast could go.`}</p>
        ) : answer.isError ? (
          isAtField(answer.error) ? (
            <p className="notice bad">{say`No ballast: what is wrong stands beside its field.`}</p>
          ) : (
            <Failed error={answer.error} again={() => void answer.refetch()} />
          )
        ) : answer.data === undefined ? (
          <Working words={say`Looking for the least ballast`} />
        ) : (
          <Answer answer={answer.data} aircraft={aircraft} shown={shown} />
        )}
      </div>
    </section>
  );
}

function isAtField(error: unknown): boolean {
  return error instanceof ProblemError && (error.report.problems ?? []).some(({ pointer }) => pointer !== '');
}

const NONE = {
  'not enough': say`What the places can carry is not enough.`,
  'no mass helps': say`No mass there helps: more of it brings something else outside.`,
  'maximum weight': say`So much ballast would leave no permitted loading below the maximum weight.`,
  'wrong side': say`The place is on the wrong side of the limit that is passed.`,
} as const;

function Answer(props: {
  readonly answer: LoadingBallastReport;
  readonly aircraft: AircraftReport;
  readonly shown: Shown;
}) {
  const { answer, aircraft, shown } = props;
  const { forecast, others, ends, lighter } = answer;
  const { units } = shown;
  return (
    <>
      <Main found={forecast} aircraft={aircraft} shown={shown} />
      {forecast.state !== 'found' ? null : (
        <p>{rich`At the ends of the forecast’s band, with this ballast in: ${ends.map(
          ({ name, state, worstOfAll }, at) => (
            <span key={name}>
              {at === 0 ? '' : '; '}
              {name} <strong>{state === 'inside' ? say`● inside` : say`▲ outside`}</strong>
              {worstOfAll === undefined ? '' : ` (${said(worstText(worstOfAll, units))})`}
            </span>
          ),
        )}.`}</p>
      )}
      <details>
        <summary>{say`Ballast for the other empty weights, each by itself`}</summary>
        <ul className="band-ends">
          {others.map((one) => (
            <li key={one.empty.name}>
              <strong>{EMPTY_WORDS[one.empty.name]}</strong>: {said(inShort(one, shown))}
            </li>
          ))}
        </ul>
      </details>
      {forecast.state === 'not needed' ? null : (
        <div className="stack-tight">
          <h3>{say`What would make it unnecessary`}</h3>
          {lighter.length === 0 ? (
            <p className="soft">{say`None of the parts that hold the CG there could be light enough by itself.`}</p>
          ) : (
            <>
              <p className="soft small">{say`Each by itself, of the parts that hold the CG there most.`}</p>
              <ul className="band-ends">
                {lighter.map(({ part, name, massKg, lighterKg }) => (
                  <li key={part}>
                    {rich`${part} ${name}: ${said(loadMassText(massKg - lighterKg, units))} instead of ${said(loadMassText(massKg, units))} (${said(loadMassText(lighterKg, units))} lighter)`}
                  </li>
                ))}
              </ul>
            </>
          )}
        </div>
      )}
    </>
  );
}

function Main(props: { readonly found: BallastFor; readonly aircraft: AircraftReport; readonly shown: Shown }) {
  const { found, aircraft, shown } = props;
  const { units } = shown;
  const { state, why, massKg, ballast, before, after } = found;
  const [isSent, setSent] = useState(false);
  const across = (held: BallastFor['before'] | undefined) =>
    held?.lateral === undefined ? '' : ` ${said(acrossText(held.lateral, units))}`;
  if (state === 'not needed')
    return before.state === 'inside' ? (
      <p className="notice good">{say`● None is needed: on the forecast empty weight everything is inside as it is.`}</p>
    ) : (
      <p className="notice warn">
        {rich`▲ None is needed along x, and none is put aboard for what is outside across.${across(before)}`}
      </p>
    );
  if (state === 'none' || massKg === undefined)
    return <p className="notice bad">{rich`▲ Ballast here does not do it. ${why === undefined ? '' : NONE[why]}`}</p>;
  const tryIt = () => {
    for (const one of ballast)
      addToScratch(aircraft.id, {
        act: 'add part',
        name: say`Ballast, ${one.station}`,
        mass: plain(Number((one.massKg / MASS_UNIT_KG[units.mass]).toPrecision(6))),
        x: plain(one.xM / LENGTH_UNIT_M[units.length]),
        ...(one.yM === undefined ? {} : { y: plain(one.yM / LENGTH_UNIT_M[units.length]) }),
      });
    setSent(true);
  };
  return (
    <div className={`notice stack-tight ${after?.state === 'inside' ? 'good' : 'warn'}`}>
      <p>
        <strong>
          {ballast
            .map((one) => say`${shown.massWithUnit(one.massKg)} at ${one.station} (${placeText(one, shown)})`)
            .join(' and ')}
        </strong>
        {ballast.length > 1 ? say`, together ${shown.massWithUnit(massKg)}` : ''}.
      </p>
      <p>
        {rich`Before: ${before.worstOfAll === undefined ? before.state : said(worstText(before.worstOfAll, units))}. After: ${after?.state === 'inside' ? say`● inside` : say`▲ outside`}${after?.worstOfAll === undefined ? '' : `, ${said(worstText(after.worstOfAll, units))}`}${
          after === undefined
            ? ''
            : say`; the empty weight is then ${shown.massWithUnit(after.empty.massKg)} at ${shown.lengthWithUnit(after.empty.xM)}, its CG ${said(distanceText(Math.abs(after.empty.xM - found.empty.xM), units))} ${after.empty.xM < found.empty.xM ? say`further forward` : say`further aft`}`
        }.${across(after)}`}
      </p>
      <div className="row">
        <Button slim onPress={tryIt} isDisabled={isSent}>{say`Try it in What if`}</Button>
        {isSent ? (
          <span>{rich`It is on the list of ${<Link href={`/aircraft/${aircraft.id}/what-if`}>{say`What if`}</Link>}, to be kept as a proposal.`}</span>
        ) : null}
      </div>
    </div>
  );
}

function placeText({ xM, yM }: BallastFor['ballast'][number], shown: Shown): string {
  return `${shown.lengthWithUnit(xM)}${yM === undefined ? '' : `, y ${shown.lengthWithUnit(yM, { sign: true })}`}`;
}

function inShort({ state, massKg, why, ballast, after }: BallastFor, shown: Shown): string {
  if (state === 'not needed') return say`none needed`;
  if (state === 'none' || massKg === undefined) return why === undefined ? say`none helps` : NONE[why];
  const places = ballast.map((one) => say`${shown.massWithUnit(one.massKg)} at ${one.station}`).join(' and ');
  return say`${places}; ${after?.state ?? ''} with it`;
}
