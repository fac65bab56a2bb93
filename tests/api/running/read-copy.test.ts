/** A standby that is read in bulk in the database's stead: what is read there, and that nothing depends on it. */
import { randomUUID } from 'node:crypto';
import { once } from 'node:events';
import { type AddressInfo, createServer, type Socket } from 'node:net';
import { type Kysely, sql } from 'kysely';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { briefWith, keepBrief, stateBrief } from '#db/brief/briefs.ts';
import type { Database } from '#db/database.ts';
import { openStore, type Store } from '#db/engine/open-store.ts';
import { ReadCopy } from '#db/engine/read-copy.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { LiveLedgers } from '#db/record/live-ledgers.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import type { EntryId } from '#shared/ledger/entry.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { makeEntries } from '#tests/bench/make-chain.ts';
import { makeAircraft, onServer } from '#tests/support/engines.ts';
import { type OwnServer, startServer } from '#tests/support/postgres-server.ts';
import { firstLead, sendJson, startServerProcess } from '#tests/support/server-process.ts';
import { type Standby, standbyOf } from '#tests/support/standby.ts';
import { briefOf } from '../../shared/brief/make-brief.ts';
import { Chain, estimateOf, partOf, targetsOf } from '../../shared/ledger/make-entries.ts';

/** More than two pages, and no whole number of them. */
const LONG = 2_400;
const AWAY = /cannot be read/;
const OTHER = /holds something else/;

const chain = new Chain();
chain.record(targetsOf(120));
chain.record(partOf(1, { name: 'Web' }));
chain.record(estimateOf(1, { massKg: 2, xM: 2 }));
const CONTENT = briefOf(chain);

let primary: OwnServer;
let standby: Standby;
let store: Store;
let url: string;
/** Of a long aircraft that nothing is recorded on. */
let still: string;

async function newDatabase(name: string, template = 'template0'): Promise<string> {
  await onServer((client) => client.query(`create database ${name} template ${template}`), primary.url);
  return Object.assign(new URL(primary.url), { pathname: `/${name}` }).href;
}

async function record(db: Kysely<Database>, aircraftId: string, count: number): Promise<void> {
  const contents = makeEntries(count / 2, 0).map((entry) => entryText({ ...entry, id: randomUUID() as EntryId }));
  expect(await appendEntries(db, { aircraftId, contents })).toMatchObject({ ok: true });
}

async function longAircraft(): Promise<string> {
  const aircraftId = await makeAircraft(store.db);
  await record(store.db, aircraftId, LONG);
  return aircraftId;
}

async function issuedBrief(aircraftId: string): Promise<{ aircraftId: string; briefId: string }> {
  const named = { aircraftId, briefId: randomUUID() };
  await keepBrief(store.db, { ...named, by: 'AB', sent: '{}', content: CONTENT });
  const said = { ...named, id: randomUUID(), after: 0, act: 'issue', by: 'AB', remarks: {} } as const;
  expect(await stateBrief(store.db, said)).toMatchObject({ ok: true });
  return named;
}

/** The same database, with the rows counted that have come from it and hold a text of an entry or a brief. */
function counting(db: Kysely<Database>): { db: Kysely<Database>; read(): number } {
  let count = 0;
  const counted = db.withPlugin({
    transformQuery: ({ node }) => node,
    transformResult: async ({ result }) => {
      count += result.rows.filter((row) => 'content' in row).length;
      return result;
    },
  });
  return { db: counted, read: () => count };
}

/** Reads as a server does that has just started, with `copyUrl` for its copy. */
async function withCopy<Answer>(
  copyUrl: string,
  work: (given: {
    db: Kysely<Database>;
    copy: ReadCopy;
    ledgers: LiveLedgers;
    read(): number;
    told: string[];
  }) => Promise<Answer>,
): Promise<Answer> {
  const told: string[] = [];
  const opened = await openStore(
    { kind: 'postgres', url },
    { copy: { url: copyUrl, tell: (words) => told.push(words) } },
  );
  const { db, read } = counting(opened.db);
  const { copy } = opened;
  if (copy === undefined) throw new Error('a store with a copy has one');
  try {
    return await work({ db, copy, ledgers: new LiveLedgers(db, { copy, patienceMs: 60_000 }), read, told });
  } finally {
    await opened.close();
  }
}

