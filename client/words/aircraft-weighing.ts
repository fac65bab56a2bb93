/** The weighing of the whole aircraft in words: what is on the checklist, what looks like a slip, where uncertainty comes from. */

import type { WeighingDoubt } from '#shared/aircraft-weighing/doubts.ts';
import type { SupportSet } from '#shared/aircraft-weighing/draft.ts';
import type { UncertaintyFrom } from '#shared/aircraft-weighing/sources.ts';
import type { SupportKind, WeighingCheck } from '#shared/aircraft-weighing/weighing.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { DENSITY_UNIT_KG_PER_M3 } from '#shared/quantity/units.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';

export const CHECK_WORDS: Readonly<Record<WeighingCheck, string>> = {
  level: say`The aircraft stands level, by its levelling reference`,
  'hangar closed': say`The hangar is closed, without draught`,
  'scales in calibration': say`The scales are in calibration, and were set to zero`,
  'weighed twice': say`It was weighed twice, taken off the scales in between`,
  'equipment list': say`The equipment list of the report was checked against the aircraft`,
  fluids: say`Fluids are as stated in this weighing`,
  'nothing left aboard': say`No tools, people or anything else is aboard, but for what is stated in this weighing`,
};

export const SUPPORT_WORDS: Readonly<Record<SupportKind, string>> = {
  nosewheel: say`nosewheel`,
  tailwheel: say`tailwheel`,
  main: say`main wheel`,
  jack: say`jack point`,
  other: say`another support`,
};

export const FROM_WORDS: Readonly<Record<UncertaintyFrom, string>> = {
  'resolution of the scales': say`Resolution of the scales`,
  'calibration of the scales': say`Calibration of the scales`,
  'runs apart': say`Runs that lie apart`,
  'stations of the supports': say`Stations of the supports`,
  'angle of the tilt': say`Angle of the tilt`,
  'what was taken off and put on': say`What was taken off and put on`,
};

/** Densities to begin from; the fluid’s own data sheet and temperature decide. AC 43.13-1B (avgas, oil) and the FAA handbooks. */
export const FLUIDS: readonly { readonly fluid: string; readonly lbPerUsGal: number }[] = [
  { fluid: 'avgas', lbPerUsGal: 6 },
  { fluid: 'oil', lbPerUsGal: 7.5 },
  { fluid: say`turbine fuel`, lbPerUsGal: 6.7 },
  { fluid: 'water', lbPerUsGal: 8.35 },
];

/** Such a density in the unit that a bare number in its field has. */
export function densityWords(lbPerUsGal: number, unit: string): string {
  return unit === 'kg/L'
    ? say`${showFixed((lbPerUsGal * DENSITY_UNIT_KG_PER_M3['lb/US gal']) / DENSITY_UNIT_KG_PER_M3['kg/L'], 3)} kg/L`
    : say`${lbPerUsGal} lb/US gal`;
}

export function doubtWords(doubt: WeighingDoubt): string {
  switch (doubt.doubt) {
    case 'tare forgotten':
      return say`${doubt.support} has no tare, and other supports have one. Was it forgotten?`;
    case 'unit':
      return doubt.times === 'pounds as kilograms'
        ? say`The weight is about 2.2 times what the ledger has. Were pounds typed as kilograms?`
        : say`The weight is less than half of what the ledger has. Were kilograms typed as pounds?`;
    case 'run apart':
      return say`${doubt.support} reads differently from run to run. Does something hold the aircraft, or lean on it?`;
    case 'sides apart':
      return say`${doubt.support} and ${doubt.other} carry loads that differ by more than 15 %. Is the aircraft level across, and the tare of each its own?`;
    case 'CG out of range':
      return say`The empty CG lies outside its range.`;
    case 'far from the parts':
      return doubt.isMore
        ? say`The scales show far more than the ledger has of the parts that count as aboard. Parts that were on the aircraft may be ticked under “Not aboard”, and then count twice.`
        : say`The scales show far less than the ledger has of the parts that count as aboard. Tick under “Not aboard” what was not on the aircraft.`;
    case 'no part aboard':
      return say`The ledger has no part that was aboard on that day, so all its parts count beside what was weighed. Check the day it was weighed, and what is ticked under “Not aboard”.`;
    case 'height left out':
      return say`The height of the empty CG is left out, since no z is given of ${doubt.names.join(', ')}. Give it under “Fluids and other corrections”.`;
    case 'one run':
      return say`One run counts. Weighing twice is common practice: a single run cannot show that something was touching.`;
    case 'calibration out of date':
      return say`The calibration of scale ${doubt.scale} ended on ${dayWords(doubt.dueOn)}.`;
    case 'scale not described':
      return say`No calibration is known of the scales under ${doubt.supports.join(', ')}, so their error is not in the uncertainty. Describe the scales in Set-up and name them at the supports.`;
    case 'density':
      return say`The density of ${doubt.name} is not that of a fuel, oil or water. Check its unit.`;
  }
}

/** Said on the screen and on every report. */
export const EMPTY_WEIGHT_WORDS = say`Empty weight includes fixed ballast, unusable fuel and full operating fluids (14 CFR 23.29 as it stood before 2017).`;

export function oilWords(isEmptyWeight: boolean): string {
  return isEmptyWeight
    ? say`Oil is part of the empty weight of this aircraft.`
    : say`Oil is not part of the empty weight of this aircraft: take it off where it is aboard.`;
}

export const SAFETY_WORDS = say`Lifting and weighing an airframe can injure people. Follow the shop’s lifting and jacking practice: chocks, a tail stand, nobody below or aboard.`;

/** What an aircraft can stand on, to begin with. */
export const SET_WORDS: Readonly<Record<SupportSet, string>> = {
  'nosewheel and two mains': say`Nosewheel and two mains`,
  'two mains and a tailwheel': say`Two mains and a tailwheel`,
  'three jacks': say`Three jacks`,
};
