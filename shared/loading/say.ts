/**
 * Loadings in plain words (rules C2, C5), for the screen and the command alike: how far outside, at which mass, and what is aboard. Figures in the
 * aircraft's units, fluids in litres or US gallons; a distance to a limit is told finer than a station.
 */

import type {
  AnswerReport,
  BandReport,
  CaseReport,
  LateralReport,
  LoadedReport,
  WorstReport,
} from '#shared/contract/loading.ts';
import { type DisplayUnits, showFixed, showLength, showMass } from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG, VOLUME_UNIT_M3 } from '#shared/quantity/units.ts';
import { say, term } from '#shared/words/say.ts';
import { fluidUnits } from './in-words.ts';

/** How far back today is compared where no day is said: a week. */
export const USUAL_DAYS = 7;
const DAY_MS = 86_400_000;

/** The day so many days before another, both YYYY-MM-DD. */
export function dayBefore(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) - days * DAY_MS).toISOString().slice(0, 10);
}

/** Nearer than what is shown, a CG is on its limit. */
const ON_M = 5e-5;

/** A distance: tenths of a millimetre, or hundredths of an inch. */
export function distanceText(distanceM: number, { length }: DisplayUnits): string {
  const isInches = length === 'in' || length === 'ft';
  return isInches
    ? say`${showFixed(distanceM / LENGTH_UNIT_M.in, 2)} in`
    : say`${showFixed(distanceM / LENGTH_UNIT_M.mm, 1)} mm`;
}

/** A load as a person says it: `55 kg`, `61.9 kg`, `121.3 lb`. */
export function loadMassText(massKg: number, { mass }: DisplayUnits): string {
  return `${short(massKg / MASS_UNIT_KG[mass])} ${mass}`;
}

export function volumeText(quantityL: number, units: DisplayUnits): string {
  const { volume } = fluidUnits(units);
  return `${short((quantityL * 0.001) / VOLUME_UNIT_M3[volume])} ${volume}`;
}

/** `Left seat 55 kg, Hull tank 86 L`. */
export function loadsText(loads: LoadedReport['loads'], units: DisplayUnits): string {
  if (loads.length === 0) return say`nothing aboard`;
  return loads
    .map(
      ({ station, massKg, quantityL }) =>
        `${station} ${quantityL === undefined ? loadMassText(massKg, units) : volumeText(quantityL, units)}`,
    )
    .join(', ');
}

/** `5.1 mm aft of the limit at 505.8 kg`, `3.3 mm inside the aft limit at 480 kg`, `1.2 kg heavier than the envelope goes`. */
export function worstText(worst: WorstReport, units: DisplayUnits): string {
  return `${distanceOfWorst(worst, units)}${worst.outM === undefined ? '' : say` at ${loadMassText(worst.loaded.massKg, units)}`}`;
}

function distanceOfWorst({ way, outM, outKg = 0, isOutside }: WorstReport, units: DisplayUnits): string {
  if (way === 'too light' || way === 'too heavy') {
    const isHeavy = way === 'too heavy';
    const off = loadMassText(Math.abs(outKg), units);
    if (isOutside) return say`${off} ${isHeavy ? say`heavier` : say`lighter`} than the envelope goes`;
    return Math.abs(outKg) < 1e-6
      ? say`on the ${isHeavy ? say`greatest` : say`least`} mass of the envelope`
      : say`${off} ${isHeavy ? say`below the greatest` : say`above the least`} mass of the envelope`;
  }
  const off = distanceText(Math.abs(outM ?? 0), units);
  if (!isOutside && Math.abs(outM ?? 0) < ON_M) return say`on the ${term(way)} limit`;
  return isOutside ? say`${off} ${term(way)} of the limit` : say`${off} inside the ${term(way)} limit`;
}

export type Verdict = {
  readonly isInside: boolean;
  /** What holds, in one sentence. */
  readonly headline: string;
  /** The worst permitted loading, and what is aboard. */
  readonly worst: string | undefined;
  /** How many of the named cases are inside; undefined where there are none. */
  readonly cases: string | undefined;
};

