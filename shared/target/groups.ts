/**
 * Groups of parts: two sets to start from, both to be edited, and the ones that an aircraft has (rule R4).
 *
 * The chapters are those of ATA 100 (chapter 100 of the Air Transport Association's specification, as the aviation authorities print its
 * chapter titles): read. The functional groups are those that weight statements commonly have: from memory, no source. Both leave out what a
 * small aircraft has not.
 */

import { inForce, type Ledger, presentParts } from '#shared/ledger/fold.ts';
import { say } from '#shared/words/say.ts';

export const GROUP_SETS = ['functional', 'ata'] as const;
export type GroupSet = (typeof GROUP_SETS)[number];

export const STARTER_GROUPS: Readonly<Record<GroupSet, readonly string[]>> = {
  functional: [
    say`wing`,
    say`tail`,
    say`body`,
    say`alighting gear`,
    say`propulsion`,
    say`fuel system`,
    say`flight controls`,
    say`electrical`,
    say`instruments and avionics`,
    say`furnishings`,
    say`finish`,
  ],
  ata: [
    say`21 air conditioning`,
    say`23 communications`,
    say`24 electrical power`,
    say`25 equipment and furnishings`,
    say`27 flight controls`,
    say`28 fuel`,
    say`31 instruments`,
    say`32 landing gear`,
    say`33 lights`,
    say`34 navigation`,
    say`52 doors`,
    say`53 fuselage`,
    say`54 nacelles and pylons`,
    say`55 stabilizers`,
    say`56 windows`,
    say`57 wings`,
    say`61 propellers`,
    say`71 power plant`,
    say`72 engine`,
    say`79 oil`,
  ],
};

/** The groups of an aircraft: those its targets list, in their order, then those that its parts have beside them. */
export function groupsOf(ledger: Ledger): readonly string[] {
  const listed = (inForce(ledger, 'targets')?.groups ?? []).map(({ group }) => group);
  const used = presentParts(ledger).map(({ definition }) => definition.group);
  return [...new Set([...listed, ...[...new Set(used)].sort()])];
}

/** Groups whose names differ in case or in spaces alone are one. */
export function groupKey(group: string): string {
  return group.trim().replace(/\s+/g, ' ').toLowerCase().normalize('NFC');
}
