/** What if, ballast and proposals through their doors (rules F6-F9): the figures are those of the pure rules, and no ledger moves. */
import { expect, it } from 'vitest';
import { loadLedger } from '#db/record/load-ledger.ts';
import { EntriesReport, type ProblemReport } from '#shared/contract/aircraft.ts';
import { BallastAnswer, KeptProposal, ProposalsReport, WhatIfAnswer } from '#shared/contract/proposal.ts';
import { forecastReport } from '#shared/forecast/report.ts';
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

const PROPOSAL = { title: 'Thinner web', owner: 'Ann', likelihood: '50 %', due: '2026-01-31' };
const LIGHTER = [{ act: 'add mass', part: 'T-200', mass: '-1 kg' }];

describeOnBothEngines('what if and proposals', (engine) => {
  const shop = shopOn(engine);

  async function begin(units?: object) {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie, units);
    await partsIn(shop(), lead.cookie, aircraftId);
    await record(shop(), lead.cookie, aircraftId, {
      ...{ kind: 'targets', 'empty mass': '21 kg', reserve: '1 kg', 'cg forward': '2.2 m', 'cg aft': '2.4 m' },
    });
    const engineer = await shop().person('engineer', [aircraftId]);
    const viewer = await shop().person('viewer', [aircraftId]);
    const call = (cookie: string, method: string, path: string, body?: unknown, at: Shop = shop()) =>
      at.call(method, `/api/aircraft/${aircraftId}${path}`, { cookie, body });
    return {
      ...{ aircraftId, lead, engineer, viewer },
      ask: (path: string, body: unknown) => call(viewer.cookie, 'POST', path, body),
      keep: (body: object, path = '/proposals', at?: Shop) =>
        call(engineer.cookie, 'POST', path, { id: newId(), ...PROPOSAL, ...body }, at),
      list: async (at?: Shop) =>
        ProposalsReport.parse(await (await call(viewer.cookie, 'GET', '/proposals', undefined, at)).json()),
      seq: async () => EntriesReport.parse(await (await call(viewer.cookie, 'GET', '/entries')).json()).seq,
    };
  }

  it('[F6] a viewer tries changes in words, and nothing is recorded', async () => {
    const { aircraftId, ask, seq } = await begin();
    const before = await seq();
    const answer = await ask('/what-if', { changes: [...LIGHTER, { act: 'set arm', part: 'W-104', x: '2.0 m' }] });
    expect(answer.status).toBe(200);
    const report = WhatIfAnswer.parse(await answer.json());
    const forecast = forecastReport(await loadLedger(engine.db(), aircraftId));
    expect(report.before.forecastKg).toBe(forecast.forecastKg);
    expect(report.predictedBeforeKg).toBeCloseTo(5 * 4.4, 9);
    expect(report.predictedAfterKg).toBeCloseTo(5 * 4.4 - 1, 9);
    expect(report.massChangeKg).toBeCloseTo(-1, 9);
    expect(report.steps).toHaveLength(2);
    expect(report.after.targets?.marginKg).toBeCloseTo((report.before.targets?.marginKg ?? 0) + 1, 9);
    expect(report.after.cg.x?.atM).toBeLessThan(report.before.cg.x?.atM ?? 0);
    expect(report.seq).toBe(before);
    expect(await seq()).toBe(before);
  });

  it('[F6] every problem of every change has its place, and a body is strict', async () => {
    const { ask } = await begin();
    const bad = {
      changes: [
        { act: 'set mass', part: 'X-1', mass: '-1 kg' },
        { act: 'add mass', part: 'T-200', mass: '-100 %' },
        { act: 'add mass', part: 'T-200', mass: '-99 kg' },
      ],
    };
    expect(pointersOf(await refused(await ask('/what-if', bad)))).toEqual([
      '/changes/0/mass',
      '/changes/0/part',
      '/changes/1/mass',
      '/changes/2/mass',
    ]);
    const odd = { changes: [{ act: 'remove', part: 'T-200', colour: 'red' }], more: 1 };
    expect(pointersOf(await refused(await ask('/what-if', odd)))).toEqual(['/changes/0/colour', '/more']);
    const many = { changes: Array.from({ length: 101 }, () => LIGHTER[0]) };
    expect(pointersOf(await refused(await ask('/what-if', many)))).toEqual(['/changes']);
    expect(pointersOf(await refused(await ask('/what-if', {})))).toEqual(['/changes']);
    expect(pointersOf(await refused(await ask('/what-if', { changes: [{ act: 'remove', part: 7 }] })))).toEqual([
      '/changes/0/part',
    ]);
  });

  it('[F7] ballast is answered, or refused with words', async () => {
    const { ask } = await begin();
    const answer = BallastAnswer.parse(await (await ask('/what-if/ballast', { station: '1 m' })).json());
    // 22 kg at 2.5 m to 2.4 m.
    expect(answer.massKg).toBeCloseTo((22 * 0.1) / 1.4, 6);
    expect(answer.payloadKg).toBeCloseTo(1 + answer.massKg, 6);
    const lighter = await ask('/what-if/ballast', { station: '1 m', changes: LIGHTER });
    expect(BallastAnswer.parse(await lighter.json()).massKg).toBeCloseTo((21 * 0.1) / 1.4, 6);
    const wrong = await refused(await ask('/what-if/ballast', { station: '3000 mm' }));
    expect(wrong.problems?.[0]).toMatchObject({ pointer: '/station', code: 'ballast-on-wrong-side' });
    const both = { station: 'aft', changes: [{ act: 'remove', part: 'X-1' }] };
    expect(pointersOf(await refused(await ask('/what-if/ballast', both)))).toEqual(['/changes/0/part', '/station']);
  });

  it('[F7] refusals tell figures in the units of the aircraft', async () => {
    const { ask } = await begin({ massUnit: 'lb', lengthUnit: 'in' });
    const heavy = { changes: [{ act: 'add mass', part: 'T-200', mass: '-99 kg' }] };
    const wrong = { station: '3000 mm' };
    const words = async (path: string, body: object) => (await refused(await ask(path, body))).problems?.[0]?.words;
    expect(await words('/what-if', heavy)).toMatch(/^Change 1 takes more off T-200 than it has: 9\.7\d* lb\.$/);
    expect(await words('/what-if/ballast', wrong)).toMatch(
      /^Ballast at 118\.1\d* in cannot bring the CG forward to 94\.4\d* in\.$/,
    );
  });

  it('[F8] an engineer keeps and changes proposals, everybody reads them, and the ledger stays as it is', async () => {
    const { engineer, keep, list, seq } = await begin();
    const before = await seq();
    const answer = await keep({ changes: LIGHTER });
    expect(answer.status).toBe(201);
    const { proposalId } = KeptProposal.parse(await answer.json());
    const changed = await keep({ after: 1, likelihood: '90', state: 'agreed' }, `/proposals/${proposalId}/revisions`);
    expect(changed.status).toBe(201);
    const { proposals, forecast } = await list();
    expect(proposals).toHaveLength(1);
    expect(proposals[0]).toMatchObject({
      ...{ revision: 2, state: 'agreed', likelihood: 0.9, isOverdue: true, counts: true, overlaps: [], unfit: [] },
      changes: [{ part: 'T-200' }],
    });
    expect(proposals[0]?.savingKg).toBeCloseTo(1, 9);
    expect(proposals[0]?.revisions.map(({ by }) => by)).toEqual([engineer.initials, engineer.initials]);
    expect(forecast.all.forecastKg).toBeCloseTo(forecast.today.forecastKg - 1, 9);
    expect(forecast.weighted.forecastKg).toBeCloseTo(forecast.today.forecastKg - 0.9, 9);
    expect(await seq()).toBe(before);
  });

  it('[F8] one sent again is answered as the first time, though the part has gone in the meantime', async () => {
    const { aircraftId, lead, keep, list } = await begin();
    const sent = { id: newId(), changes: LIGHTER };
    const first = KeptProposal.parse(await (await keep(sent)).json());
    await record(shop(), lead.cookie, aircraftId, { kind: 'part removed', part: 'T-200', reason: 'not needed' });
    const again = await keep({ ...sent, id: sent.id.toUpperCase() });
    expect(again.status).toBe(200);
    expect(KeptProposal.parse(await again.json())).toEqual({ ...first, replayed: true });
    expect((await list()).proposals).toMatchObject([{ unfit: [{ part: 'T-200', why: 'removed' }], counts: false }]);
    const report = await problemOf(await keep({ ...sent, title: 'Another' }), 409, 'ledger-conflict');
    expect(report.problems?.[0]).toMatchObject({ pointer: '/id', code: 'proposal-id-reused' });
  });

  it('[F8] two who change one revision: the second is told who was faster; another server shows the same', async () => {
    const { keep, list } = await begin();
    const second = openShop(engine.store());
    const { proposalId } = KeptProposal.parse(await (await keep({ saving: '1 kg' })).json());
    const path = `/proposals/${proposalId}/revisions`;
    const answers = await Promise.all([
      keep({ after: 1, saving: '2 kg' }, path),
      keep({ after: 1, saving: '3 kg' }, path, second),
    ]);
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409]);
    const late = answers.find(({ status }) => status === 409);
    if (late === undefined) throw new Error('one of them is late');
    const report = await problemOf(late, 409, 'ledger-conflict');
    expect(report.problems?.[0]).toMatchObject({ pointer: '/after', code: 'proposal-moved-on' });
    expect(report.detail).toContain('revision 2');
    expect(await list(second)).toEqual(await list());
    second.close();
  });

  it('[F8] what cannot be kept is told at its places, and nothing of it is kept', async () => {
    const { ask, keep, list } = await begin();
    const bad = {
      title: ' ',
      likelihood: '140 %',
      due: 'soon',
      state: 'dropped',
      changes: [{ act: 'remove', part: '?' }],
    };
    expect(pointersOf(await refused(await keep(bad)))).toEqual([
      '/changes/0/part',
      '/due',
      '/likelihood',
      '/reason',
      '/title',
    ]);
    expect(pointersOf(await refused(await keep({ likelihood: '-100 %', saving: '1' })))).toEqual([
      '/likelihood',
      '/saving',
    ]);
    expect(pointersOf(await refused(await keep({})))).toEqual(['/saving']);
    expect(pointersOf(await refused(await keep({ saving: '1 kg', id: 'mine', after: 1 })))).toEqual(['/after', '/id']);
    await problemOf(await ask('/proposals', { id: newId(), ...PROPOSAL, saving: '1 kg' }), 403, 'not-allowed');
    for (const id of [newId(), 'x'])
      await problemOf(await keep({ after: 1, saving: '1 kg' }, `/proposals/${id}/revisions`), 404, 'not-found');
    expect((await list()).proposals).toEqual([]);
  });

  it('[F8] an open page is told of a proposal', async () => {
    const { aircraftId, keep, viewer } = await begin();
    const line = await shop().call('GET', '/api/live', { cookie: viewer.cookie });
    const reader = line.body?.getReader();
    if (reader === undefined) throw new Error('the line has a body');
    await keep({ saving: '1 kg' });
    let heard = '';
    while (!heard.includes(aircraftId)) heard += new TextDecoder().decode((await reader.read()).value);
    expect(heard).toContain('"seq":');
    await reader.cancel();
  });

  function refused(answer: Response): Promise<ProblemReport> {
    return problemOf(answer, 400, 'input-refused');
  }
});
