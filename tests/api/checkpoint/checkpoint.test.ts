/** The lead's door to a signed checkpoint (rule L10). Who else may not come in, `tests/api/people/roles.test.ts` tries. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { holdAgainst, isGenuine } from '#db/checkpoint/checkpoint.ts';
import { fingerprintIn } from '#db/checkpoint/key-file.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { aircraftIn, openShop, partsIn, problemOf, shopOn } from '#tests/api/door-shop.ts';
import { pageRead } from '#tests/db/checkpoint/make-checkpoint.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

const folder = await mkdtemp(join(tmpdir(), 'tarebook-test-'));
afterAll(() => rm(folder, { recursive: true }));

describeOnBothEngines('the door to a checkpoint', (engine) => {
  const checkpointKeyFile = join(folder, `${engine.kind}.pem`);
  const shop = shopOn(engine, { checkpointKeyFile });

  it('[L10] a lead has the page as a file, signed with the key kept here, and no entry comes of it', async () => {
    const { cookie, initials } = await shop().person('lead');
    const id = await aircraftIn(shop(), cookie);
    await partsIn(shop(), cookie, id);
    const before = await verifyChain(engine.db(), id);
    const answer = await shop().call('GET', `/api/aircraft/${id}/checkpoint`, { cookie });
    expect(answer.status).toBe(200);
    expect(answer.headers.get('content-type')).toMatch(/^text\/plain/);
    expect(answer.headers.get('content-disposition')).toBe('attachment; filename="checkpoint-5.txt"');
    const checkpoint = pageRead(await answer.text());
    expect(isGenuine(checkpoint)).toBe(true);
    expect(checkpoint).toMatchObject({ aircraftId: id, seq: 5, fingerprint: await fingerprintIn(checkpointKeyFile) });
    expect(checkpoint.statement).toMatchObject({ by: initials, 'empty weight': expect.stringContaining(' kg') });
    const after = await verifyChain(engine.db(), id);
    expect(after).toEqual(before);
    expect(await holdAgainst(engine.db(), checkpoint, after)).toEqual({ ok: true, entriesSince: 0 });
  });

  it('[L10] a server that was not told where its key is kept signs nothing and says what to do', async () => {
    const other = openShop(engine.store());
    const { cookie } = await other.person('lead');
    const id = await aircraftIn(other, cookie);
    const answer = await other.call('GET', `/api/aircraft/${id}/checkpoint`, { cookie });
    const report = await problemOf(answer, 400, 'input-refused');
    expect(report.problems?.map(({ code }) => code)).toEqual(['key-file-needed']);
    expect(report.problems?.[0]?.remedy).toContain('TAREBOOK_CHECKPOINT_KEY');
    other.close();
  });
});
