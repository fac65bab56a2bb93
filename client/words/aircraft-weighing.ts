/** The weighing of the whole aircraft in words: what is on the checklist, what looks like a slip, where uncertainty comes from. */

import type { WeighingDoubt } from '#shared/aircraft-weighing/doubts.ts';
import type { UncertaintyFrom } from '#shared/aircraft-weighing/sources.ts';
import type { SupportKind, WeighingCheck } from '#shared/aircraft-weighing/weighing.ts';

export const CHECK_WORDS: Readonly<Record<WeighingCheck, string>> = {
  level: 'The aircraft stands level, by its levelling reference',
  'hangar closed': 'The hangar is closed, without draught',
  'scales in calibration': 'The scales are in calibration, and were set to zero',
  'weighed twice': 'It was weighed twice, taken off the scales in between',
  'equipment list': 'The equipment list below was checked against the aircraft',
  fluids: 'Fluids are as stated below',
  'nothing left aboard': 'No tools, people or anything else is aboard, but for what is stated below',
};

export const SUPPORT_WORDS: Readonly<Record<SupportKind, string>> = {
  nosewheel: 'nosewheel',
  tailwheel: 'tailwheel',
  main: 'main wheel',
  jack: 'jack point',
  other: 'another support',
};

export const FROM_WORDS: Readonly<Record<UncertaintyFrom, string>> = {
  'resolution of the scales': 'Resolution of the scales',
  'calibration of the scales': 'Calibration of the scales',
  'runs apart': 'Runs that lie apart',
  'stations of the supports': 'Stations of the supports',
  'angle of the tilt': 'Angle of the tilt',
  'what was taken off and put on': 'What was taken off and put on',
};

/** Densities to begin from; the fluid’s own data sheet and temperature decide. AC 43.13-1B and the FAA handbooks, in lb per US gallon. */
export const FLUIDS: readonly { readonly fluid: string; readonly density: string; readonly source: string }[] = [
  { fluid: 'avgas', density: '6.0 lb/US gal', source: 'AC 43.13-1B' },
  { fluid: 'oil', density: '7.5 lb/US gal', source: 'AC 43.13-1B' },
  { fluid: 'turbine fuel', density: '6.7 lb/US gal', source: 'FAA handbook' },
  { fluid: 'water', density: '8.35 lb/US gal', source: 'FAA handbook' },
];

export function doubtWords(doubt: WeighingDoubt): string {
  switch (doubt.doubt) {
    case 'tare forgotten':
      return `${doubt.support} has no tare, and other supports have one. Was it forgotten?`;
    case 'unit':
      return doubt.times === 'pounds as kilograms'
        ? 'The weight is about 2.2 times what the ledger has. Were pounds typed as kilograms?'
        : 'The weight is less than half of what the ledger has. Were kilograms typed as pounds?';
    case 'run apart':
      return `${doubt.support} reads differently from run to run. Does something hold the aircraft, or lean on it?`;
    case 'sides apart':
      return `${doubt.support} and ${doubt.other} carry loads that differ by more than 15 %. Is the aircraft level across, and the tare of each its own?`;
    case 'CG out of range':
      return 'The empty CG lies outside its range.';
    case 'one run':
      return 'One run counts. Weighing twice is common practice: a single run cannot show that something was touching.';
    case 'calibration out of date':
      return `The calibration of scale ${doubt.scale} ended on ${doubt.dueOn}.`;
    case 'scale not described':
      return `No calibration is known of the scales under ${doubt.supports.join(', ')}, so their error is not in the uncertainty. Describe the scales in Set-up and name them at the supports.`;
    case 'density':
      return `The density of ${doubt.name} is not that of a fuel, oil or water. Check its unit.`;
  }
}

/** Said on the screen and on every report. */
export const EMPTY_WEIGHT_WORDS =
  'Empty weight includes fixed ballast, unusable fuel and full operating fluids (14 CFR 23.29 as it stood before 2017).';

export function oilWords(isEmptyWeight: boolean): string {
  return isEmptyWeight
    ? 'Oil is part of the empty weight of this aircraft.'
    : 'Oil is not part of the empty weight of this aircraft: take it off where it is aboard.';
}

export const SAFETY_WORDS =
  'Lifting and weighing an airframe can injure people. Follow the shop’s lifting and jacking practice: chocks, a tail stand, nobody below or aboard.';
