/** Scratch changes and proposals as people read them (rules F6, F8). */

import type { Act, NamedChange, ProposalState, Unfit } from '#shared/contract/proposal.ts';
import { say } from '#shared/words/say.ts';
import type { Shown } from '../pieces/units.ts';

export const ACT_WORDS: Readonly<Record<Act, string>> = {
  'set mass': say`Another mass`,
  'add mass': say`Mass added or taken off`,
  'set arm': say`Another station`,
  move: say`Moved by`,
  remove: say`Left out`,
  'add part': say`Something new`,
};

export const STATE_WORDS: Readonly<Record<ProposalState, string>> = {
  open: say`open`,
  agreed: say`agreed`,
  done: say`done`,
  dropped: say`dropped`,
};

export const UNFIT_WORDS: Readonly<Record<Unfit['why'], string>> = {
  removed: say`has been removed since`,
  weighed: say`has been weighed since`,
  'station measured': say`had its station measured since`,
  'not possible': say`cannot be changed so any more`,
};

/** `RIB-4: 0.500 kg lighter`. */
export function changeInWords({ part, change }: NamedChange, shown: Shown): string {
  switch (change.act) {
    case 'set mass':
      return `${part}: ${shown.massWithUnit(change.massKg)}`;
    case 'add mass':
      return `${part}: ${shown.massWithUnit(Math.abs(change.massKg))} ${change.massKg < 0 ? say`lighter` : say`heavier`}`;
    case 'set arm':
      return say`${part}: to ${stations(change, shown)}`;
    case 'move':
      return say`${part}: moved by ${stations(change, shown, true)}`;
    case 'remove':
      return say`${part}: left out`;
    case 'add part': {
      const at = stations(change, shown);
      return `${part || say`Something new`}: ${shown.massWithUnit(change.massKg)}${at === '' ? '' : say` at ${at}`}`;
    }
  }
}

type Stations = {
  readonly xM?: number | undefined;
  readonly yM?: number | undefined;
  readonly zM?: number | undefined;
};

function stations({ xM, yM, zM }: Stations, shown: Shown, sign = false): string {
  return [
    ['x', xM],
    ['y', yM],
    ['z', zM],
  ]
    .flatMap(([axis, at]) => (typeof at === 'number' ? [`${axis}\u00a0${shown.lengthWithUnit(at, { sign })}`] : []))
    .join(', ');
}

export function likelihoodInWords(likelihood: number): string {
  return `${Number((likelihood * 100).toFixed(1))}\u00a0%`;
}
