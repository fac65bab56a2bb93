/** All subjects of a brief as tables, in the order in which it is read (rule B4). Out of its kept content alone. */
import type { Brief } from '#shared/contract/brief.ts';
import { aboutTable } from './about.ts';
import { bridgeTable, groupsTable } from './changes.ts';
import { assembliesTable, partsTable, processesTable, smallOnesTable } from './drift.ts';
import { cgTable, growthTable, headlineTable } from './figures.ts';
import type { BriefTable } from './table.ts';
import { openTable, proposalsTable } from './to-do.ts';

/** Of subjects with nothing to tell the headings stay, so that every brief has the same tables. */
export function briefTables(brief: Brief): readonly BriefTable[] {
  const { content } = brief;
  return [
    aboutTable(brief),
    headlineTable(content),
    growthTable(content),
    cgTable(content),
    bridgeTable(content),
    groupsTable(content),
    partsTable(content),
    processesTable(content),
    assembliesTable(content),
    smallOnesTable(content),
    proposalsTable(content),
    openTable(content),
  ];
}
