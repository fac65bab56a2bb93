/** The live line: who is told of what, when it ends, and that other processes are heard. */
import { expect, it } from 'vitest';
import type { EntryNotice } from '#db/engine/entry-feed.ts';
import { openStore } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { IDLE_MS } from '#db/people/session.ts';
import { LiveMessage } from '#shared/contract/aircraft.ts';
import type { Person } from '#shared/contract/people.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import { Entry } from '#shared/ledger/entry.ts';
import {
  aircraftIn,
  cookieOf,
  newId,
  openShop,
  PASSWORD,
  partsIn,
  record,
  type Shop,
  shopOn,
} from '#tests/api/door-shop.ts';
import { describeOnBothEngines, onServer } from '#tests/support/engines.ts';

/** A line as a browser reads it. */
class Line {
  readonly heard: LiveMessage[] = [];
  text = '';
  isEnded = false;
  readonly #reader: ReadableStreamDefaultReader<Uint8Array>;

  constructor(answer: Response) {
    expect(answer.status).toBe(200);
    expect(answer.headers.get('content-type')).toBe('text/event-stream; charset=utf-8');
    if (answer.body === null) throw new Error('a line has a body');
    this.#reader = answer.body.getReader();
    void this.#read();
  }

  async until(is: () => boolean, waitMs = 10_000): Promise<void> {
    const end = Date.now() + waitMs;
    while (!is()) {
      if (Date.now() > end) throw new Error(`the line said only: ${this.text}`);
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
  }

  hang(): Promise<void> {
    return this.#reader.cancel();
  }

  async #read(): Promise<void> {
    const decoder = new TextDecoder();
    for (;;) {
      const { done, value } = await this.#reader.read();
      if (done) break;
      this.text += decoder.decode(value, { stream: true });
      this.heard.splice(0);
      for (const [, data] of this.text.matchAll(/^data: (.*)$/gm))
        this.heard.push(LiveMessage.parse(JSON.parse(data ?? '')));
    }
    this.isEnded = true;
  }
}

async function open(shop: Shop, cookie: string): Promise<Line> {
  const line = new Line(await shop.call('GET', '/api/live', { cookie }));
  await line.until(() => line.text.includes('retry:'));
  return line;
}

const note = { kind: 'note', text: 'heard?' };

