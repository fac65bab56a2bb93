/** What a decision or a cause is about, in one line: the flag, and how far it is off. */

import type { DriftReport } from '#shared/contract/drift.ts';
import { say } from '#shared/words/say.ts';
import { FlagWord } from '../pieces/flag-word.tsx';
import type { Shown } from '../pieces/units.ts';

/** A weighed part, or an assembly as the one piece that it is. */
export type Decided = Pick<DriftReport, 'number' | 'name' | 'pieces' | 'quantity' | 'weighingSeq' | 'flag'> &
  Partial<Pick<DriftReport, 'netKg' | 'expectedKg' | 'differenceKg'>> & {
    /** Where only what it does to the margin is known. */
    readonly marginKg?: number | undefined;
  };

export function FindingLine({ finding, shown }: { readonly finding: Decided; readonly shown: Shown }) {
  return (
    <p>
      {finding.name}: <FlagWord flag={finding.flag} />
      {offWords(finding, shown)}
    </p>
  );
}

function offWords(finding: Decided, { massWithUnit }: Shown): string {
  const { netKg, expectedKg, differenceKg, marginKg, pieces } = finding;
  if (differenceKg === undefined)
    return marginKg === undefined ? '' : say`, effect on margin ${massWithUnit(marginKg, { sign: true })}`;
  const each = pieces.length > 1 ? say` each` : '';
  return say`, ${massWithUnit(netKg)} where ${massWithUnit(expectedKg)} was expected: ${massWithUnit(differenceKg, { sign: true })}${each}`;
}
