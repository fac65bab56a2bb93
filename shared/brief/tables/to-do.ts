/** What is proposed and what is open, as tables of a brief (rule B4). */
import type { BriefContent } from '#shared/contract/brief.ts';
import { type BriefTable, tableOf, tableOfList } from './table.ts';

export function proposalsTable({ aircraft, proposals }: BriefContent): BriefTable {
  return tableOfList('proposals', aircraft, proposals, [
    { heading: 'proposal', kind: 'text', cell: ({ title }) => title },
    { heading: 'owner', kind: 'text', cell: ({ owner }) => owner },
    { heading: 'state', kind: 'text', cell: ({ state }) => state },
    { heading: 'due', kind: 'day', cell: ({ due }) => due },
    { heading: 'overdue', kind: 'text', cell: ({ isOverdue }) => (isOverdue ? 'yes' : 'no') },
    { heading: 'new', kind: 'text', cell: ({ isNew }) => (isNew ? 'yes' : 'no') },
    { heading: 'saving', kind: 'mass', cell: ({ savingKg }) => savingKg },
    { heading: 'effect on the CG', kind: 'CG change', cell: ({ cgChangeXM }) => cgChangeXM },
    { heading: 'likelihood', kind: 'per cent', cell: ({ likelihood }) => likelihood },
    { heading: 'in the sums', kind: 'text', cell: ({ counts }) => (counts ? 'yes' : 'no') },
    { heading: 'no longer fits', kind: 'text', cell: ({ unfit }) => unfit.map(unfitWords).join('; ') },
    { heading: 'overlaps', kind: 'text', cell: ({ overlaps }) => overlaps.join('; ') },
    { heading: 'reason', kind: 'text', cell: ({ reason }) => reason },
  ]);
}

function unfitWords({ part, why }: BriefContent['proposals']['rows'][number]['unfit'][number]): string {
  return `${part}: ${why}`;
}

export function openTable({ aircraft, open }: BriefContent): BriefTable {
  return tableOf('open', aircraft, open.counts, [
    { heading: 'what', kind: 'text', cell: ({ what }) => what },
    { heading: 'how many', kind: 'count', cell: ({ count }) => count },
  ]);
}
