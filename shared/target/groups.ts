/**
 * Groups of parts: two sets to start from, both to be edited, and the ones that an aircraft has (rule R4).
 *
 * The chapters are those of ATA 100 (chapter 100 of the Air Transport Association's specification, as the aviation authorities print its
 * chapter titles): read. The functional groups are those that weight statements commonly have: from memory, no source. Both leave out what a
 * small aircraft has not.
 */

import { inForce, type Ledger, presentParts } from '#shared/ledger/fold.ts';

export const GROUP_SETS = ['functional', 'ata'] as const;
export type GroupSet = (typeof GROUP_SETS)[number];

export const STARTER_GROUPS: Readonly<Record<GroupSet, readonly string[]>> = {
  functional: [
    'wing',
    'tail',
    'body',
    'alighting gear',
    'propulsion',
    'fuel system',
    'flight controls',
    'electrical',
    'instruments and avionics',
    'furnishings',
    'finish',
  ],
  ata: [
    '21 air conditioning',
    '23 communications',
    '24 electrical power',
    '25 equipment and furnishings',
    '27 flight controls',
    '28 fuel',
    '31 instruments',
    '32 landing gear',
    '33 lights',
    '34 navigation',
    '52 doors',
    '53 fuselage',
    '54 nacelles and pylons',
    '55 stabilizers',
    '56 windows',
    '57 wings',
    '61 propellers',
    '71 power plant',
    '72 engine',
    '79 oil',
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
