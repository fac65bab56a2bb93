/** Aircraft that are closed to all but the named (rule N17). */
import { expect, it } from 'vitest';
import type { z } from 'zod';
import { ROLE_FIELD } from '#api/door.ts';
import { startSession } from '#db/people/session.ts';
import { AircraftAccess, type AircraftAccessRequest } from '#shared/contract/access.ts';
import { AircraftList, LedgerReport } from '#shared/contract/aircraft.ts';
import { TabletList } from '#shared/contract/tablet.ts';
import { aircraftIn, newId, partsIn, problemOf, record, type Shop, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

type Named = z.infer<typeof AircraftAccessRequest>['people'];

async function close(shop: Shop, cookie: string, aircraftId: string, people: Named, isClosed = true) {
  const body = { isClosed, people };
  const answer = await shop.call('POST', `/api/aircraft/${aircraftId}/access`, { cookie, body });
  expect(answer.status).toBe(200);
  return AircraftAccess.parse(await answer.json());
}

const NOTE = () => ({ id: newId(), kind: 'note', text: 'seen' });

describeOnBothEngines('access to an aircraft', (engine) => {
  const shop = shopOn(engine);
  const listed = async (cookie: string) =>
    AircraftList.parse(await (await shop().call('GET', '/api/aircraft', { cookie })).json()).aircraft;

  it('[N17] until a lead closes an aircraft it is everybody’s, and opened again it is so once more', async () => {
    const lead = await shop().person('lead');
    const crew = await shop().person('crew');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await record(shop(), crew.cookie, aircraftId, NOTE());
    await close(shop(), lead.cookie, aircraftId, []);
    expect((await listed(crew.cookie)).map(({ id }) => id)).not.toContain(aircraftId);
    const opened = await close(shop(), lead.cookie, aircraftId, [], false);
    expect(opened.isClosed).toBe(false);
    await record(shop(), crew.cookie, aircraftId, NOTE());
  });

  it('[N17] at every door a closed aircraft answers who is not named as one that is not there', async () => {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, aircraftId);
    await close(shop(), lead.cookie, aircraftId, []);
    const engineer = await shop().person('engineer');
    const doors = shop().app.openAPIRegistry.definitions.flatMap((definition) =>
      definition.type === 'route' &&
      definition.route.path.includes('{aircraftId}') &&
      definition.route[ROLE_FIELD] !== 'lead'
        ? [definition.route]
        : [],
    );
    expect(doors.length).toBeGreaterThan(35);
    for (const { method, path } of doors) {
      const ask = async (id: string) => {
        const address = path.replace('{aircraftId}', id).replace('{key}', 'group').replace(/{\w+}/g, newId());
        const answer = await shop().call(method.toUpperCase(), address, { cookie: engineer.cookie });
        return { headers: [...answer.headers.keys()], problem: await problemOf(answer, 404, 'not-found') };
      };
      expect({ path, ...(await ask(aircraftId)) }).toEqual({ path, ...(await ask(newId())) });
    }
  });

  it('[N17] who is named to see reads and writes nothing, and who is named to write works as their role does', async () => {
    const lead = await shop().person('lead');
    const [reader, writer] = [await shop().person('engineer'), await shop().person('crew', [])];
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    const access = await close(shop(), lead.cookie, aircraftId, [
      { id: reader.person.id, may: 'see' },
      { id: writer.person.id, may: 'write' },
    ]);
    expect(access.people.filter(({ may }) => may !== 'nothing').map(({ may }) => may)).toEqual(
      expect.arrayContaining(['see', 'write']),
    );
    const headline = await shop().call('GET', `/api/aircraft/${aircraftId}`, { cookie: reader.cookie });
    expect(LedgerReport.parse(await headline.json()).aircraft.isReadOnly).toBe(true);
    expect((await listed(reader.cookie)).find(({ id }) => id === aircraftId)?.isReadOnly).toBe(true);
    expect((await listed(writer.cookie)).map(({ id, isReadOnly }) => ({ id, isReadOnly }))).toEqual([
      { id: aircraftId, isReadOnly: undefined },
    ]);
    const send = (cookie: string, body: object) =>
      shop().call('POST', `/api/aircraft/${aircraftId}/entries`, { cookie, body });
    await problemOf(await send(reader.cookie, NOTE()), 403, 'not-allowed');
    expect((await send(writer.cookie, NOTE())).status).toBe(201);
    await problemOf(await send(writer.cookie, { ...NOTE(), kind: 'targets' }), 403, 'not-allowed');
  });

  it('[N17] leads are never shut out, also not with a PIN, and only leads decide', async () => {
    const [lead, other, writer] = [
      await shop().person('lead'),
      await shop().person('lead'),
      await shop().person('engineer'),
    ];
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await close(shop(), lead.cookie, aircraftId, [{ id: writer.person.id, may: 'write' }]);
    await record(shop(), other.cookie, aircraftId, NOTE());
    const tablet = await shop().call('POST', '/api/tablets', {
      cookie: lead.cookie,
      body: { name: `Bench ${newId()}`, idleMinutes: 5 },
    });
    const [{ id: tabletId } = { id: '' }] = TabletList.parse(await tablet.json()).tablets.slice(-1);
    const token = await startSession(engine.db(), other.person.id, shop().services.now(), { tabletId, byPin: true });
    await record(shop(), `tarebook=${token}`, aircraftId, NOTE());
    const path = `/api/aircraft/${aircraftId}/access`;
    await problemOf(await shop().call('GET', path, { cookie: writer.cookie }), 403, 'not-allowed');
    const body = { isClosed: false, people: [] };
    await problemOf(await shop().call('POST', path, { cookie: writer.cookie, body }), 403, 'not-allowed');
    const nobody = { isClosed: true, people: [{ id: newId(), may: 'see' }] };
    await problemOf(await shop().call('POST', path, { cookie: lead.cookie, body: nobody }), 404, 'not-found');
    const kept = AircraftAccess.parse(await (await shop().call('GET', path, { cookie: lead.cookie })).json());
    expect(kept.isClosed).toBe(true);
    expect(kept.people.find(({ id }) => id === writer.person.id)?.may).toBe('write');
  });

  it('[N17] the live line of who is shut out goes silent at once', async () => {
    const lead = await shop().person('lead');
    const crew = await shop().person('crew');
    const [shut, open] = [await aircraftIn(shop(), lead.cookie), await aircraftIn(shop(), lead.cookie)];
    const line = (await shop().call('GET', '/api/live', { cookie: crew.cookie })).body?.getReader();
    if (line === undefined) throw new Error('the line has a body');
    await close(shop(), lead.cookie, shut, []);
    await record(shop(), lead.cookie, shut, NOTE());
    await record(shop(), lead.cookie, open, NOTE());
    let heard = '';
    while (!heard.includes(open)) heard += new TextDecoder().decode((await line.read()).value);
    expect(heard).not.toContain(shut);
    await line.cancel();
  });
});
