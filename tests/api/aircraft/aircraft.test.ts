/** Aircraft through the doors: made, listed, and kept from those who may not see them. */
import { expect, it } from 'vitest';
import { createDemonstration } from '#db/demo/create-demonstration.ts';
import { AircraftList, AircraftReport } from '#shared/contract/aircraft.ts';
import { aircraftIn, newId, partsIn, pointersOf, problemOf, record, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

describeOnBothEngines('aircraft', (engine) => {
  const shop = shopOn(engine, { createDemonstration });

  it('[N5] the list has the aircraft that a person may see', async () => {
    const lead = await shop().person('lead');
    const ids = [await aircraftIn(shop(), lead.cookie), await aircraftIn(shop(), lead.cookie)];
    const seen = async (cookie: string) =>
      AircraftList.parse(await (await shop().call('GET', '/api/aircraft', { cookie })).json()).aircraft.map(
        ({ id }) => id,
      );
    expect(await seen(lead.cookie)).toEqual(expect.arrayContaining(ids));
    expect(await seen((await shop().person('viewer', ids.slice(1))).cookie)).toEqual(ids.slice(1));
    expect(await seen((await shop().person('viewer', [])).cookie)).toEqual([]);
  });

  it('[N5] who makes an aircraft may see it, also with a list of aircraft', async () => {
    const lead = await shop().person('lead', []);
    const id = await aircraftIn(shop(), lead.cookie);
    expect((await shop().call('GET', `/api/aircraft/${id}`, { cookie: lead.cookie })).status).toBe(200);
  });

  it('[L4] a new aircraft has an opening entry that keeps the words and the person', async () => {
    const lead = await shop().person('lead');
    const id = await aircraftIn(shop(), lead.cookie);
    const answer = await shop().call('GET', `/api/aircraft/${id}/entries`, { cookie: lead.cookie });
    const { entries } = (await answer.json()) as { entries: { entry: object }[] };
    expect(entries.map(({ entry }) => entry)).toMatchObject([
      { kind: 'aircraft', by: lead.initials, macM: 1.25, typed: { mac: '1.25 m', lemac: '3.15 m' } },
    ]);
  });

  it('[N6] every problem of a new aircraft is told at once, under the names that were sent', async () => {
    const lead = await shop().person('lead');
    const add = (body: object) => shop().call('POST', '/api/aircraft', { cookie: lead.cookie, body });
    const whole = { name: `Heron ${newId()}`, datum: 'the bow', massUnit: 'kg', lengthUnit: 'm' };
    expect(pointersOf(await problemOf(await add({ massUnit: 'stone', colour: 'red' }), 400, 'input-refused'))).toEqual([
      '/colour',
      '/datum',
      '/lengthUnit',
      '/massUnit',
      '/name',
    ]);
    expect(
      pointersOf(await problemOf(await add({ ...whole, name: 'x'.repeat(100), mac: '1.25' }), 400, 'input-refused')),
    ).toEqual(['/mac', '/name']);
    expect((await add(whole)).status).toBe(201);
    const taken = await problemOf(await add({ ...whole, name: whole.name.toUpperCase() }), 409, 'ledger-conflict');
    expect(taken.problems).toMatchObject([{ pointer: '/name', code: 'aircraft-name-taken' }]);
  });

  it('[G1] the demonstration is marked as invented, and made once', async () => {
    const lead = await shop().person('lead');
    const make = () => shop().call('POST', '/api/demonstration', { cookie: lead.cookie });
    const made = await make();
    expect(made.status).toBe(201);
    expect(AircraftReport.parse(await made.json())).toMatchObject({ isInvented: true });
    await problemOf(await make(), 409, 'ledger-conflict');
    const real = await aircraftIn(shop(), lead.cookie);
    const { aircraft } = AircraftList.parse(
      await (await shop().call('GET', '/api/aircraft', { cookie: lead.cookie })).json(),
    );
    expect(aircraft.filter(({ isInvented }) => isInvented)).toHaveLength(1);
    expect(aircraft.find(({ id }) => id === real)?.isInvented).toBe(false);
  });

  it('[N5] an aircraft of others is answered at every door like one that does not exist', async () => {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, aircraftId);
    const theirs = await record(shop(), lead.cookie, aircraftId, { kind: 'note', text: 'a secret of theirs' });
    const outsider = await shop().person('lead', []);
    const body = { kind: 'note', text: 'a secret of theirs', id: String(theirs.entry.entry['id']) };
    const subPaths = [
      ['GET', ''],
      ['GET', '/entries'],
      ['GET', '/entries?search=secret'],
      ['GET', '/entries/copy?after=0'],
      ['GET', '/history'],
      ['GET', '/parts'],
      ['GET', '/breakdown/group'],
      ['GET', '/drift?order=cg'],
      ['GET', '/split/lot'],
      ['GET', '/pairs'],
      ['GET', '/scales'],
      ['GET', '/set-up'],
      ['GET', '/open'],
      ['GET', '/where'],
      ['GET', '/lay-up-accuracy'],
      ['GET', '/bridge'],
      ['GET', '/forecast'],
      ['GET', '/forecast/days'],
      ['GET', '/forecast/next'],
      ['GET', '/releases'],
      ['GET', '/aircraft-weighings'],
      ['POST', '/aircraft-weighings/draft'],
      ['POST', '/aircraft-weighings/draft/drop'],
      ['POST', '/aircraft-weighings/reconcile'],
      ['GET', '/proposals'],
      ['GET', '/loading'],
      ['POST', '/proposals'],
      ['POST', `/proposals/${newId()}/revisions`],
      ['GET', '/briefs'],
      ['GET', `/briefs/${newId()}`],
      ['GET', `/briefs/${newId()}/file?as=pdf`],
      ['POST', '/briefs'],
      ['POST', `/briefs/${newId()}/statements`],
      ['POST', '/loading/ballast'],
      ['POST', '/what-if'],
      ['POST', '/what-if/ballast'],
      ['GET', '/verify'],
      ['POST', '/entries'],
      ['POST', '/weighing-preview'],
    ] as const;
    for (const [method, sub] of subPaths) {
      const answers = [];
      for (const id of [aircraftId, aircraftId.toUpperCase(), newId(), 'not-an-id', '%00', 'Dabchick']) {
        const answer = await shop().call(method, `/api/aircraft/${id}${sub}`, { cookie: outsider.cookie, body });
        // Every answer has a number of its own.
        answer.headers.delete('X-Request-Id');
        answers.push({ status: answer.status, headers: [...answer.headers], text: await answer.text() });
      }
      expect(answers[0]).toMatchObject({ status: 404, text: expect.stringContaining('"not-found"') });
      for (const answer of answers) expect(answer).toEqual(answers[0]);
    }
  });

  it('[N5] an entry’s id that another aircraft has says nothing: it is an id like any other', async () => {
    const lead = await shop().person('lead');
    const [first, second] = [await aircraftIn(shop(), lead.cookie), await aircraftIn(shop(), lead.cookie)];
    const id = newId();
    await record(shop(), lead.cookie, first, { id, kind: 'note', text: 'on the first' });
    const outsider = await shop().person('engineer', [second]);
    const answer = await record(shop(), outsider.cookie, second, { id, kind: 'note', text: 'on the second' });
    expect(answer.replayed).toBe(false);
    const correction = { id: newId(), kind: 'correction', entry: 9, reason: 'x', replacement: null };
    await problemOf(
      await shop().call('POST', `/api/aircraft/${second}/entries`, { cookie: outsider.cookie, body: correction }),
      400,
      'input-refused',
    );
  });

  it('[N5] access that is taken away holds at once', async () => {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    const { person, cookie } = await shop().person('viewer', [aircraftId]);
    const look = () => shop().call('GET', `/api/aircraft/${aircraftId}`, { cookie });
    const allow = (aircraft: unknown) =>
      shop().call('PATCH', `/api/people/${person.id}`, { cookie: lead.cookie, body: { aircraft } });
    expect((await look()).status).toBe(200);
    await allow([newId()]);
    await problemOf(await look(), 404, 'not-found');
    await allow('all');
    expect((await look()).status).toBe(200);
  });
});
