/** Briefs in the database (rule B3): the content stays, what is said of it is added row upon row, and an issued one is closed for good. */
import { createHash, randomUUID } from 'node:crypto';
import canonicalize from 'canonicalize';
import { sql } from 'kysely';
import { expect, it } from 'vitest';
import {
  briefWith,
  keepBrief,
  listBriefs,
  type Making,
  madeBefore,
  type Stating,
  stateBrief,
} from '#db/brief/briefs.ts';
import { describeOnBothEngines, type TestEngine } from '#tests/support/engines.ts';
import { briefOf } from '../../shared/brief/make-brief.ts';
import { Chain, estimateOf, partOf, targetsOf, weighingOf } from '../../shared/ledger/make-entries.ts';

const chain = new Chain();
chain.record(targetsOf(120));
chain.record(partOf(1, { name: 'Web — 2 mm "outer"' }));
chain.record(estimateOf(1, { massKg: 0.1 + 0.2, xM: 2 }));
chain.record(weighingOf(1, 0.5));
const CONTENT = briefOf(chain, { from: 1 });

async function making(engine: TestEngine, changes: Partial<Making> = {}): Promise<Making> {
  const aircraftId = changes.aircraftId ?? (await engine.aircraft());
  return { aircraftId, briefId: randomUUID(), by: 'AB', sent: '{}', content: CONTENT, ...changes };
}

const saying = (made: Making, after: number, changes: Partial<Stating> = {}): Stating => ({
  ...{ aircraftId: made.aircraftId, briefId: made.briefId, id: randomUUID(), after, act: 'remark', by: 'CD' },
  remarks: { all: `after ${after}` },
  ...changes,
});

async function kept(engine: TestEngine, changes: Partial<Making> = {}): Promise<Making> {
  const made = await making(engine, changes);
  expect(await keepBrief(engine.db(), made)).toMatchObject({ ok: true });
  return made;
}

