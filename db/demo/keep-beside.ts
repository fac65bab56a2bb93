/**
 * Keeps what the demonstration has beside its ledger (rules F8, B1, B3): each thing is worked out from the ledger as it stood when it was said, by
 * the functions that the doors use. It is kept on the day on which the demonstration is made, as its entries are.
 */
import canonicalize from 'canonicalize';
import type { Kysely } from 'kysely';
import { keepBrief, stateBrief } from '#db/brief/briefs.ts';
import { composeBrief } from '#db/brief/compose-brief.ts';
import type { Database } from '#db/database.ts';
import { keepRevision, latestOf } from '#db/proposal/proposals.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { stableId } from '#db/record/stable-id.ts';
import { proposalFromWords } from '#shared/forecast/proposal-words.ts';
import { calendarBefore } from './calendar.ts';
import { entryIdOf } from './make-entries.ts';
import { DEMONSTRATION_NAME } from './story.ts';
import { BESIDE, type BriefMade, type ProposalSaid } from './story-beside.ts';

type Kept = { readonly aircraftId: string; readonly today: string };
/** After which entry it was said, and the id of this very statement. */
type At = Kept & { readonly seq: number; readonly id: string };

/** `entries` are in the store, in this order. */
export async function keepBeside(
  db: Kysely<Database>,
  kept: Kept,
  entries: readonly { readonly id: string }[],
): Promise<void> {
  const { aircraftId } = kept;
  for (const [place, said] of BESIDE.entries()) {
    const last = entryIdOf(aircraftId, said.after);
    const seq = entries.findIndex(({ id }) => id === last) + 1;
    if (seq === 0) throw new Error(`the story has no entry ${said.after}`);
    const at = { ...kept, seq, id: stableId(aircraftId, `demonstration said beside ${place}`) };
    await (said.is === 'proposal' ? stateProposal(db, said, at) : makeBrief(db, said, at));
  }
}

async function stateProposal(
  db: Kysely<Database>,
  said: ProposalSaid,
  { aircraftId, today, seq, id }: At,
): Promise<void> {
  const words = { ...said.words, due: calendarBefore(today)(said.due) };
  const own = { aircraftId, proposalId: stableId(aircraftId, `demonstration proposal ${said.name}`) };
  const before = await latestOf(db, own);
  const content = proposalFromWords(await loadLedger(db, aircraftId, seq), words, before?.content);
  if (!content.ok) throw new Error(`the proposal ${said.name} is refused: ${JSON.stringify(content.refusal)}`);
  const isFirst = before === undefined;
  const answer = await keepRevision(db, {
    ...{ ...own, id: isFirst ? own.proposalId : id, after: before?.revision ?? 0, by: said.by },
    ...{ sent: canonicalize(words) ?? '', content: content.value },
  });
  if (!answer.ok) throw new Error(`the proposal ${said.name} is not kept: ${answer.refusal.code}`);
}

async function makeBrief(db: Kysely<Database>, said: BriefMade, { aircraftId, today, seq, id }: At): Promise<void> {
  const { by, name } = said;
  const aircraft = { id: aircraftId, name: DEMONSTRATION_NAME };
  const content = await composeBrief(
    db,
    { aircraft, entry: seq, since: undefined, by, on: today },
    async (upTo, work) => work(await loadLedger(db, aircraftId, upTo)),
  );
  if (!content.ok) throw new Error(`the brief ${name} is refused: ${JSON.stringify(content.refusal)}`);
  const own = { aircraftId, briefId: id, by };
  const made = await keepBrief(db, { ...own, sent: canonicalize({ entry: seq }) ?? '', content: content.value });
  if (!made.ok) throw new Error(`the brief ${name} is not kept: ${made.refusal.code}`);
  const acts = said.isIssued ? (['remark', 'issue'] as const) : (['remark'] as const);
  for (const [after, act] of acts.entries()) {
    const remarks = act === 'remark' ? said.remarks : {};
    const stated = await stateBrief(db, { ...own, id: stableId(aircraftId, `${id} ${act}`), after, act, remarks });
    if (!stated.ok) throw new Error(`of the brief ${name} is not kept that it is to ${act}: ${stated.refusal.code}`);
  }
}
