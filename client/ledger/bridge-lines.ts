/** The lines of a bridge under their names, whatever it is told apart by: causes, groups or parts. */

import type { BridgeKey, BridgeReport, BridgeRow } from '#shared/contract/reports.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { causeName } from '../words/causes.ts';

export type BridgeLine = Pick<BridgeRow, 'massKg' | 'marginKg' | 'momentXKgM' | 'partId'> & { readonly name: string };

export const BRIDGE_HEADING: Readonly<Record<BridgeKey, string>> = {
  cause: say`Cause`,
  group: say`Group`,
  part: say`Part`,
};

export function bridgeLines({ by, effects, rows }: BridgeReport): readonly BridgeLine[] {
  if (by === 'cause') return effects.map((effect) => ({ ...effect, name: causeName(effect) }));
  return rows.map((row) => ({ ...row, name: rowName(row) }));
}

function rowName({ of, name, partCount }: BridgeRow): string {
  switch (of) {
    case 'targets':
      return say`target revised`;
    case 'aircraft weighed':
      return say`aircraft on its scales, beyond its parts`;
    case 'all other parts':
      return partCount === 1 ? say`one other part` : say`all ${partCount} other parts`;
    default:
      return name;
  }
}

/** The end of a bridge: a day, or an entry by its number. */
export function endWords(axis: BridgeReport['axis'], at: string | number): string {
  return axis === 'day' ? dayWords(String(at)) : say`entry ${at}`;
}