describeOnBothEngines('briefs', (engine) => {
  it('[B3] what was made comes back as it was, with what was said of it last', async () => {
    const made = await making(engine);
    expect(await keepBrief(engine.db(), made)).toEqual({
      ok: true,
      kept: { replayed: false, briefId: made.briefId, revision: 0, state: 'draft' },
    });
    expect((await briefWith(engine.db(), made))?.brief).toMatchObject({ state: 'draft', revision: 0, remarks: {} });
    await stateBrief(engine.db(), saying(made, 0, { remarks: { all: 'Wing first', drift: 'Ann looks at it' } }));
    await stateBrief(engine.db(), saying(made, 1, { remarks: { all: 'Wing — first' } }));
    const back = await briefWith(engine.db(), made);
    expect(back?.brief.content).toEqual(CONTENT);
    expect(back).toMatchObject({ fitsItsHash: true, brief: { revision: 2, remarks: { all: 'Wing — first' } } });
    expect(back?.brief.madeAt).toMatch(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/);
    expect(await briefWith(engine.db(), { ...made, briefId: randomUUID() })).toBeUndefined();
    expect(await briefWith(engine.db(), { ...made, aircraftId: await engine.aircraft() })).toBeUndefined();
  });

  it('[B3] an issued brief has a number, the remarks that stood, and a hash over both', async () => {
    const made = await kept(engine);
    const remarks = { all: 'Wing first', CG: 'moves aft' } as const;
    await stateBrief(engine.db(), saying(made, 0, { remarks }));
    // What is sent along with an issue is not taken.
    await stateBrief(engine.db(), saying(made, 1, { act: 'issue', remarks: { all: 'something else' } }));
    const back = await briefWith(engine.db(), made);
    const hash = createHash('sha256')
      .update(`${canonicalize(CONTENT)}\n${canonicalize(remarks)}`, 'utf8')
      .digest('hex');
    expect(back).toMatchObject({
      fitsItsHash: true,
      brief: { state: 'issued', remarks, issued: { number: 1, by: 'CD', hash } },
    });
    const second = await kept(engine, { aircraftId: made.aircraftId });
    await stateBrief(engine.db(), saying(second, 0, { act: 'issue' }));
    expect((await briefWith(engine.db(), second))?.brief).toMatchObject({ remarks: {}, issued: { number: 2 } });
    const other = await kept(engine);
    await stateBrief(engine.db(), saying(other, 0, { act: 'issue' }));
    expect((await briefWith(engine.db(), other))?.brief.issued?.number).toBe(1);
  });

  for (const act of ['issue', 'drop'] as const)
    it(`[B3] after ${act} nothing more can be said, and it is told by whom`, async () => {
      const made = await kept(engine);
      const last = saying(made, 0, { act, by: 'EF' });
      await stateBrief(engine.db(), last);
      const state = act === 'issue' ? 'issued' : 'dropped';
      for (const later of ['remark', 'issue', 'drop'] as const)
        for (const after of [0, 1])
          expect(await stateBrief(engine.db(), saying(made, after, { act: later }))).toEqual({
            ok: false,
            refusal: { code: 'brief-closed', state, by: 'EF' },
          });
      expect(await stateBrief(engine.db(), last)).toMatchObject({ kept: { replayed: true, revision: 1, state } });
      expect((await briefWith(engine.db(), made))?.brief).toMatchObject({ state, revision: 1 });
    });

  it('[B3] the list has drafts and issued ones, newest first, and those of no other aircraft', async () => {
    const first = await kept(engine);
    const dropped = await kept(engine, { aircraftId: first.aircraftId });
    const last = await kept(engine, { aircraftId: first.aircraftId });
    await kept(engine);
    await stateBrief(engine.db(), saying(first, 0, { act: 'issue' }));
    await stateBrief(engine.db(), saying(dropped, 0, { act: 'drop' }));
    const lines = await listBriefs(engine.db(), first.aircraftId);
    expect(new Map(lines.map((line) => [line.briefId, line.state]))).toEqual(
      new Map([
        [last.briefId, 'draft'],
        [first.briefId, 'issued'],
      ]),
    );
    expect(lines[0]).toMatchObject({ by: 'AB', fromSeq: 1, toSeq: 4, lead: CONTENT.headline.lead });
  });

  it('[B3] a brief or a statement sent again is answered as the first time; another one under its id is refused', async () => {
    const made = await kept(engine);
    expect(await keepBrief(engine.db(), made)).toMatchObject({ kept: { replayed: true, revision: 0 } });
    expect(await madeBefore(engine.db(), made)).toMatchObject({ kept: { replayed: true } });
    const reused = { ok: false, refusal: { code: 'brief-id-reused' } };
    for (const other of [{ by: 'XX' }, { sent: '{"entry":1}' }])
      expect(await keepBrief(engine.db(), { ...made, ...other })).toEqual(reused);
    const said = saying(made, 0);
    await stateBrief(engine.db(), said);
    await stateBrief(engine.db(), saying(made, 1));
    expect(await stateBrief(engine.db(), said)).toMatchObject({ kept: { replayed: true, revision: 1 } });
    const others: readonly Partial<Stating>[] = [
      { by: 'XX' },
      { act: 'drop' },
      { after: 2 },
      { remarks: {} },
      { briefId: randomUUID() },
    ];
    for (const other of others) expect(await stateBrief(engine.db(), { ...said, ...other })).toEqual(reused);
    expect((await briefWith(engine.db(), made))?.brief.revision).toBe(2);
  });

  it('[B3] of several at once one is taken: the others hear who was faster, also where one issues', async () => {
    const made = await kept(engine);
    const remarks = await Promise.all(
      Array.from({ length: 6 }, (_, hand) => stateBrief(engine.db(), saying(made, 0, { by: `H${hand}` }))),
    );
    expect(remarks.filter(({ ok }) => ok)).toHaveLength(1);
    for (const answer of remarks) if (!answer.ok) expect(answer.refusal.code).toBe('brief-moved-on');
    const issues = await Promise.all(
      Array.from({ length: 6 }, (_, hand) =>
        stateBrief(engine.db(), saying(made, 1, { act: hand % 2 === 0 ? 'issue' : 'drop', by: `H${hand}` })),
      ),
    );
    expect(issues.filter(({ ok }) => ok)).toHaveLength(1);
    for (const answer of issues) if (!answer.ok) expect(answer.refusal.code).toBe('brief-closed');
    const again = saying(await kept(engine), 0);
    const twice = await Promise.all([stateBrief(engine.db(), again), stateBrief(engine.db(), again)]);
    expect(twice.map((answer) => answer.ok && answer.kept.revision)).toEqual([1, 1]);
  });

  it('[B3] briefs of one aircraft issued at once have numbers without a gap', async () => {
    const aircraftId = await engine.aircraft();
    const all: Making[] = [];
    for (let count = 0; count < 6; count += 1) all.push(await kept(engine, { aircraftId }));
    await Promise.all(all.map((made) => stateBrief(engine.db(), saying(made, 0, { act: 'issue' }))));
    const numbers = (await listBriefs(engine.db(), aircraftId)).map(({ issued }) => issued?.number);
    expect(numbers.toSorted()).toEqual([1, 2, 3, 4, 5, 6]);
  });

  it('[B3] of a brief that is not there, or further than there is, nothing can be said', async () => {
    const made = await making(engine);
    for (const act of ['remark', 'issue', 'drop'] as const)
      expect(await stateBrief(engine.db(), saying(made, 0, { act }))).toEqual({
        ok: false,
        refusal: { code: 'no-such-brief' },
      });
    await keepBrief(engine.db(), made);
    expect(await stateBrief(engine.db(), saying(made, 3))).toMatchObject({ refusal: { code: 'brief-moved-on' } });
  });

  it('[B3] who listens for entries hears of a brief and of what is said of it', async () => {
    const made = await making(engine);
    let heard = 0;
    const stop = engine.store().feed.subscribe((notice) => {
      if (notice?.aircraftId === made.aircraftId) heard += 1;
    });
    // The line of a server takes a moment to open; what is kept before that is told by the notice of the line.
    await new Promise((resolve) => setTimeout(resolve, 500));
    await keepBrief(engine.db(), made);
    await stateBrief(engine.db(), saying(made, 0));
    await expect.poll(() => heard).toBe(2);
    stop();
  });

  const changes = {
    'an update': ["update brief set content = '{}'", "update brief_statement set remarks = '{}'"],
    'a delete': ['delete from brief', 'delete from brief_statement'],
    'an emptying': ['truncate brief cascade', 'truncate brief_statement'],
  };
  for (const [name, statements] of Object.entries(changes)) {
    it(`[B3] ${name} is refused to the app and to the tables' owner, under replication too`, async () => {
      const made = await kept(engine);
      await stateBrief(engine.db(), saying(made, 0, { act: 'issue' }));
      for (const statement of statements) {
        await expect(sql.raw(statement).execute(engine.db())).rejects.toThrow('permission denied');
        await expect(engine.asOwner((tx) => sql.raw(statement).execute(tx))).rejects.toThrow('append-only');
        const replica = engine.asOwner(async (tx) => {
          await sql`set local session_replication_role = replica`.execute(tx);
          await sql.raw(statement).execute(tx);
        });
        await expect(replica).rejects.toThrow('append-only');
      }
    });
  }

  it('[B3] what an owner changes behind the back of the app is told by the hash', async () => {
    const made = await kept(engine);
    await stateBrief(engine.db(), saying(made, 0, { act: 'issue' }));
    await engine.asOwner(async (tx) => {
      await sql`alter table brief disable trigger brief_kept`.execute(tx);
      await sql`update brief set content = replace(content, 'P-1', 'P-2') where brief_id = ${made.briefId}::uuid`.execute(
        tx,
      );
      await sql`alter table brief enable always trigger brief_kept`.execute(tx);
    });
    expect(await briefWith(engine.db(), made)).toMatchObject({ fitsItsHash: false });
  });

  it('[B3] the app can neither say when, nor number or hash a brief itself', async () => {
    const made = await kept(engine);
    const insert = (column: string, value: string) =>
      sql
        .raw(
          `insert into brief_statement (aircraft_id, brief_id, revision, id, act, by_name, sent, remarks, ${column})
           values ('${made.aircraftId}', '${made.briefId}', 1, '${randomUUID()}', 'issue', 'AB', '{}', '{}', ${value})`,
        )
        .execute(engine.db());
    for (const [column, value] of [
      ['recorded_at', `'2020-01-01'`],
      ['issue_number', '99'],
      ['hash', `'abc'`],
    ] as const)
      await expect(insert(column, value)).rejects.toThrow('permission denied');
    await expect(keepBrief(engine.db(), await making(engine, { aircraftId: randomUUID() }))).rejects.toThrow(
      'foreign key',
    );
    const reversed = { ...CONTENT, from: { ...CONTENT.from, seq: 9 } };
    await expect(keepBrief(engine.db(), await making(engine, { content: reversed }))).rejects.toThrow('brief_period');
  });
});
