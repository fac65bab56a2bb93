/** Scratch changes and proposals as people read them (rules F6, F8). */
import type { Act, NamedChange, ProposalState, Unfit } from '#shared/contract/proposal.ts';
import type { Shown } from '../pieces/units.ts';

export const ACT_WORDS: Readonly<Record<Act, string>> = {
  'set mass': 'Another mass',
  'add mass': 'Mass added or taken off',
  'set arm': 'Another station',
  move: 'Moved by',
  remove: 'Left out',
  'add part': 'Something new',
};

export const STATE_WORDS: Readonly<Record<ProposalState, string>> = {
  open: 'open',
  agreed: 'agreed',
  done: 'done',
  dropped: 'dropped',
};

export const UNFIT_WORDS: Readonly<Record<Unfit['why'], string>> = {
  removed: 'has been removed since',
  weighed: 'has been weighed since',
  'station measured': 'had its station measured since',
  'not possible': 'cannot be changed so any more',
};

/** `RIB-4: 0.500 kg lighter`. */
export function changeInWords({ part, change }: NamedChange, shown: Shown): string {
  switch (change.act) {
    case 'set mass':
      return `${part}: ${shown.massWithUnit(change.massKg)}`;
    case 'add mass':
      return `${part}: ${shown.massWithUnit(Math.abs(change.massKg))} ${change.massKg < 0 ? 'lighter' : 'heavier'}`;
    case 'set arm':
      return `${part}: to ${stations(change, shown)}`;
    case 'move':
      return `${part}: moved by ${stations(change, shown, true)}`;
    case 'remove':
      return `${part}: left out`;
    case 'add part': {
      const at = stations(change, shown);
      return `${part || 'Something new'}: ${shown.massWithUnit(change.massKg)}${at === '' ? '' : ` at ${at}`}`;
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
