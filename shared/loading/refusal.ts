/** What is refused of loading limits (rules C1, C4), with its words and its remedy; part of the registry of all refusals. */

import { showFixed } from '#shared/quantity/show.ts';
import { say } from '#shared/words/say.ts';

/** Figures come as text with their unit. */
export type LoadingRefusal =
  | { readonly code: 'envelope-too-few'; readonly points: number }
  | { readonly code: 'envelope-crosses-itself'; readonly side: number; readonly other: number }
  | { readonly code: 'envelope-without-area' }
  | { readonly code: 'envelope-in-two'; readonly mass: string }
  | { readonly code: 'seats-too-many'; readonly seats: number; readonly most: number }
  | { readonly code: 'station-twice'; readonly station: string }
  | { readonly code: 'station-unknown'; readonly station: string; readonly known: readonly string[] }
  | { readonly code: 'case-twice'; readonly name: string }
  | { readonly code: 'least-above-most'; readonly least: string; readonly most: string }
  | { readonly code: 'table-not-increasing'; readonly quantity: string; readonly before: string }
  | { readonly code: 'table-beyond-tank'; readonly quantity: string; readonly usable: string }
  | { readonly code: 'load-in-other-unit'; readonly station: string; readonly wanted: 'a mass' | 'a volume' }
  | { readonly code: 'load-out-of-bounds'; readonly station: string; readonly has: string; readonly may: string }
  | { readonly code: 'fuel-above-capacity'; readonly tank: string; readonly has: string; readonly usable: string }
  | { readonly code: 'burn-above-fuel'; readonly tank: string; readonly burnt: string; readonly spare: string }
  | { readonly code: 'maximum-below-empty'; readonly what: string; readonly maximum: string; readonly empty: string }
  | { readonly code: 'maximum-above-maximum'; readonly what: string; readonly stated: string; readonly maximum: string }
  | { readonly code: 'lateral-reversed' }
  | { readonly code: 'lateral-without-butt-line'; readonly station: string };

type Words = {
  readonly [Code in LoadingRefusal['code']]: (facts: Extract<LoadingRefusal, { code: Code }>) => {
    readonly words: string;
    readonly remedy: string;
  };
};

export const LOADING_WORDS: Words = {
  'envelope-too-few': ({ points }) => ({
    words: say`The envelope has ${points === 0 ? say`no corners` : points === 1 ? say`one corner` : say`${showFixed(points, 0)} corners`}; it takes at least three to enclose anything.`,
    remedy: say`Give its corners in order, each with its mass and its station.`,
  }),
  'envelope-crosses-itself': ({ side, other }) => ({
    words: say`The envelope crosses or touches itself: its side from corner ${side} meets its side from corner ${other}.`,
    remedy: say`Give the corners in order, once around, and each of them once.`,
  }),
  'envelope-without-area': () => ({
    words: say`The envelope encloses nothing: its corners lie on one line.`,
    remedy: say`Check the masses and stations of its corners.`,
  }),
  'envelope-in-two': ({ mass }) => ({
    words: say`At ${mass} the envelope has two CG ranges, one behind the other, with a gap between them.`,
    remedy: say`Give it one forward and one aft limit at every mass: check the order of the corners.`,
  }),
  'seats-too-many': ({ seats, most }) => ({
    words: say`There are ${showFixed(seats, 0)} seats; more than ${showFixed(most, 0)} are not worked through.`,
    remedy: say`Put seats of one row that have the same station together as a bench.`,
  }),
  'station-twice': ({ station }) => ({
    words: say`The name ${station} is there twice.`,
    remedy: say`Give each loading station a name of its own, and each load of a case once.`,
  }),
  'station-unknown': ({ station, known }) => ({
    words: say`There is no ${station} among the loading stations.`,
    remedy: known.length === 0 ? say`Add it to the stations first.` : say`Choose one of: ${known.join(', ')}.`,
  }),
  'case-twice': ({ name }) => ({
    words: say`Two loading cases are called ${name}.`,
    remedy: say`Give one of them another name.`,
  }),
  'least-above-most': ({ least, most }) => ({
    words: say`The least (${least}) is above the most (${most}).`,
    remedy: say`Check the two; they may have changed places.`,
  }),
  'table-not-increasing': ({ quantity, before }) => ({
    words: say`In the table of arms ${quantity} comes after ${before}.`,
    remedy: say`Give the rows by growing quantity, each quantity once.`,
  }),
  'table-beyond-tank': ({ quantity, usable }) => ({
    words: say`The table of arms goes up to ${quantity}, and ${usable} can be used.`,
    remedy: say`Check the table and the usable quantity.`,
  }),
  'load-in-other-unit': ({ station, wanted }) => ({
    words: say`The load at ${station} needs ${wanted}.`,
    remedy: say`Give what is in a tank as a volume, and all else as a mass.`,
  }),
  'load-out-of-bounds': ({ station, has, may }) => ({
    words: say`The load at ${station} is ${has}; it may be ${may}.`,
    remedy: say`Check the load, or what the station may have.`,
  }),
  'fuel-above-capacity': ({ tank, has, usable }) => ({
    words: say`In ${tank} are said to be ${has}, and no more than ${usable} can be used.`,
    remedy: say`Give usable fuel only: what is unusable is in the empty weight.`,
  }),
  'burn-above-fuel': ({ tank, burnt, spare }) => ({
    words: say`Out of ${tank} ${burnt} are burnt, and ${spare} are in it to burn.`,
    remedy: say`Burn less, or load more. What the tank must keep is not burnt.`,
  }),
  'maximum-below-empty': ({ what, maximum, empty }) => ({
    words: say`The ${what} (${maximum}) is not above the empty weight (${empty}).`,
    remedy: say`Check the figure and its unit.`,
  }),
  'maximum-above-maximum': ({ what, stated, maximum }) => ({
    words: say`The ${what} (${stated}) is above the maximum weight (${maximum}).`,
    remedy: say`Check the two; leave it out where the aircraft has none.`,
  }),
  'lateral-reversed': () => ({
    words: say`The left end of the range of butt lines does not lie left of the right end.`,
    remedy: say`Butt lines grow to the right: give the smaller one as the left end.`,
  }),
  'lateral-without-butt-line': ({ station }) => ({
    words: say`A range of butt lines is given, and ${station} has none.`,
    remedy: say`Give its butt line (0 in the middle), or leave the range out.`,
  }),
};
