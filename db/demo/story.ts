/**
 * What happens to the invented demonstration aircraft beyond the plain run of weighings. People, reasons and figures are invented.
 */

import type { z } from 'zod';
import type { DriftCause } from '#shared/ledger/entry.ts';

export const DEMONSTRATION_NAME = 'Dabchick (invented demonstration)';

/** Five invented initials: who leads, who lays up, who machines and fits, who does the systems. */
export const PEOPLE = { lead: 'QL', layUp: ['NAB', 'JUT'], fitter: 'WEO', systems: 'DZ' } as const;

export const AIRCRAFT_WORDS = {
  kind: 'aircraft',
  name: DEMONSTRATION_NAME,
  datum: '0.500 m ahead of the bow, at right angles to the keel ahead of the step.',
  levelling: 'Two pads on the cockpit floor, level fore and aft; a spirit level across the main frame.',
  mac: '1.250 m',
  lemac: '3.150 m',
  'mass unit': 'kg',
  'length unit': 'm',
} as const;

export type TargetRevision = {
  readonly week: number;
  readonly emptyKg: number;
  readonly reserveKg: number;
  readonly reason?: string;
  readonly groupsKg: Readonly<Record<string, number>>;
};

export const TARGETS: readonly TargetRevision[] = [
  {
    week: 0,
    emptyKg: 362,
    reserveKg: 4,
    groupsKg: {
      wing: 64,
      tail: 15.5,
      'hull and sponsons': 83,
      'alighting gear': 24,
      propulsion: 113,
      controls: 11,
      'instruments and wiring': 17.5,
      furnishing: 11.5,
      finish: 13,
    },
  },
  {
    week: 15,
    emptyKg: 367,
    reserveKg: 4,
    reason:
      'The engine maker states 60.4 kg with the reduction gear, 4.9 kg over the first figure; no lighter one is to be had.',
    groupsKg: {
      wing: 64,
      tail: 15.5,
      'hull and sponsons': 83.5,
      'alighting gear': 24.5,
      propulsion: 116,
      controls: 11.3,
      'instruments and wiring': 18,
      furnishing: 12,
      finish: 13.5,
    },
  },
  {
    week: 47,
    emptyKg: 372,
    reserveKg: 1.5,
    reason:
      'Water rudder, beacon, anchor and gear legs restressed for a rough strip are wanted; paid for with 4 kg of fuel at the same maximum weight of 650 kg, and 2.5 kg of the reserve is released.',
    groupsKg: {
      wing: 65,
      tail: 16,
      'hull and sponsons': 86,
      'alighting gear': 25.5,
      propulsion: 116.5,
      controls: 11.5,
      'instruments and wiring': 19.5,
      furnishing: 13.5,
      finish: 14.5,
    },
  },
];

/** CG range of the empty aircraft. */
export const CG_RANGE = { forward: '24 % MAC', aft: '32 % MAC' } as const;

type Cause = { readonly cause: z.infer<typeof DriftCause>; readonly remark: string };

/** What people said of a part that came out off its estimate. The others are still open. */
export const CAUSES: Readonly<Record<string, Cause>> = {
  'H-15': { cause: 'resin-rich', remark: 'Resin stood in the flange corners after the clamp was closed.' },
  'W-11': { cause: 'resin-rich', remark: 'Glossy on the bag side all along the root.' },
  'H-31': { cause: 'resin-rich', remark: 'Feed line was shut late again.' },
  'T-15': { cause: 'extra reinforcement', remark: 'One more ply around the horn than the schedule says.' },
  'G-11': { cause: 'design changed', remark: 'Fork wall made 2 mm thicker after the drop test piece bent.' },
  'P-13': { cause: 'estimate wrong', remark: 'The list left out the clamps and the slip joint.' },
};

/** What was mixed for an infusion, as the sheet at the mould says; by the scale there is more in the lower wing skin than came out of the pot. */
export const RESIN_SHEETS: Readonly<
  Record<string, Readonly<Record<'resin mixed' | 'resin left' | 'resin in lines', string>>>