/** Rule C5: outside is said first, whatever else holds. */
export function verdictOf(answer: AnswerReport, units: DisplayUnits): Verdict {
  const inside = answer.cases.filter(({ state }) => state === 'inside').length;
  const count = answer.cases.length;
  const cases =
    count === 0
      ? undefined
      : inside === count
        ? count === 1
          ? say`The one named case is inside.`
          : say`All ${count} named cases are inside.`
        : say`${inside} of ${count} named cases ${inside === 1 ? say`is` : say`are`} inside.`;
  const { state, worstOfAll, lateral } = answer;
  const isInside = state === 'inside' && inside === count;
  if (state === 'nothing permitted' || worstOfAll === undefined)
    return {
      isInside: false,
      headline: say`Nothing can be loaded: the lightest loading, ${loadMassText(answer.lightest.massKg, units)}, is above a maximum weight.`,
      worst: loadsText(answer.lightest.loads, units),
      cases,
    };
  const across = lateral?.isOutside === true ? acrossText(lateral, units) : undefined;
  const worst = say`The worst permitted loading is ${worstText(worstOfAll, units)}: ${loadsText(worstOfAll.loaded.loads, units)}.`;
  return {
    isInside,
    headline:
      state === 'inside'
        ? isInside
          ? say`Every permitted loading is inside the envelope.`
          : say`Every permitted loading is inside, but not every named case is.`
        : say`Outside: not every permitted loading is inside the envelope.`,
    worst: across === undefined ? worst : `${worst} ${across}`,
    cases,
  };
}

/** `Across, the CG comes 4.2 mm too far left: …`, or how near to an end it comes. */
export function acrossText(
  { leftmost, rightmost, leftOutM, rightOutM, isOutside }: LateralReport,
  units: DisplayUnits,
): string {
  const isLeft = leftOutM > rightOutM;
  const side = isLeft ? say`left` : say`right`;
  const off = distanceText(Math.abs(Math.max(leftOutM, rightOutM)), units);
  if (!isOutside) return say`Across, the CG stays ${off} inside the ${side} end.`;
  return say`Across, the CG comes ${off} too far ${side}: ${loadsText((isLeft ? leftmost : rightmost).loads, units)}.`;
}

/** What holds in the forecast's band, and the worst of it. */
export function bandVerdictOf(
  { state, worstOfAll }: BandReport,
  units: DisplayUnits,
): Pick<Verdict, 'isInside' | 'headline' | 'worst'> {
  const isInside = state === 'inside';
  const headline = isInside
    ? say`All of the forecast’s band has every permitted loading inside.`
    : say`Not all of the forecast’s band has every permitted loading inside.`;
  if (worstOfAll === undefined) return { isInside, headline, worst: undefined };
  const { empty, loaded } = worstOfAll;
  const on = say`${showMass(empty.massKg, units.mass)} ${units.mass} at ${showLength(empty.xM, units.length)} ${units.length}`;
  const worst = say`The worst in it is ${worstText(worstOfAll, units)}, on ${on} empty: ${loadsText(loaded.loads, units)}.`;
  return { isInside, headline, worst };
}

/** What is wrong with a case, or that it is inside. */
export function caseText({ stretches, above, across }: CaseReport, units: DisplayUnits): string {
  const parts = [
    ...above.map(({ what, aboveKg }) => say`${loadMassText(aboveKg, units)} above the ${term(what)}`),
    ...stretches.map((stretch) => stretchText(stretch, units)),
    ...(across === undefined
      ? []
      : [
          say`${distanceText(across.outM, units)} too far ${term(across.side)} at ${loadMassText(across.massKg, units)}`,
        ]),
  ];
  return parts.length === 0 ? say`inside` : say`outside: ${parts.join('; ')}`;
}

function stretchText({ from, to, worst }: CaseReport['stretches'][number], units: DisplayUnits): string {
  const { way, outM, outKg } = worst;
  const [high, low] = [loadMassText(from.massKg, units), loadMassText(to.massKg, units)];
  const isPoint = Math.abs(from.massKg - to.massKg) < 1e-6;
  // At its station no mass is inside: there is no figure to give.
  if (outM === undefined && outKg === undefined)
    return isPoint
      ? say`${term(way)} for the envelope at ${high}`
      : say`${term(way)} for the envelope at worst, between ${high} and ${low}`;
  const off =
    outM === undefined
      ? `${loadMassText(Math.abs(outKg ?? 0), units)} ${term(way)}`
      : say`${distanceText(outM, units)} ${term(way)} of the limit`;
  return isPoint ? say`${off} at ${high}` : say`up to ${off} between ${high} and ${low}`;
}

/** Tenths, and none where there are none. */
function short(value: number): string {
  return showFixed(value, 1).replace(/\.0$/, '');
}
