/** What a device without a server needs of the doors: a copy of the entries, and that what waited goes in under its own person's name. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openStore, type Store } from '#db/engine/open-store.ts';
import { CopyReport, EntriesReport } from '#shared/contract/aircraft.ts';
import { foldEntries } from '#shared/ledger/fold.ts';
import { judgeWords } from '#shared/weighing/judge-words.ts';
import { aircraftIn, newId, openShop, problemOf, record, type Shop } from '#tests/api/door-shop.ts';

describe('what waited on a device', () => {
  let store: Store | undefined;
  let opened: Shop | undefined;
  beforeAll(async () => {
    store = await openStore({ kind: 'memory' });
    opened = openShop(store);
  });
  afterAll(async () => {
    opened?.close();
    await store?.close();
  });
  const shop = () => {
    if (opened === undefined) throw new Error('the shop opens in beforeAll');
    return opened;
  };

  it('[O4] what was meant for one person is refused while another is signed in, and goes in once that person is', async () => {
    const [lead, one, other] = await Promise.all([shop().person('lead'), shop().person('crew'), shop().person('crew')]);
    const path = `/api/aircraft/${await aircraftIn(shop(), lead.cookie)}/entries`;
    const body = { kind: 'note', text: 'waited', id: newId() };
    const headers = { 'Tarebook-Person': one.person.id };
    await problemOf(await shop().call('POST', path, { cookie: other.cookie, body, headers }), 403, 'other-person');
    await problemOf(await shop().call('POST', path, { body, headers }), 401, 'not-signed-in');
    expect((await shop().call('POST', path, { cookie: one.cookie, body, headers })).status).toBe(201);
    const page = EntriesReport.parse(await (await shop().call('GET', path, { cookie: lead.cookie })).json());
    expect(page.entries.filter(({ entry }) => entry.kind === 'note').map(({ entry }) => entry.by)).toEqual([
      one.initials,
    ]);
  });

  it('[O3] a copy of the entries is whole, goes on from where it ended, and judges a weighing as the server does', async () => {
    const { cookie, initials } = await shop().person('lead');
    const id = await aircraftIn(shop(), cookie);
    await record(shop(), cookie, id, {
      kind: 'part added',
      number: 'W-1',
      name: 'Skin',
      group: 'wing',
      process: 'prepreg',
    });
    const copy = async (after: number) => {
      const answer = await shop().call('GET', `/api/aircraft/${id}/entries/copy?after=${after}`, { cookie });
      return CopyReport.parse(await answer.json());
    };
    const first = await copy(0);
    await record(shop(), cookie, id, { kind: 'estimate', part: 'W-1', estimate: '4 kg', x: '3 m', allowance: '24 %' });
    const then = await copy(first.seq);
    expect(then.entries.map(({ seq }) => seq)).toEqual([first.seq + 1]);
    expect((await copy(then.seq)).entries).toEqual([]);

    const ledger = foldEntries([...first.entries, ...then.entries]);
    const words = { kind: 'weighing', part: 'W-1', gross: '8.9 lb', tare: '0.1 kg', condition: 'finished' };
    const here = judgeWords(words, ledger, { by: initials, today: '2026-11-30' });
    const answer = await shop().call('POST', `/api/aircraft/${id}/weighing-preview`, { cookie, body: words });
    if (!here.ok) throw new Error('the words are refused');
    expect(JSON.parse(JSON.stringify(here.value))).toEqual(await answer.json());

    const wrong = judgeWords({ ...words, gross: '5 stone' }, ledger, { by: initials, today: '2026-11-30' });
    expect(wrong.ok ? [] : wrong.refusal.map(({ path }) => path)).toEqual([['gross']]);
    await problemOf(
      await shop().call('GET', `/api/aircraft/${id}/entries/copy?after=x`, { cookie }),
      400,
      'input-refused',
    );
  });
});
