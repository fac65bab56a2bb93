/** Proposals that are overdue (rule F8), as rows of the open list: they are kept beside the ledger, and have a door of their own. */

import type { OpenItem, OpenWhat } from '#shared/contract/open-list.ts';
import type { ProposalsReport } from '#shared/contract/proposal.ts';

export const OVERDUE = 'proposal overdue';

export type OverdueProposal = Omit<OpenItem, 'what' | 'of'> & {
  readonly what: typeof OVERDUE;
  readonly of: 'proposal';
  readonly proposalId: string;
  readonly owner: string;
  readonly due: string;
  /** Its changes can still be made; where not, what it would save cannot be told. */
  readonly fits: boolean;
};

export type OpenThing = OpenItem | OverdueProposal;
export type OpenThingWhat = OpenWhat | typeof OVERDUE;

export function overdueOf({ proposals }: ProposalsReport): readonly OverdueProposal[] {
  return proposals
    .filter(({ isOverdue }) => isOverdue)
    .map(({ proposalId, title, owner, due, savingKg, unfit }) => {
      const fits = unfit.length === 0;
      return {
        ...{ what: OVERDUE, of: 'proposal', subject: title, since: dayAfter(due), proposalId, owner, due, fits },
        marginKg: fits ? 0 - savingKg : undefined,
      };
    });
}

const DAY_MS = 86_400_000;

function dayAfter(day: string): string {
  return new Date(Date.parse(day) + DAY_MS).toISOString().slice(0, 10);
}
