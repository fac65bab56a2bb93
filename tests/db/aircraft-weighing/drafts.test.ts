/** The weighing of an aircraft while it is being made (rule A6): kept once for each aircraft, in one line of versions. */
import { randomUUID } from 'node:crypto';
import { expect, it } from 'vitest';
import { draftOf, dropDraft, keepDraft } from '#db/aircraft-weighing/drafts.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

describeOnBothEngines('drafts of a weighing', (engine) => {
  const begun = async () => ({
    ...{ aircraftId: await engine.aircraft(), id: randomUUID() },
    ...{ after: 0, by: 'AB', content: '{"reference":"frame"}' },
  });

  it('[A6] what is kept comes back with its version, by whom and when', async () => {
    const first = await begun();
    expect(await draftOf(engine.db(), first.aircraftId)).toBeUndefined();
    expect(await keepDraft(engine.db(), first)).toMatchObject({ ok: true, draft: { version: 1, by: 'AB' } });
    const second = { ...first, after: 1, by: 'CD', content: '{}' };
    expect(await keepDraft(engine.db(), second)).toMatchObject({ ok: true, draft: { version: 2 } });
    const kept = await draftOf(engine.db(), first.aircraftId);
    expect(kept).toMatchObject({ id: first.id, version: 2, by: 'CD', content: '{}' });
    expect(kept?.changedAt).toMatch(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/);
  });

  it('[A6] a change that has not seen the last one writes over nothing, and is told what stands there', async () => {
    const first = await begun();
    await keepDraft(engine.db(), first);
    await keepDraft(engine.db(), { ...first, after: 1, content: '{"reference":"spar"}' });
    const late = await keepDraft(engine.db(), { ...first, after: 1, by: 'CD', content: '{"reference":"bow"}' });
    expect(late).toMatchObject({ ok: false, code: 'moved-on', draft: { version: 2, content: '{"reference":"spar"}' } });
    const other = await keepDraft(engine.db(), { ...first, id: randomUUID(), by: 'CD' });
    expect(other).toMatchObject({ ok: false, code: 'moved-on', draft: { id: first.id, version: 2 } });
  });

  it('[A6] a change sent again is answered as the first time, and of eight at once one is kept', async () => {
    const first = await begun();
    await keepDraft(engine.db(), first);
    expect(await keepDraft(engine.db(), first)).toMatchObject({ ok: true, draft: { version: 1 } });
    const hands = Array.from({ length: 8 }, (_, hand) => ({ ...first, after: 1, content: `{"reference":"${hand}"}` }));
    const answers = await Promise.all(hands.map((change) => keepDraft(engine.db(), change)));
    expect(answers.filter(({ ok }) => ok)).toHaveLength(1);
    expect(await draftOf(engine.db(), first.aircraftId)).toMatchObject({ version: 2 });
  });

  it('[A6] a draft is given up only as it was seen, and what is gone cannot be changed', async () => {
    const first = await begun();
    await keepDraft(engine.db(), first);
    await keepDraft(engine.db(), { ...first, after: 1, content: '{}' });
    expect(await dropDraft(engine.db(), { ...first, version: 1 })).toBe(false);
    expect(await dropDraft(engine.db(), { ...first, version: 2 })).toBe(true);
    expect(await dropDraft(engine.db(), { ...first, version: 2 })).toBe(true);
    expect(await keepDraft(engine.db(), { ...first, after: 2 })).toEqual({ ok: false, code: 'gone' });
  });
});
