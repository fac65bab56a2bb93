/** The weighing of the whole aircraft over the doors (rules A3, A4, A6): a draft that two hands share, signed once, and what it found. */
import { expect, it } from 'vitest';
import { AircraftWeighingsReport, KeptWeighingDraft, ReconcileReport } from '#shared/contract/aircraft-weighing.ts';
import { aircraftIn, newId, problemOf, record, shopOn } from '#tests/api/door-shop.ts';
import { SIGNED } from '#tests/shared/aircraft-weighing/refused-weighings.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

describeOnBothEngines('aircraft weighings', (engine) => {
  const shop = shopOn(engine);

  async function begun() {
    const { cookie } = await shop().person('lead');
    const id = await aircraftIn(shop(), cookie);
    const at = `/api/aircraft/${id}/aircraft-weighings`;
    const get = async () => AircraftWeighingsReport.parse(await (await shop().call('GET', at, { cookie })).json());
    const post = (path: string, body: object, by = cookie) => shop().call('POST', `${at}${path}`, { cookie: by, body });
    return { cookie, id, at, get, post };
  }

  it('[A6] a draft is kept, changed by another hand, and not written over by who has not seen that', async () => {
    const { get, post } = await begun();
    expect((await get()).draft).toBeUndefined();
    const id = newId();
    const first = KeptWeighingDraft.parse(
      await (await post('/draft', { id, after: 0, words: { reference: 'bow' } })).json(),
    );
    expect(first).toMatchObject({ isKept: true, draft: { version: 1, words: { reference: 'bow' } } });
    const crew = (await shop().person('crew')).cookie;
    const second = await post('/draft', { id, after: 1, words: { reference: 'frame' } }, crew);
    expect(await second.json()).toMatchObject({ isKept: true, draft: { version: 2 } });
    const late = await post('/draft', { id, after: 1, words: { reference: 'spar' } });
    expect(await late.json()).toMatchObject({ isKept: false, draft: { version: 2, words: { reference: 'frame' } } });
    expect((await get()).draft).toMatchObject({ version: 2, words: { reference: 'frame' } });
    await problemOf(await post('/draft/drop', { id, version: 2 }, crew), 403, 'not-allowed');
    expect(await (await post('/draft/drop', { id, version: 1 })).json()).toEqual({ isGone: false });
    expect(await (await post('/draft/drop', { id, version: 2 })).json()).toEqual({ isGone: true });
    expect((await get()).draft).toBeUndefined();
  });

  it('[A6] signing records the entry once under the id of the draft, and the draft is gone', async () => {
    const { id: aircraft, cookie, get, post } = await begun();
    const id = newId();
    await post('/draft', { id, after: 0, words: { reference: 'frame' } });
    const sign = () => shop().call('POST', `/api/aircraft/${aircraft}/entries`, { cookie, body: { ...SIGNED, id } });
    expect((await sign()).status).toBe(201);
    const again = await sign();
    expect(again.status).toBe(200);
    expect(await again.json()).toMatchObject({ replayed: true });
    const report = await get();
    expect(report.draft).toBeUndefined();
    expect(report.signed).toHaveLength(1);
    expect(report.signed[0]).toMatchObject({ id, statement: { signedBy: 'A. Signer', massKg: 380.1 } });
    await problemOf(await post('/draft', { id, after: 1, words: {} }), 400, 'input-refused');
  });

  it('[A3] what a weighing would find is told before it is signed, and what it found afterwards', async () => {
    const { id, cookie, get, post } = await begun();
    await record(shop(), cookie, id, { kind: 'part added', number: 'HULL', group: 'body', happenedOn: '2026-05-01' });
    await record(shop(), cookie, id, {
      kind: 'estimate',
      part: 'HULL',
      estimate: '370 kg',
      x: '2.1 m',
      happenedOn: '2026-05-01',
    });
    const point = { happenedOn: '2026-06-01', notAboard: '', massKg: 380, massStdKg: 0.2, xM: 2.1, xStdM: 0.002 };
    const answer = ReconcileReport.parse(await (await post('/reconcile', point)).json());
    expect(answer).toMatchObject({ ledgerKg: 370, differenceKg: 10, partCount: 1 });
    await problemOf(await post('/reconcile', { ...point, notAboard: 'KEEL' }), 400, 'input-refused');
    await record(shop(), cookie, id, { ...SIGNED });
    expect((await get()).signed[0]?.reconcile).toMatchObject({ ledgerKg: 370 });
  });

  it('[A6] names and texts that cannot be kept are refused, and a viewer reads only', async () => {
    const { at, post } = await begun();
    const id = newId();
    for (const words of [{ 'a/b': 'x' }, { reference: 'a\u0000b' }, { reference: 'x'.repeat(3000) }])
      expect((await post('/draft', { id, after: 0, words })).status).toBeGreaterThanOrEqual(400);
    const viewer = (await shop().person('viewer')).cookie;
    await problemOf(await post('/draft', { id, after: 0, words: {} }, viewer), 403, 'not-allowed');
    expect((await shop().call('GET', at, { cookie: viewer })).status).toBe(200);
  });
});
