/** What changed, and what each group comes to, as tables of a brief (rule B4). */

import type { BriefContent } from '#shared/contract/brief.ts';
import type { BridgeRow } from '#shared/contract/reports.ts';
import { say } from '#shared/words/say.ts';
import { type BriefTable, tableOf } from './table.ts';

type Row = {
  readonly by: 'cause' | 'group' | 'part';
  readonly name: string;
  readonly partCount?: number;
  readonly massKg: number;
  readonly momentXKgM: number;
  readonly marginKg: number;
};

/** Three ways to tell one change: the rows of each way add up to it, all rows together to three times as much. */
export function bridgeTable({ aircraft, bridge }: BriefContent): BriefTable {
  const rows: readonly Row[] = [
    ...bridge.causes.map((effect): Row => ({ ...effect, by: 'cause', name: causeName(effect) })),
    ...bridge.groups.map((row): Row => ({ ...row, by: 'group', name: bridgeName(row) })),
    ...bridge.parts.map((row): Row => ({ ...row, by: 'part', name: bridgeName(row) })),
  ];
  return tableOf('bridge', aircraft, rows, [
    { heading: say`by`, kind: 'text', cell: ({ by }) => by },
    { heading: say`name`, kind: 'text', cell: ({ name }) => name },
    { heading: say`parts`, kind: 'count', cell: ({ partCount }) => partCount },
    { heading: say`change of the predicted weight`, kind: 'mass', cell: ({ massKg }) => massKg },
    { heading: say`change of moment x`, kind: 'moment', cell: ({ momentXKgM }) => momentXKgM },
    { heading: say`change of the margin`, kind: 'mass', cell: ({ marginKg }) => marginKg },
  ]);
}

export function causeName({ cause, isCorrection }: BriefContent['bridge']['causes'][number]): string {
  return isCorrection ? say`${cause} (corrected)` : cause;
}

/** A group or a part by its own name, the other rows by what they are. */
export function bridgeName({ of, name }: BridgeRow): string {
  return of === 'group' || of === 'part' ? name : of;
}

export function groupsTable({ aircraft, groups }: BriefContent): BriefTable {
  return tableOf('groups', aircraft, groups, [
    { heading: say`group`, kind: 'text', cell: ({ group }) => group },
    { heading: say`parts`, kind: 'count', cell: ({ partCount }) => partCount },
    { heading: say`predicted`, kind: 'mass', cell: ({ predictedKg }) => predictedKg },
    { heading: say`forecast`, kind: 'mass', cell: ({ forecastKg }) => forecastKg },
    { heading: say`standard uncertainty`, kind: 'mass', cell: ({ forecastStdKg }) => forecastStdKg },
    { heading: say`nine in ten from`, kind: 'mass', cell: ({ lowKg }) => lowKg },
    { heading: say`nine in ten to`, kind: 'mass', cell: ({ highKg }) => highKg },
    { heading: say`target`, kind: 'mass', cell: ({ targetKg }) => targetKg },
    { heading: say`margin of the forecast`, kind: 'mass', cell: ({ marginKg }) => marginKg },
  ]);
}