> = {
  'T-21': { 'resin mixed': '1.02 kg', 'resin left': '0.13 kg', 'resin in lines': '0.24 kg' },
  'H-15': { 'resin mixed': '2.40 kg', 'resin left': '0.31 kg', 'resin in lines': '0.48 kg' },
  'W-12': { 'resin mixed': '4.20 kg', 'resin left': '0.35 kg', 'resin in lines': '0.90 kg' },
};

/** A piece that was scrapped and made again. */
export const REMADE = {
  part: 'H-26',
  scrappedAfter: 2,
  madeAgainAfter: 5,
  inspection: 'Core crushed at the lower corner when the bag was pulled down. Not to be mended; to be made again.',
  remark: 'Second one. Bag pleated at the corner this time.',
} as const;

/** A display in pounds, typed as kilograms, and found out. */
export const SLIP = {
  part: 'W-51',
  piece: 1,
  daysUntilFound: 3,
  reason: 'The hand scale stood on pounds; what it showed was typed as kilograms.',
} as const;

/** Stowed things do not belong to the empty weight. */
export const REMOVED = {
  part: 'F-22',
  week: 49,
  reason: 'Stowed loose: counted with the baggage, not with the empty weight.',
} as const;

export type Note = {
  readonly week: number;
  readonly weekday: number;
  readonly by: string;
  readonly part?: string;
  readonly text: string;
};

export const NOTES: readonly Note[] = [
  {
    week: 0,
    weekday: 1,
    by: 'QL',
    text: 'First list is from the drawings. Lay-ups worked out by area carry 2 %; guesses carry what the shop list says until they are worked out.',
  },
  {
    week: 12,
    weekday: 2,
    by: 'NAB',
    text: 'Board re-weighed with new peel ply on it: 742 g. Use this as its tare from now on.',
  },
  {
    week: 21,
    weekday: 3,
    by: 'JUT',
    part: 'H-11',
    text: 'Print-through of the core on the port bilge, cosmetic. Lead has seen it.',
  },
  { week: 28, weekday: 2, by: 'DZ', part: 'P-11', text: 'Weighed dry, with starter leads and shipping plugs off.' },
  {
    week: 32,
    weekday: 4,
    by: 'QL',
    part: 'H-26',
    text: 'Cut the scrapped frame up: core crushed over 60 mm, skins sound. Resin content looks as usual.',
  },
  {
    week: 42,
    weekday: 4,
    by: 'NAB',
    part: 'H-15',
    text: 'Heavy for its size. New drum, new hardener and a new flow mesh, and the heater stands beside the mould now; everything else as always.',
  },
  {
    week: 46,
    weekday: 1,
    by: 'JUT',
    text: 'Vacuum gauge on the second pump reads 40 mbar better than the one at the mould. Do not trust it.',
  },
  {
    week: 50,
    weekday: 1,
    by: 'QL',
    part: 'W-12',
    text: 'By the sheet some 400 g less resin went in than the scale says. A second pot that nobody wrote down?',
  },
  {
    week: 50,
    weekday: 4,
    by: 'QL',
    text: 'Infused parts have been heavy since the bow deck. Not one of them by accident: look at hardener, mesh, heater and gauge together before the right wing skins.',
  },
  {
    week: 55,
    weekday: 0,
    by: 'QL',
    text: 'Filler and paint worked out from areas. Panels first, no paint on the hull bottom before the leak test.',
  },
  {
    week: 61,
    weekday: 2,
    by: 'WEO',
    part: 'G-11',
    text: 'First leg out of the machine with the thicker fork. Second one follows the same drawing.',
  },
  {
    week: 66,
    weekday: 3,
    by: 'QL',
    text: 'Wing panel left closed. Right panel waits for its lower skin; no infusion until the gauge has been checked.',
  },
  {
    week: 73,
    weekday: 1,
    by: 'DZ',
    part: 'E-22',
    text: 'Main harness laid out on the board. Looks longer than drawn behind the panel; will weigh it before it goes in.',
  },
  {
    week: 77,
    weekday: 3,
    by: 'QL',
    text: 'To decide: lighter flow mesh for what is left to infuse, propeller choice, or ask for one more kilogram of target.',
  },
];