const headlineOf = (ledgers: LiveLedgers, aircraftId: string, at?: number) =>
  ledgers.read(aircraftId, at, (ledger) => headlineReport(ledger));

/** As it is read from the database alone. */
const rightly = (aircraftId: string, at?: number) =>
  headlineOf(new LiveLedgers(store.db, { patienceMs: 60_000 }), aircraftId, at);

beforeAll(async () => {
  primary = await startServer();
  url = await newDatabase('shop');
  store = await openStore({ kind: 'postgres', url });
  still = await longAircraft();
  standby = await standbyOf(primary.url);
  await standby.caughtUp();
}, 120_000);

afterAll(async () => {
  await store?.close();
  await standby?.stop();
  await primary?.stop();
}, 60_000);

describe('a copy that is read in bulk', () => {
  it('[Y6] a server reads a long ledger and an issued brief there, and answers as one without it', {
    timeout: 120_000,
  }, async () => {
    const brief = await issuedBrief(still);
    /** Rows of entries and briefs that each of the two servers has read for anybody whose connection has ended. */
    const readOn = (at: string) =>
      onServer(async (client) => {
        const { rows } = await client.query<{ read: string }>(
          "select sum(idx_tup_read) as read from pg_stat_user_indexes where indexrelname in ('entry_pkey', 'brief_pkey')",
        );
        return Number(rows[0]?.read);
      }, at);
    const answersOf = async (env: Readonly<Record<string, string>>, given?: string) => {
      const server = startServerProcess(['--port', '0'], { DATABASE_URL: url, ...env });
      try {
        const cookie = given ?? (await firstLead(server));
        const at = `${await server.address()}/api/aircraft/${still}`;
        const bodyOf = async (path: string) => {
          let answer = await sendJson(`${at}${path}`, { cookie });
          while (answer.status === 503) answer = await sendJson(`${at}${path}`, { cookie });
          expect(answer.status).toBe(200);
          return answer.body;
        };
        const paths = ['', `?asKnownAt=${LONG - 7}`, '/entries', `/briefs/${brief.briefId}`];
        const answers = [];
        for (const path of paths) answers.push(await bodyOf(path));
        return { cookie, answers, said: server.said() };
      } finally {
        expect(await server.stop()).toBe(0);
      }
    };
    const without = await answersOf({});
    await standby.caughtUp();
    const before = [await readOn(url), await readOn(standby.urlOf(url))] as const;
    const withIt = await answersOf({ TAREBOOK_READ_DATABASE_URL: standby.urlOf(url) }, without.cookie);
    expect(withIt.answers).toEqual(without.answers);
    expect(withIt.said).not.toContain('copy of the database');
    await expect.poll(async () => (await readOn(standby.urlOf(url))) - before[1]).toBeGreaterThan(LONG);
    expect((await readOn(url)) - before[0]).toBeLessThan(100);
  });

  it('[Y6] what has not come there yet is read from the database, and nothing is missing', async () => {
    const aircraftId = await longAircraft();
    await standby.caughtUp();
    await standby.pause();
    try {
      await record(store.db, aircraftId, 300);
      const late = await issuedBrief(aircraftId);
      await withCopy(standby.urlOf(url), async ({ db, copy, ledgers, read, told }) => {
        expect(await headlineOf(ledgers, aircraftId)).toEqual(await rightly(aircraftId));
        expect(read()).toBe(300);
        // Another moment of it, before what has not come and after, is folded from the same entries.
        for (const at of [LONG - 1, LONG + 1])
          expect(await headlineOf(ledgers, aircraftId, at)).toEqual(await rightly(aircraftId, at));
        expect(read()).toBe(300);
        expect((await briefWith(db, late, copy))?.brief.content).toEqual(CONTENT);
        expect(read()).toBe(301);
        expect(told).toEqual([]);
      });
    } finally {
      await standby.resume();
    }
  });

  it('[Y6] the content of an issued brief comes from there; that of a draft, and what is said of either, from the database', async () => {
    const issued = await issuedBrief(still);
    const draft = { aircraftId: still, briefId: randomUUID() };
    await keepBrief(store.db, { ...draft, by: 'AB', sent: '{}', content: CONTENT });
    await standby.caughtUp();
    await withCopy(standby.urlOf(url), async ({ db, copy, read, told }) => {
      expect(await briefWith(db, issued, copy)).toEqual(await briefWith(store.db, issued));
      expect(read()).toBe(0);
      expect(await briefWith(db, draft, copy)).toEqual(await briefWith(store.db, draft));
      expect(read()).toBe(1);
      expect(told).toEqual([]);
    });
  });

  it('[Y6] a server starts and goes on without it, and says so once', { timeout: 120_000 }, async () => {
    const [one, other] = [await longAircraft(), await longAircraft()];
    await standby.caughtUp();
    await withCopy(standby.urlOf(url), async ({ db, ledgers, read, told }) => {
      expect(await headlineOf(ledgers, one)).toEqual(await rightly(one));
      expect([read(), told]).toEqual([0, []]);
      await standby.kill();
      expect(await headlineOf(ledgers, other)).toEqual(await rightly(other));
      expect(await headlineOf(ledgers, still)).toEqual(await rightly(still));
      expect(read()).toBe(2 * LONG);
      expect(told).toEqual([expect.stringMatching(AWAY)]);
      // What is known already needs neither.
      await record(db, one, 2);
      expect(await headlineOf(ledgers, one)).toEqual(await rightly(one));
    });
    // Opened while it is away.
    await withCopy(standby.urlOf(url), async ({ ledgers, told }) => {
      expect(await headlineOf(ledgers, one)).toEqual(await rightly(one));
      expect(told).toEqual([expect.stringMatching(AWAY)]);
    });
    await standby.restart();
    await standby.caughtUp();
  });

  it('[Y6] one that is lost in the middle of a ledger leaves nothing of it', async () => {
    const told: string[] = [];
    let pages = 0;
    const losing = store.db.withPlugin({
      transformQuery: ({ node }) => node,
      transformResult: async ({ result }) => {
        pages += 1;
        if (pages === 2) throw new Error('Connection terminated');
        return result;
      },
    });
    const { db, read } = counting(store.db);
    const copy = new ReadCopy(losing, (words) => told.push(words));
    expect(await headlineOf(new LiveLedgers(db, { copy, patienceMs: 60_000 }), still)).toEqual(await rightly(still));
    expect([pages, read()]).toEqual([2, LONG]);
    expect(told).toEqual([expect.stringMatching(AWAY)]);
  });

  it('[Y6] where the database is lost before it has confirmed what was read there, nothing of that is kept', async () => {
    const lying = store.db.withPlugin({
      transformQuery: ({ node }) => node,
      transformResult: async ({ result }) => ({
        ...result,
        rows: result.rows.map((row) =>
          'content' in row ? { ...row, content: String(row['content']).replace('"AB"', '"XY"') } : row,
        ),
      }),
    });
    let lost = 0;
    const db = store.db.withPlugin({
      transformQuery: ({ node }) => node,
      transformResult: async ({ result }) => {
        // What is asked for of an entry by its number alone.
        const isHash = result.rows.some((row) => Object.keys(row).join() === 'hash');
        if (!isHash || lost > 0) return result;
        lost += 1;
        throw new Error('Connection terminated unexpectedly');
      },
    });
    const told: string[] = [];
    const ledgers = new LiveLedgers(db, { copy: new ReadCopy(lying, (words) => told.push(words)), patienceMs: 60_000 });
    const peopleOf = () =>
      ledgers.read(still, undefined, ({ entries }) => [...new Set(entries.map(({ entry }) => entry.by))]);
    await expect(peopleOf()).rejects.toThrow('Connection terminated');
    expect(await peopleOf()).toEqual({ ok: true, value: ['AB'] });
    expect([lost, told]).toEqual([1, [expect.stringMatching(OTHER)]]);
  });

  it('[Y6] one that takes a connection and says nothing holds a reader up for seconds, once', async () => {
    const sockets: Socket[] = [];
    const silent = createServer((socket) => sockets.push(socket)).listen(0, '127.0.0.1');
    await once(silent, 'listening');
    const silentUrl = Object.assign(new URL(url), { port: String((silent.address() as AddressInfo).port) }).href;
    try {
      await withCopy(silentUrl, async ({ ledgers, told }) => {
        const askedAtMs = performance.now();
        expect(await headlineOf(ledgers, still)).toEqual(await rightly(still));
        expect(performance.now() - askedAtMs).toBeLessThan(15_000);
        expect(told).toEqual([expect.stringMatching(AWAY)]);
      });
      expect(sockets).toHaveLength(1);
    } finally {
      for (const socket of sockets) socket.destroy();
      silent.close();
    }
  });

  it('[Y6] one that is away is left alone for a while, then asked again, and is said to be back', async () => {
    const told: string[] = [];
    let isAway = true;
    let asked = 0;
    const copy = new ReadCopy(store.db, (words) => told.push(words), 200);
    const read = () =>
      copy.read(
        async () => {
          asked += 1;
          if (isAway) throw new Error('away');
          return 'what it has';
        },
        async () => true,
      );
    expect([await read(), await read(), asked]).toEqual([undefined, undefined, 1]);
    await expect.poll(async () => [await read(), asked]).toEqual([undefined, 2]);
    expect(told).toEqual([expect.stringMatching(AWAY)]);
    isAway = false;
    await expect.poll(read).toBe('what it has');
    expect(told).toEqual([expect.stringMatching(AWAY), expect.stringMatching(/is read again/)]);
  });

  it('[Y6] what is no copy of this database is not believed', { timeout: 120_000 }, async () => {
    const [forked, changed] = [await longAircraft(), await longAircraft()];
    const brief = await issuedBrief(forked);
    await store.close();
    const otherUrl = await newDatabase('other', 'shop');
    const emptyUrl = await newDatabase('empty');
    const newUrl = await newDatabase('new');
    store = await openStore({ kind: 'postgres', url: newUrl });
    await store.close();
    const other = await openStore({ kind: 'postgres', url: otherUrl });
    store = await openStore({ kind: 'postgres', url });
    // The same up to here; then each goes its own way.
    await record(other.db, forked, 10);
    await record(store.db, forked, 10);
    // Behind the back of the database: a text in the middle, with every hash left as it was, and a brief.
    await other.db.transaction().execute(async (tx) => {
      await sql`set local role none`.execute(tx);
      await sql`alter table entry disable trigger user`.execute(tx);
      await sql`alter table brief disable trigger user`.execute(tx);
      await sql`update entry set content = replace(content, '"AB"', '"XY"') where aircraft_id = ${changed} and seq = 1000`.execute(
        tx,
      );
      await sql`update brief set content = replace(content, '"AB"', '"XY"') where brief_id = ${brief.briefId}`.execute(
        tx,
      );
    });
    const changedThere = await sql`select from entry where aircraft_id = ${changed} and content like '%"XY"%'`.execute(
      other.db,
    );
    expect(changedThere.rows).toHaveLength(1);
    await other.close();
    for (const [copyUrl, aircraftId, words] of [
      [otherUrl, forked, OTHER],
      [otherUrl, changed, OTHER],
      [newUrl, changed, OTHER],
      [emptyUrl, changed, AWAY],
    ] as const)
      await withCopy(copyUrl, async ({ ledgers, read, told }) => {
        expect(await headlineOf(ledgers, aircraftId)).toEqual(await rightly(aircraftId));
        expect(read()).toBe(aircraftId === forked ? LONG + 10 : LONG);
        expect(await headlineOf(ledgers, still)).toEqual(await rightly(still));
        expect(told).toEqual([expect.stringMatching(words)]);
      });
    await withCopy(otherUrl, async ({ db, copy, read, told }) => {
      expect(await briefWith(db, brief, copy)).toMatchObject({ fitsItsHash: true, brief: { content: CONTENT } });
      expect(read()).toBe(1);
      expect(told).toEqual([expect.stringMatching(OTHER)]);
    });
  });
});