describeOnBothEngines('the live line', (engine) => {
  const shop = shopOn(engine, { heartbeatMs: 50 });

  it('[N9] it tells of a new entry, to those who may see the aircraft and to nobody else', async () => {
    const lead = await shop().person('lead');
    const [mine, theirs] = [await aircraftIn(shop(), lead.cookie), await aircraftIn(shop(), lead.cookie)];
    const outsider = await open(shop(), (await shop().person('crew', [theirs])).cookie);
    const line = await open(shop(), lead.cookie);
    const { entry } = await record(shop(), lead.cookie, mine, note);
    await line.until(() => line.heard.some(({ aircraftId, seq }) => aircraftId === mine && seq === entry.seq));
    await record(shop(), lead.cookie, theirs, note);
    await outsider.until(() => outsider.heard.some(({ aircraftId }) => aircraftId === theirs));
    expect(outsider.text).not.toContain(mine);
    // The heartbeat has a time of its own; an entry on a quick machine is there before the first one.
    await line.until(() => line.text.includes(': still here\n\n'));
    await Promise.all([line.hang(), outsider.hang()]);
  });

  it('[N9] it tells of an entry that its server died over before it had told', async () => {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    const line = await open(shop(), lead.cookie);
    await line.until(() => line.text.includes(': still here\n\n'));
    const content = entryText(Entry.parse({ ...note, id: newId(), happenedOn: '2026-06-30', by: 'AB' }));
    expect(await appendEntries(engine.db(), { aircraftId, contents: [content], isUntold: true })).toMatchObject({
      ok: true,
    });
    await line.until(() => line.heard.some((heard) => heard.aircraftId === aircraftId && heard.seq === 2));
    await line.hang();
  });

  it('[N9] a burst of entries is told to its last, on a line that many follow', async () => {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    const line = await open(shop(), lead.cookie);
    await Promise.all(Array.from({ length: 20 }, () => record(shop(), lead.cookie, aircraftId, note)));
    await line.until(() => line.heard.some((heard) => heard.aircraftId === aircraftId && heard.seq === 21));
    await line.hang();
  });

  it('[N9] it closes when the session ends: by sign-out, by being made inactive, by time', async () => {
    const lead = await shop().person('lead');
    const out = await shop().person('viewer');
    const line = await open(shop(), out.cookie);
    await shop().call('POST', '/api/sign-out', { cookie: out.cookie });
    await line.until(() => line.isEnded);
    const inactive = await shop().person('viewer');
    const second = await open(shop(), inactive.cookie);
    await shop().call('PATCH', `/api/people/${inactive.person.id}`, { cookie: lead.cookie, body: { isActive: false } });
    await second.until(() => second.isEnded);
    const idle = await shop().person('viewer');
    const third = await open(shop(), idle.cookie);
    await third.until(() => third.text.includes('still here'));
    shop().later(IDLE_MS + 1);
    await third.until(() => third.isEnded);
  });

  it('[N9] an open line is no use of the session: it ends after 12 hours all the same', async () => {
    const { cookie } = await shop().person('viewer');
    const line = await open(shop(), cookie);
    // Half the time, then a heartbeat's look at the session, then the other half.
    shop().later(IDLE_MS / 2);
    const beats = () => line.text.split('still here').length;
    const before = beats();
    await line.until(() => beats() > before + 1);
    expect(line.isEnded).toBe(false);
    shop().later(IDLE_MS / 2 + 1);
    await line.until(() => line.isEnded);
  });

  it('[N9] a line ends at the moment its session does, and not at the next heartbeat', async () => {
    const slow = openShop(engine.store(), { heartbeatMs: 3_600_000 });
    const lead = await slow.person('lead');
    const body = { current: PASSWORD, next: 'another long password' };
    const ends = [
      ({ cookie }: { cookie: string }) => slow.call('POST', '/api/sign-out', { cookie }),
      ({ person }: { person: Person }) =>
        slow.call('PATCH', `/api/people/${person.id}`, { cookie: lead.cookie, body: { isActive: false } }),
      async ({ person }: { person: Person }) => {
        const other = await slow.call('POST', '/api/sign-in', { body: { name: person.name, password: PASSWORD } });
        return slow.call('POST', '/api/password', { cookie: cookieOf(other), body });
      },
    ];
    for (const end of ends) {
      const viewer = await slow.person('viewer');
      const line = await open(slow, viewer.cookie);
      expect((await end(viewer)).status).toBe(200);
      await line.until(() => line.isEnded);
    }
    slow.close();
  });

  it('[N9] access that is taken away holds for the line as well', async () => {
    const lead = await shop().person('lead');
    const id = await aircraftIn(shop(), lead.cookie);
    const viewer = await shop().person('viewer', [id]);
    const [line, own] = [await open(shop(), viewer.cookie), await open(shop(), lead.cookie)];
    await shop().call('PATCH', `/api/people/${viewer.person.id}`, { cookie: lead.cookie, body: { aircraft: [] } });
    const { entry } = await record(shop(), lead.cookie, id, note);
    await own.until(() => own.heard.some(({ seq }) => seq === entry.seq));
    expect(line.heard.filter(({ seq }) => seq === entry.seq)).toEqual([]);
    await Promise.all([line.hang(), own.hang()]);
  });

  it('[N9] a burst of entries ends with the last one', async () => {
    const lead = await shop().person('lead');
    const id = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, id);
    const line = await open(shop(), lead.cookie);
    await Promise.all(Array.from({ length: 30 }, () => record(shop(), lead.cookie, id, note)));
    await line.until(() => line.heard.at(-1)?.seq === 35);
    expect(line.heard.map(({ seq }) => seq)).toEqual([...line.heard.map(({ seq }) => seq)].sort((a, b) => a - b));
    await line.hang();
  });

  it('[N9] a session has twenty lines at most, the oldest gives way, and who asks for the head alone opens none', async () => {
    const { cookie } = await shop().person('viewer');
    const other = await open(shop(), (await shop().person('viewer')).cookie);
    const lines: Line[] = [];
    for (let count = 0; count < 20; count += 1) lines.push(await open(shop(), cookie));
    for (let count = 0; count < 5; count += 1)
      expect((await shop().call('HEAD', '/api/live', { cookie })).status).toBe(200);
    const ended = () => lines.map(({ isEnded }) => isEnded);
    expect(ended()).not.toContain(true);
    lines.push(await open(shop(), cookie));
    await lines[0]?.until(() => lines[0]?.isEnded === true);
    expect(ended().filter(Boolean)).toHaveLength(1);
    expect(other.isEnded).toBe(false);
    await Promise.all([other, ...lines].map((line) => line.hang()));
  });

  /** A server whose feed is what the test says, whose heart beats when the test says, and whose next read of such rows breaks. */
  function handFed() {
    const given = { hear: (_: EntryNotice) => {}, failsOn: (_: object) => false };
    const feed = {
      subscribe: (listener: (notice: EntryNotice) => void) => {
        given.hear = listener;
        return () => undefined;
      },
    };
    const db = engine.db().withPlugin({
      transformQuery: ({ node }) => node,
      transformResult: async ({ result }) => {
        if (!result.rows.some((row) => given.failsOn(row))) return result;
        given.failsOn = () => false;
        throw new Error('Connection terminated');
      },
    });
    const fed = openShop({ ...engine.store(), db, feed }, { heartbeatMs: 3_600_000 });
    return Object.assign(given, { fed });
  }

  /** Recorded, and nobody is told. */
  async function recordUntold(aircraftId: string): Promise<void> {
    const content = entryText(Entry.parse({ ...note, id: newId(), happenedOn: '2026-06-30', by: 'AB' }));
    const answer = await appendEntries(engine.db(), { aircraftId, contents: [content], isUntold: true });
    expect(answer).toMatchObject({ ok: true, entries: [{ seq: 2 }] });
  }

  /** A line that has heard a heartbeat, and an entry of which it has not. */
  async function oneUntold() {
    const given = handFed();
    const { cookie } = await given.fed.person('lead');
    const aircraftId = await aircraftIn(given.fed, cookie);
    const line = await open(given.fed, cookie);
    given.fed.services.lines.recheck();
    await line.until(() => line.text.includes(': still here'));
    await recordUntold(aircraftId);
    return { given, aircraftId, line };
  }

  it('[N9] of two servers that tell out of order, or of an older head beside the ledger, the newest entry is told', async () => {
    const given = handFed();
    const aircraftId = newId();
    const line = await open(given.fed, (await given.fed.person('lead')).cookie);
    for (const seq of [7, 6]) given.hear({ aircraftId, seq });
    await line.until(() => line.heard.length > 0);
    expect(line.heard).toEqual([{ aircraftId, seq: 7 }]);
    await line.hang();
    given.fed.close();
  });

  it('[N9] a notice that comes after a heartbeat which found more is told with the newest entry', async () => {
    const { given, aircraftId, line } = await oneUntold();
    given.fed.services.lines.recheck();
    const own = () => line.heard.filter((heard) => heard.aircraftId === aircraftId).map(({ seq }) => seq);
    await line.until(() => own().length === 1);
    given.hear({ aircraftId, seq: 1 });
    await line.until(() => own().length === 2);
    expect(own()).toEqual([2, 2]);
    await line.hang();
    given.fed.close();
  });

  it('[N9] a burst on more aircraft than a page may leave unread is told to its last', async () => {
    const given = handFed();
    const line = await open(given.fed, (await given.fed.person('lead')).cookie);
    for (let count = 0; count < 250; count += 1) given.hear({ aircraftId: newId(), seq: 1 });
    await line.until(() => line.heard.length === 250 || line.isEnded);
    expect([line.heard.length, line.isEnded]).toEqual([250, false]);
    await line.hang();
    given.fed.close();
  });

  it('[N9] what could not be told while the database was away is told at the next heartbeat', async () => {
    const { given, aircraftId, line } = await oneUntold();
    given.failsOn = (row) => 'by_pin' in row;
    given.hear({ aircraftId, seq: 2 });
    await expect.poll(() => given.fed.logged.join('')).toContain('missed a message');
    given.fed.services.lines.recheck();
    await line.until(() => line.heard.some((heard) => heard.aircraftId === aircraftId && heard.seq === 2));
    await line.hang();
    given.fed.close();
  });

  it('[N9] a page that came while the heads could not be read is told what nobody has told all the same', async () => {
    const given = handFed();
    const { cookie } = await given.fed.person('lead');
    const aircraftId = await aircraftIn(given.fed, cookie);
    // Of aircraft alone, and not of who asks.
    given.failsOn = (row) => 'head_hash' in row && !('by_pin' in row);
    const line = await open(given.fed, cookie);
    await expect.poll(() => given.fed.logged.join('')).toContain('missed a message');
    await recordUntold(aircraftId);
    given.fed.services.lines.recheck();
    await line.until(() => line.heard.some((heard) => heard.aircraftId === aircraftId && heard.seq === 2));
    await line.hang();
    given.fed.close();
  });

  it('[N14] a server that stops ends its lines', async () => {
    const other = openShop(engine.store());
    const line = await open(other, (await other.person('viewer')).cookie);
    other.close();
    await line.until(() => line.isEnded);
  });

  if (engine.kind === 'postgres') {
    it('[N9] what one server records is told by another one, also after its line to the database was cut', async () => {
      const otherStore = await openStore(engine.place());
      // One clock for both: to one that is hours behind, a session would not have begun.
      const other = openShop(otherStore, { now: shop().services.now });
      const lead = await shop().person('lead');
      const id = await aircraftIn(shop(), lead.cookie);
      const line = await open(other, lead.cookie);
      const first = await record(shop(), lead.cookie, id, note);
      await line.until(() => line.heard.some(({ aircraftId, seq }) => aircraftId === id && seq === first.entry.seq));
      await onServer((client) =>
        client.query(
          `select pg_terminate_backend(pid) from pg_stat_activity where application_name = 'tarebook listener'`,
        ),
      );
      const second = await record(shop(), lead.cookie, id, note);
      await line.until(() => line.heard.some(({ aircraftId, seq }) => aircraftId === id && seq === second.entry.seq));
      const third = await record(shop(), lead.cookie, id, note);
      await line.until(() => line.heard.some(({ aircraftId, seq }) => aircraftId === id && seq === third.entry.seq));
      await line.hang();
      other.close();
      await otherStore.close();
    });
  }
});
