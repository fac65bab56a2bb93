/** Many at once: nothing acknowledged is lost, nobody is refused for another one's haste, and every server shows the same. */
import { expect, it } from 'vitest';
import { openStore } from '#db/engine/open-store.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { LiveLedgers } from '#db/record/live-ledgers.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { entriesReport, headlineReport } from '#shared/rollup/report.ts';
import { aircraftIn, newId, openShop, partsIn, record, type Shop, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

const WRITERS = 8;
const EACH = 20;

describeOnBothEngines('at once', (engine) => {
  const shop = shopOn(engine);

  /** Two servers of their own on PostgreSQL; the embedded engine has the one. */
  async function servers(): Promise<{ shops: Shop[]; close(): Promise<void> }> {
    if (engine.kind === 'folder') return { shops: [shop()], close: async () => undefined };
    const store = await openStore(engine.place());
    const other = openShop(store);
    return {
      shops: [shop(), other],
      async close() {
        other.close();
        await store.close();
      },
    };
  }

  it('[N10] 8 writers of 20 weighings each are all taken, and every server has the ledger of the database', async () => {
    const { shops, close } = await servers();
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, aircraftId);
    const seqs: number[] = [];
    await Promise.all(
      Array.from({ length: WRITERS }, async (_, writer) => {
        const crew = await shop().person('crew');
        for (let count = 0; count < EACH; count += 1) {
          const server = shops[(writer + count) % shops.length];
          if (server === undefined) throw new Error('there is a server');
          const answer = await record(server, crew.cookie, aircraftId, {
            kind: 'weighing',
            part: 'W-104',
            piece: String((count % 4) + 1),
            gross: `4.${String(writer)}${String(count).padStart(2, '0')} kg`,
            condition: 'finished',
          });
          expect(answer.entry.entry).toMatchObject({ by: crew.initials });
          seqs.push(answer.entry.seq);
        }
      }),
    );
    expect(seqs.sort((a, b) => a - b)).toEqual(Array.from({ length: WRITERS * EACH }, (_, at) => at + 6));
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: WRITERS * EACH + 5 });
    const ledger = await loadLedger(engine.db(), aircraftId);
    for (const server of shops) {
      const headline = await server.call('GET', `/api/aircraft/${aircraftId}`, { cookie: lead.cookie });
      expect(await headline.json()).toMatchObject({ headline: JSON.parse(JSON.stringify(headlineReport(ledger))) });
      const entries = await server.call('GET', `/api/aircraft/${aircraftId}/entries?limit=200`, {
        cookie: lead.cookie,
      });
      const page = (await entries.json()) as { entries: unknown[] };
      expect(page.entries).toEqual(JSON.parse(JSON.stringify([...entriesReport(ledger)].reverse())));
    }
    await close();
  });

  it('[L3] the same entry sent ten times at once, to every server, is recorded once', async () => {
    const { shops, close } = await servers();
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, aircraftId);
    for (const body of [
      { kind: 'part added', number: 'NEW', group: 'wing' },
      { kind: 'weighing', part: 'NEW', gross: '1 kg', condition: 'finished' },
      { kind: 'correction', entry: 5, reason: 'misread', replacement: null },
    ]) {
      const id = newId();
      const answers = await Promise.all(
        Array.from({ length: 10 }, (_, at) =>
          (shops[at % shops.length] ?? shop()).call('POST', `/api/aircraft/${aircraftId}/entries`, {
            cookie: lead.cookie,
            body: { id, ...body },
          }),
        ),
      );
      expect(answers.map((answer) => answer.status).sort()).toEqual([...Array.from({ length: 9 }, () => 200), 201]);
    }
    await close();
  });

  it('[L2] of two corrections of one entry at the same moment one is refused and names the other', async () => {
    const { shops, close } = await servers();
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, aircraftId);
    const answers = await Promise.all(
      Array.from({ length: 6 }, (_, at) =>
        (shops[at % shops.length] ?? shop()).call('POST', `/api/aircraft/${aircraftId}/entries`, {
          cookie: lead.cookie,
          body: { id: newId(), kind: 'correction', entry: 5, reason: `by ${at}`, replacement: null },
        }),
      ),
    );
    expect(answers.filter((answer) => answer.status === 201)).toHaveLength(1);
    for (const answer of answers)
      if (answer.status !== 201)
        expect(await answer.json()).toMatchObject({ problems: [{ code: 'already-corrected' }] });
    await close();
  });

  it('[N10] an entry that the database did not take leaves nothing behind, and the next one goes on', async () => {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, aircraftId);
    let isCut = false;
    const db = new Proxy(engine.db(), {
      get(target, name) {
        if (isCut) throw new Error('the line to the database is cut');
        const value: unknown = Reflect.get(target, name, target);
        return typeof value === 'function' ? value.bind(target) : value;
      },
    });
    const ledgers = new LiveLedgers(db);
    const entry = { kind: 'note', id: newId(), happenedOn: '2026-01-01', by: 'AB', text: 'x' } as never;
    const seqOf = async () => ledgers.read(aircraftId, undefined, (ledger) => ledger.entries.length);
    expect(await seqOf()).toEqual({ ok: true, value: 5 });
    isCut = true;
    const attempt = () =>
      ledgers.record(
        aircraftId,
        () => ({ ok: true, entry }),
        ({ seq }) => seq,
      );
    await expect(attempt()).rejects.toThrow('cut');
    await expect(seqOf()).rejects.toThrow('cut');
    isCut = false;
    expect(await seqOf()).toEqual({ ok: true, value: 5 });
    expect(await attempt()).toEqual({ ok: true, told: 6 });
    expect(await seqOf()).toEqual({ ok: true, value: 6 });
  });
});
