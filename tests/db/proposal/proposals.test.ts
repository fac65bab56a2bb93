/** Proposals in the database (rule F8): kept row upon row, never changed, in one line of revisions, told to who listens. */
import { randomUUID } from 'node:crypto';
import { sql } from 'kysely';
import { expect, it } from 'vitest';
import { type Keeping, keepRevision, latestOf, listRevisions } from '#db/proposal/proposals.ts';
import type { ProposalContent } from '#shared/contract/proposal.ts';
import { describeOnBothEngines, type TestEngine } from '#tests/support/engines.ts';

const CONTENT: ProposalContent = {
  title: 'Thinner web — 2 mm',
  owner: 'Ann',
  likelihood: 0.7,
  due: '2026-07-01',
  state: 'open',
  savingKg: 0.1 + 0.2,
  statedSavingKg: 0.1 + 0.2,
  changes: [],
  datumM: 0,
  seq: 3,
  typed: { saving: '0.3 kg' },
};

async function keeping(engine: TestEngine, changes: Partial<Keeping> = {}): Promise<Keeping> {
  const id = randomUUID();
  const aircraftId = changes.aircraftId ?? (await engine.aircraft());
  return { aircraftId, proposalId: id, id, after: 0, by: 'AB', sent: '{"title":"x"}', content: CONTENT, ...changes };
}

const next = (first: Keeping, after: number, sent = `{"title":"${after}"}`): Keeping => ({
  ...first,
  ...{ id: randomUUID(), after, sent, by: 'CD', content: { ...CONTENT, title: `after ${after}` } },
});

describeOnBothEngines('proposals', (engine) => {
  it('[F8] what is kept comes back as it was, with who and when', async () => {
    const first = await keeping(engine);
    expect(await keepRevision(engine.db(), first)).toEqual({
      ok: true,
      kept: { proposalId: first.proposalId, revision: 1, replayed: false },
    });
    await keepRevision(engine.db(), next(first, 1));
    const rows = await listRevisions(engine.db(), first.aircraftId);
    expect(rows.map(({ revision, by, content }) => [revision, by, content.title])).toEqual([
      [1, 'AB', CONTENT.title],
      [2, 'CD', 'after 1'],
    ]);
    expect(rows[0]?.content).toEqual(CONTENT);
    expect(rows[0]?.recordedAt).toMatch(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/);
    expect(await latestOf(engine.db(), first)).toMatchObject({ revision: 2, by: 'CD' });
    expect(await listRevisions(engine.db(), await engine.aircraft())).toEqual([]);
  });

  it('[F8] a statement sent again is answered as the first time, whatever came after it', async () => {
    const first = await keeping(engine);
    const second = next(first, 1);
    await keepRevision(engine.db(), first);
    await keepRevision(engine.db(), second);
    for (const [again, revision] of [
      [first, 1],
      [second, 2],
    ] as const)
      expect(await keepRevision(engine.db(), again)).toEqual({
        ok: true,
        kept: { proposalId: first.proposalId, revision, replayed: true },
      });
    for (const other of [{ sent: '{}' }, { by: 'XX' }, { proposalId: randomUUID() }, { after: 4 }])
      expect(await keepRevision(engine.db(), { ...second, ...other })).toEqual({
        ok: false,
        refusal: { code: 'proposal-id-reused' },
      });
    expect(await listRevisions(engine.db(), first.aircraftId)).toHaveLength(2);
  });

  it('[F8] of eight changes of one revision at once one is kept, and the others are told who was faster', async () => {
    const first = await keeping(engine);
    await keepRevision(engine.db(), first);
    const answers = await Promise.all(
      Array.from({ length: 8 }, (_, hand) => keepRevision(engine.db(), next(first, 1, `{"hand":${hand}}`))),
    );
    expect(answers.filter(({ ok }) => ok)).toHaveLength(1);
    for (const answer of answers)
      if (!answer.ok) expect(answer.refusal).toEqual({ code: 'proposal-moved-on', revision: 2, by: 'CD' });
  });

  it('[F8] one statement sent twice at once is kept once', async () => {
    const first = await keeping(engine);
    const answers = await Promise.all([keepRevision(engine.db(), first), keepRevision(engine.db(), first)]);
    expect(answers.map((answer) => answer.ok && answer.kept.revision)).toEqual([1, 1]);
    expect(await listRevisions(engine.db(), first.aircraftId)).toHaveLength(1);
  });

  it('[F8] a revision after one that is not there is refused', async () => {
    const first = await keeping(engine);
    expect(await keepRevision(engine.db(), next(first, 1))).toEqual({
      ok: false,
      refusal: { code: 'no-such-proposal' },
    });
    await keepRevision(engine.db(), first);
    expect(await keepRevision(engine.db(), next(first, 5))).toMatchObject({ refusal: { revision: 1 } });
  });

  it('[F8] who listens for entries hears of it', async () => {
    const first = await keeping(engine);
    const heard = new Promise((resolve) => {
      const stop = engine.store().feed.subscribe((notice) => {
        if (notice?.aircraftId !== first.aircraftId) return;
        stop();
        resolve(notice.seq);
      });
    });
    // The line of a server takes a moment to open; what is kept before that is told by the notice of the line.
    await new Promise((resolve) => setTimeout(resolve, 500));
    await keepRevision(engine.db(), first);
    expect(await heard).toBe(0);
  });

  const changes = {
    'an update': `update proposal_revision set content = '{}'`,
    'a delete': 'delete from proposal_revision',
    'an emptying': 'truncate proposal_revision',
  };
  for (const [name, statement] of Object.entries(changes)) {
    it(`[F8] ${name} is refused to the app and to the tables' owner, under replication too`, async () => {
      await keepRevision(engine.db(), await keeping(engine));
      await expect(sql.raw(statement).execute(engine.db())).rejects.toThrow('permission denied');
      await expect(engine.asOwner((tx) => sql.raw(statement).execute(tx))).rejects.toThrow('append-only');
      const replica = engine.asOwner(async (tx) => {
        await sql`set local session_replication_role = replica`.execute(tx);
        await sql.raw(statement).execute(tx);
      });
      await expect(replica).rejects.toThrow('append-only');
    });
  }

  it('[F8] the app cannot say when a statement was made, nor keep one of an aircraft that is not there', async () => {
    const aircraftId = await engine.aircraft();
    const dated = sql`insert into proposal_revision (aircraft_id, proposal_id, revision, id, by_name, sent, content, recorded_at)
      values (${aircraftId}::uuid, ${aircraftId}::uuid, 1, ${aircraftId}::uuid, 'AB', '{}', '{}', '2020-01-01')`;
    await expect(dated.execute(engine.db())).rejects.toThrow('permission denied');
    await expect(keepRevision(engine.db(), await keeping(engine, { aircraftId: randomUUID() }))).rejects.toThrow(
      'foreign key',
    );
  });
});
