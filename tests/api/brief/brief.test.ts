/** Briefs through their doors (rules B1-B3): made of the ledger, kept as they were, by whom may, and no ledger moves. */
import { expect, it } from 'vitest';
import { loadLedger } from '#db/record/load-ledger.ts';
import { EntriesReport } from '#shared/contract/aircraft.ts';
import { Brief, BriefListReport, KeptBrief, MOST_REMARK } from '#shared/contract/brief.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import {
  aircraftIn,
  newId,
  openShop,
  partsIn,
  pointersOf,
  problemOf,
  record,
  type Shop,
  shopOn,
} from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

describeOnBothEngines('briefs', (engine) => {
  const shop = shopOn(engine);

  async function begin() {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, aircraftId);
    const engineer = await shop().person('engineer', [aircraftId]);
    const viewer = await shop().person('viewer', [aircraftId]);
    const call = (cookie: string, method: string, path: string, body?: unknown, at: Shop = shop()) =>
      at.call(method, `/api/aircraft/${aircraftId}/briefs${path}`, { cookie, body });
    const make = (body: object = {}, at?: Shop) => call(engineer.cookie, 'POST', '', { id: newId(), ...body }, at);
    return {
      ...{ aircraftId, lead, engineer, viewer, call, make },
      made: async (body: object = {}) => KeptBrief.parse(await (await make(body)).json()).briefId,
      say: (briefId: string, body: object, at?: Shop) =>
        call(engineer.cookie, 'POST', `/${briefId}/statements`, { id: newId(), ...body }, at),
      get: async (briefId: string) => Brief.parse(await (await call(viewer.cookie, 'GET', `/${briefId}`)).json()),
      list: async (at?: Shop) =>
        BriefListReport.parse(await (await call(viewer.cookie, 'GET', '', undefined, at)).json()),
      record: (entry: Record<string, unknown>) => record(shop(), lead.cookie, aircraftId, entry),
      weigh: (gross: string) =>
        record(shop(), lead.cookie, aircraftId, {
          ...{ kind: 'weighing', part: 'T-200', gross, condition: 'finished' },
        }),
    };
  }

  it('[B1] is made from the last entry since the last issued brief, unless it is said otherwise', async () => {
    const { aircraftId, engineer, make, made, say, get, list, weigh } = await begin();
    expect((await list()).next).toEqual({ fromSeq: 0, toSeq: 5 });
    const answer = await make();
    expect(answer.status).toBe(201);
    const { briefId, state } = KeptBrief.parse(await answer.json());
    expect(state).toBe('draft');
    const { content } = await get(briefId);
    expect(content).toMatchObject({ from: { seq: 0 }, to: { seq: 5 }, made: { by: engineer.initials } });
    expect(content.figures).toEqual(headlineReport(await loadLedger(engine.db(), aircraftId)));
    expect(content.to.hash).toMatch(/^[0-9a-f]{64}$/);
    await weigh('4.6 kg');
    // A draft is no brief that anybody was given: the next one still begins where the last issued one ends.
    expect((await get(await made())).content).toMatchObject({ from: { seq: 0 }, to: { seq: 6 } });
    expect((await say(briefId, { after: 0, act: 'issue' })).status).toBe(201);
    await weigh('4.7 kg');
    expect((await list()).next).toEqual({ fromSeq: 5, toSeq: 7 });
    expect((await get(await made())).content).toMatchObject({
      from: { seq: 5, hash: content.to.hash },
      to: { seq: 7 },
    });
    expect((await get(await made({ entry: 4 }))).content).toMatchObject({ from: { seq: 0 }, to: { seq: 4 } });
    const same = (await get(await made({ entry: 6, since: 6 }))).content;
    expect(same.headline.since).toBe('nothing new');
  });

  it('[B1] renders the same whatever is recorded and corrected afterwards, on another server too', async () => {
    const { made, say, call, viewer, record: add, weigh } = await begin();
    await weigh('5.0 kg');
    const briefId = await made();
    await say(briefId, { after: 0, act: 'remark', remarks: { all: 'Tail first — Ann', drift: '  ' } });
    await say(briefId, { after: 1, act: 'issue' });
    const text = async (at?: Shop) => await (await call(viewer.cookie, 'GET', `/${briefId}`, undefined, at)).text();
    const before = await text();
    expect(Brief.parse(JSON.parse(before)).remarks).toEqual({ all: 'Tail first — Ann' });
    await add({
      ...{ kind: 'correction', entry: 6, reason: 'typed wrongly' },
      replacement: { part: 'T-200', gross: '4.4 kg', condition: 'finished' },
    });
    await add({
      kind: 'part added',
      number: 'N-1',
      name: 'New',
      group: 'wing',
      process: 'bought',
      quantity: '1',
      happenedOn: '2025-01-01',
    });
    await add({ kind: 'estimate', part: 'N-1', estimate: '9 kg', x: '1 m', happenedOn: '2025-01-01' });
    await add({ kind: 'datum moved', shift: '0.5 m', datum: 'the firewall', reason: 'drawing' });
    expect(await text()).toBe(before);
    const second = openShop(engine.store());
    expect(await text(second)).toBe(before);
    second.close();
  });

  it('[B3] remarks are written until it is issued; then it is closed, and what it says is what stood', async () => {
    const { engineer, made, say, get, list } = await begin();
    const briefId = await made();
    await say(briefId, { after: 0, act: 'remark', remarks: { all: 'One', CG: 'Two' } });
    expect((await say(briefId, { after: 1, act: 'remark', remarks: { CG: 'Three' } })).status).toBe(201);
    const issue = { id: newId(), after: 2, act: 'issue' };
    expect((await say(briefId, issue)).status).toBe(201);
    expect((await say(briefId, issue)).status).toBe(200);
    const brief = await get(briefId);
    expect(brief).toMatchObject({
      state: 'issued',
      remarks: { CG: 'Three' },
      issued: { number: 1, by: engineer.initials },
    });
    for (const act of [{ act: 'remark', remarks: {} }, { act: 'issue' }, { act: 'drop' }]) {
      const report = await problemOf(await say(briefId, { after: 3, ...act }), 409, 'ledger-conflict');
      expect(report.problems?.[0]).toMatchObject({ pointer: '/after', code: 'brief-closed' });
      expect(report.detail).toContain(engineer.initials);
    }
    expect(await get(briefId)).toEqual(brief);
    const dropped = await made();
    await say(dropped, { after: 0, act: 'drop' });
    expect((await list()).briefs.map((line) => line.briefId)).toEqual([briefId]);
  });

  it('[B3] of two leads at once one issues, and the other is told by whom', async () => {
    const { made, say, get } = await begin();
    const briefId = await made();
    const second = openShop(engine.store());
    const answers = await Promise.all([
      say(briefId, { after: 0, act: 'issue' }),
      say(briefId, { after: 0, act: 'issue' }, second),
    ]);
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409]);
    const late = answers.find(({ status }) => status === 409);
    if (late === undefined) throw new Error('one of them is late');
    expect((await problemOf(late, 409, 'ledger-conflict')).problems?.[0]).toMatchObject({ code: 'brief-closed' });
    expect((await get(briefId)).issued?.number).toBe(1);
    const draft = await made();
    const remarks = await Promise.all(
      ['One', 'Two'].map((all) => say(draft, { after: 0, act: 'remark', remarks: { all } })),
    );
    expect(remarks.map(({ status }) => status).sort()).toEqual([201, 409]);
    second.close();
  });

  it('[B3] one asked for again is answered as the first time, though the ledger has moved on', async () => {
    const { make, get, weigh } = await begin();
    const asked = { id: newId() };
    const first = KeptBrief.parse(await (await make(asked)).json());
    await weigh('4.6 kg');
    const again = await make({ id: asked.id.toUpperCase() });
    expect(again.status).toBe(200);
    expect(KeptBrief.parse(await again.json())).toEqual({ ...first, replayed: true });
    expect((await get(first.briefId)).content.to.seq).toBe(5);
    const report = await problemOf(await make({ ...asked, entry: 2 }), 409, 'ledger-conflict');
    expect(report.problems?.[0]).toMatchObject({ pointer: '/id', code: 'brief-id-reused' });
  });

  it('[B1] what cannot be made or said is told at its place, and nothing is kept', async () => {
    const { make, made, say, call, viewer, list } = await begin();
    const places = async (answer: Promise<Response>, status = 400, code = 'input-refused') =>
      pointersOf(await problemOf(await answer, status, code));
    expect(await places(make({ entry: 99 }), 404, 'no-such-entry')).toEqual(['/entry']);
    expect(await places(make({ entry: 3, since: 4 }))).toEqual(['/since']);
    expect(await places(make({ entry: 98, since: 99 }))).toEqual(['/entry', '/since']);
    expect(await places(make({ entry: 0, since: -1, id: 'mine', to: 3 }))).toEqual(['/entry', '/id', '/since', '/to']);
    expect(await places(make({ entry: 2.5 }))).toEqual(['/entry']);
    await problemOf(await call(viewer.cookie, 'POST', '', { id: newId() }), 403, 'not-allowed');
    expect((await list()).briefs).toEqual([]);
    const briefId = await made();
    const remark = (remarks: unknown) => places(say(briefId, { after: 0, act: 'remark', remarks }));
    expect(await remark({ all: 'x'.repeat(MOST_REMARK + 1) })).toEqual(['/remarks/all']);
    expect(await remark({ all: 'x\u0000', CG: '\ud800' })).toEqual(['/remarks/CG', '/remarks/all']);
    expect(await remark({ weather: 'fine' })).toEqual(['/remarks/weather']);
    expect(await remark(undefined)).toEqual(['/remarks']);
    expect(await places(say(briefId, { after: 0, act: 'issue', remarks: { all: 'late' } }))).toEqual(['/remarks']);
    expect(await places(say(briefId, { after: 0, act: 'publish' }))).toEqual(['/act']);
    expect(await places(say(briefId, { after: 7, act: 'issue' }), 409, 'ledger-conflict')).toEqual(['/after']);
    for (const id of [newId(), 'x']) {
      await problemOf(await say(id, { after: 0, act: 'issue' }), 404, 'not-found');
      await problemOf(await call(viewer.cookie, 'GET', `/${id}`), 404, 'not-found');
    }
    expect((await list()).briefs).toMatchObject([{ briefId, revision: 0, state: 'draft' }]);
  });

  it('[B3] no entry is recorded by a brief, and an open page is told of it', async () => {
    const { aircraftId, viewer, made } = await begin();
    const entries = async () =>
      EntriesReport.parse(
        await (await shop().call('GET', `/api/aircraft/${aircraftId}/entries`, { cookie: viewer.cookie })).json(),
      );
    const before = await entries();
    const line = await shop().call('GET', '/api/live', { cookie: viewer.cookie });
    const reader = line.body?.getReader();
    if (reader === undefined) throw new Error('the line has a body');
    await made();
    let heard = '';
    while (!heard.includes(aircraftId)) heard += new TextDecoder().decode((await reader.read()).value);
    await reader.cancel();
    expect(await entries()).toEqual(before);
  });
});
