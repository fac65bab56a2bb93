/** What is proposed and what is open, as tables of a brief (rule B4). */

import type { BriefContent } from '#shared/contract/brief.ts';
import { say } from '#shared/words/say.ts';
import { type BriefTable, tableOf, tableOfList } from './table.ts';

export function proposalsTable({ aircraft, proposals }: BriefContent): BriefTable {
  return tableOfList('proposals', aircraft, proposals, [
    { heading: say`proposal`, kind: 'text', cell: ({ title }) => title },
    { heading: say`owner`, kind: 'text', cell: ({ owner }) => owner },
    { heading: say`state`, kind: 'text', cell: ({ state }) => state },
    { heading: say`due`, kind: 'day', cell: ({ due }) => due },
    { heading: say`overdue`, kind: 'text', cell: ({ isOverdue }) => (isOverdue ? 'yes' : 'no') },
    { heading: say`new`, kind: 'text', cell: ({ isNew }) => (isNew ? 'yes' : 'no') },
    { heading: say`saving`, kind: 'mass', cell: ({ savingKg }) => savingKg },
    { heading: say`effect on the CG`, kind: 'CG change', cell: ({ cgChangeXM }) => cgChangeXM },
    { heading: say`likelihood`, kind: 'per cent', cell: ({ likelihood }) => likelihood },
    { heading: say`in the sums`, kind: 'text', cell: ({ counts }) => (counts ? 'yes' : 'no') },
    { heading: say`no longer fits`, kind: 'text', cell: ({ unfit }) => unfit.map(unfitWords).join('; ') },
    { heading: say`overlaps`, kind: 'text', cell: ({ overlaps }) => overlaps.join('; ') },
    { heading: say`reason`, kind: 'text', cell: ({ reason }) => reason },
  ]);
}

function unfitWords({ part, why }: BriefContent['proposals']['rows'][number]['unfit'][number]): string {
  return `${part}: ${why}`;
}

export function openTable({ aircraft, open }: BriefContent): BriefTable {
  return tableOf('open', aircraft, open.counts, [
    { heading: say`what`, kind: 'text', cell: ({ what }) => what },
    { heading: say`how many`, kind: 'count', cell: ({ count }) => count },
  ]);
}
