/** Composes briefs of a chain for tests, as a door would. */
import { briefContent } from '#shared/brief/content.ts';
import { earlierOf } from '#shared/brief/earlier.ts';
import { BriefContent } from '#shared/contract/brief.ts';
import type { ProposalRevision } from '#shared/contract/proposal.ts';
import { AIRCRAFT_ID, type Chain, TODAY } from '../ledger/make-entries.ts';

export type Period = {
  readonly from?: number;
  readonly to?: number;
  readonly revisions?: readonly ProposalRevision[];
  readonly newAfter?: string;
};

/** Out of JSON, as a store gives it back: what JSON cannot say, or the schema does not know, fails here. */
export function briefOf(chain: Chain, { from = 0, to, revisions = [], newAfter = '' }: Period = {}): BriefContent {
  const content = briefContent(chain.fold(to), earlierOf(chain.fold(from)), {
    aircraft: { id: AIRCRAFT_ID, name: 'Row', isInvented: true },
    by: 'AB',
    on: TODAY,
    hashes: { from: from === 0 ? undefined : 'f'.repeat(64), to: '0'.repeat(64) },
    revisions,
    newAfter,
  });
  const text = JSON.stringify(content);
  const read = BriefContent.parse(JSON.parse(text));
  if (JSON.stringify(read).length !== text.length) throw new Error('the schema does not know all of the content');
  return read;
}
