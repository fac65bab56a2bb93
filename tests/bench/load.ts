/**
 * Load and growth, on both engines: weighings by 1, 8 and 32 clients, through the real server over HTTP, as that server records them
 * (`LiveLedgers`: drafted against the ledger, committed, folded, the headline), and through `appendEntries` alone, each against the bare insert of
 * the same rows by the same driver, in turns; reads of 1,000 to 100,000 parts; arrival at another client through a
 * second server; start with 200,000 entries; memory. Recording is measured again as on a slower disk. PostgreSQL is one of its own with fsync on, or the one that `TAREBOOK_BENCH_DATABASE_URL`
 * names (an empty database, as its owner). `TAREBOOK_BENCH_MOST_PARTS` makes it shorter.
 */
import { randomUUID } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { sql } from 'kysely';
import pg from 'pg';
import { openStore, type StorePlace } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { createAircraft } from '#db/ledger/create-aircraft.ts';
import { LiveLedgers } from '#db/record/live-ledgers.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import type { Entry, EntryId } from '#shared/ledger/entry.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { startServer } from '#tests/support/postgres-server.ts';
import { LoadServer } from './load-server.ts';
import { makeEntries } from './make-chain.ts';

/** A message that has not come by then is counted with this. */
const LONGEST_ARRIVAL_MS = 10_000;
const PASSWORD = 'a long enough password';
const ROUNDS = 3;
/** Of each client and round: fewer where there are more. */
const OPERATIONS: Readonly<Record<number, number>> = { 1: 60, 8: 20, 32: 8 };
/** More than any shop, and less than the server can take. */
const STEADY_PER_SECOND = 100;
const WRITERS = 8;
const SPREADS = [1, 32] as const;
/** Where a commit costs next to nothing, ratios tell of the processor alone. Disks of servers take about so long to write through; common practice, no source. */
const SLOWER_DISK_MS = 2;
/** PostgreSQL waits before it writes a commit through, whoever else is about to commit. */
const SLOWER_DISK = { commit_delay: SLOWER_DISK_MS * 1_000, commit_siblings: 0 };
/** Weighings go round them: no part is weighed more than a few dozen times. The first aircraft takes most. */
const partsOn = (aircraft: number) => (aircraft === 0 ? 100 : 10);
const WEIGHINGS = makeEntries(100, 100).slice(-100);

export async function benchLoad(): Promise<string> {
  const own = process.env['TAREBOOK_BENCH_DATABASE_URL'];
  const server = own === undefined ? await startServer([]) : { url: own, stop: async () => undefined };
  const folder = await mkdtemp(join(tmpdir(), 'tarebook-load-'));
  try {
    const place = { kind: 'postgres', url: own ?? (await newDatabase(server.url)) } as const;
    tell('Load. Against: the bare insert of the same row in a transaction of its own, by as many clients, by p50\n');
    await recordingOn(place);
    if (own === undefined) {
      tell(`The same on a disk that takes ${SLOWER_DISK_MS} ms longer for each commit\n`);
      await recordingOn({ kind: 'postgres', url: await newDatabase(server.url, SLOWER_DISK) });
    }
    await readsOn(place);
    await recordingOn({ kind: 'folder', path: join(folder, 'data') });
    return '';
  } finally {
    await server.stop();
    await rm(folder, { recursive: true, force: true });
  }
}

/** As it goes: all of it takes minutes. */
const tell = (line: string) => process.stdout.write(line);

async function newDatabase(url: string, settings: Readonly<Record<string, number>> = {}): Promise<string> {
  const name = `load_${randomUUID().replaceAll('-', '')}`;
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  await client.query(`create database ${name} template template0 encoding 'UTF8' lc_collate 'C' lc_ctype 'C'`);
  for (const [setting, value] of Object.entries(settings))
    await client.query(`alter database ${name} set ${setting} = ${value}`);
  await client.end();
  return new URL(`/${name}`, url).href;
}

/** One operation of a client on one of so many aircraft, counted from 0. */
type Operation = (aircraft: number) => Promise<unknown>;
type Way = { readonly name: string; readonly operation: Operation };

async function recordingOn(place: StorePlace): Promise<void> {
  // The embedded engine belongs to one process: the server has it after the others.
  const inProcess = place.kind === 'folder' ? await aloneOn(place) : undefined;
  if (inProcess !== undefined) await measureWays(place, inProcess.ways, inProcess.bare);
  await inProcess?.close();
  const server = await signedIn(place);
  const alone = inProcess === undefined ? await aloneOn(place) : undefined;
  try {
    const overHttp: Way = { name: 'weighing over HTTP', operation: await weighingsOver(server) };
    await measureWays(place, [...(alone?.ways ?? []), overHttp], inProcess?.bare ?? new Map());
  } finally {
    await alone?.close();
    await server.stop();
  }
}

async function measureWays(place: StorePlace, ways: readonly Way[], bare: Map<string, number>): Promise<void> {
  for (const clients of [1, 8, 32])
    for (const aircraft of SPREADS) {
      const times = new Map(ways.map((way) => [way.name, { ms: [] as number[], wallMs: 0 }]));
      for (let round = 0; round <= ROUNDS; round += 1)
        for (const { name, operation } of ways) {
          const kept = times.get(name);
          const began = performance.now();
          const took = await byClients(clients, OPERATIONS[clients] ?? 8, (client) => operation(client % aircraft));
          // The first warms up.
          if (kept === undefined || round === 0) continue;
          kept.ms.push(...took);
          kept.wallMs += performance.now() - began;
        }
      for (const [name, { ms, wallMs }] of times) {
        const key = `${clients} ${aircraft}`;
        if (name === BARE) bare.set(key, at(ms, 0.5));
        const ratio = (at(ms, 0.5) / (bare.get(key) ?? Number.NaN)).toFixed(2);
        tell(
          `${place.kind.padEnd(9)} ${name.padEnd(20)} ${String(clients).padStart(2)} clients, ${String(aircraft).padStart(2)} aircraft` +
            `${((ms.length * 1000) / wallMs).toFixed(0).padStart(7)}/s  p50 ${at(ms, 0.5).toFixed(1).padStart(7)} ms  p99 ${at(ms, 0.99).toFixed(1).padStart(7)} ms  ${ratio} x bare\n`,
        );
      }
    }
}

const BARE = 'bare insert';

/** The bare insert and the chain's append, without a server. */
async function aloneOn(place: StorePlace) {
  const store = await openStore(place);
  const ids: string[] = [];
  for (let count = 0; count < 32; count += 1) {
    const id = randomUUID();
    await createAircraft(store.db, { id, name: `Load ${id}` });
    ids.push(id);
  }
  await store.db.transaction().execute(async (tx) => {
    await sql`set local role none`.execute(tx);
    await sql`create table public.bare (like public.entry including all)`.execute(tx);
    await sql`grant all on public.bare to public`.execute(tx);
  });
  // A pool of its own, so that no client waits for another's connection.
  const pool = place.kind === 'postgres' ? new pg.Pool({ connectionString: place.url, max: 32 }) : undefined;
  let seq = 0;
  const insert = async (aircraft: number) => {
    seq += 1;
    const id = randomUUID();
    const hash = `${seq}`.padStart(64, '0');
    const row = [ids[aircraft], seq, id, 'weighing', '2026-05-01', '2026-10-01T00:00:00.000Z', 'AB', randomUUID()];
    const values = [...row, null, 4.1, hash, hash, entryText({ ...weighing(aircraft), id: id as EntryId })];
    if (pool === undefined) {
      await sql`insert into public.bare values (${sql.join(values)})`.execute(store.db);
      return;
    }
    await pool.query(
      `insert into public.bare values (${values.map((_, index) => `$${index + 1}`).join(', ')})`,
      values,
    );
  };
  const append = async (aircraft: number) => {
    const answer = await appendEntries(store.db, {
      aircraftId: ids[aircraft] ?? '',
      contents: [entryText(weighing(aircraft))],
      isUntold: true,
    });
    if (!answer.ok) throw new Error(answer.refusal.code);
  };
  const ledgers = new LiveLedgers(store.db, { tell: store.feed.tell });
  const liveIds: string[] = [];
  for (let count = 0; count < 32; count += 1) {
    const id = randomUUID();
    await createAircraft(store.db, { id, name: `Load ${id}` });
    const contents = makeEntries(partsOn(count), 0).map(entryText);
    await appendEntries(store.db, { aircraftId: id, contents });
    liveIds.push(id);
  }
  const recordLive = async (aircraft: number) => {
    const entry = weighing(aircraft);
    const answer = await ledgers.record(
      liveIds[aircraft] ?? '',
      (ledger) => {
        const objections = objectionsTo(entry, ledger, '2026-12-01');
        return objections.length === 0 ? { ok: true, entry } : { ok: false, refused: objections };
      },
      ({ ledger }) => headlineReport(ledger),
    );
    if (!answer.ok) throw new Error(JSON.stringify(answer));
  };
  return {
    ways: [
      { name: BARE, operation: insert },
      { name: 'appendEntries alone', operation: append },
      { name: 'recorded by a server', operation: recordLive },
    ],
    bare: new Map<string, number>(),
    close: async () => {
      await pool?.end();
      await store.close();
    },
  };
}

let weighed = 0;
/** A new weighing of one of the parts of an aircraft. */
function weighing(aircraft: number): Entry {
  weighed += 1;
  const of = WEIGHINGS[weighed % partsOn(aircraft)];
  if (of === undefined) throw new Error('a chain has weighings');
  return { ...of, id: randomUUID() as EntryId };
}

async function signedIn(place: StorePlace): Promise<LoadServer> {
  const server = await LoadServer.start(place);
  const who = { code: server.code, name: 'Ann Load', initials: 'AL', password: PASSWORD };
  await server.must('POST', '/api/first-run', who);
  return server;
}

async function newAircraft(server: LoadServer): Promise<string> {
  const body = { name: `Load ${randomUUID()}`, datum: 'the bow', massUnit: 'kg', lengthUnit: 'm' };
  return String((await server.must('POST', '/api/aircraft', body))['id']);
}

async function weighingsOver(server: LoadServer): Promise<Operation> {
  const ids: string[] = [];
  for (let count = 0; count < 32; count += 1) {
    const id = await newAircraft(server);
    const say = (words: object) => server.must('POST', `/api/aircraft/${id}/entries`, { id: randomUUID(), ...words });
    for (let part = 1; part <= partsOn(count); part += 1) {
      await say({ kind: 'part added', number: `W-${part}`, group: 'wing', quantity: '1', process: 'prepreg' });
      await say({ kind: 'estimate', part: `W-${part}`, estimate: '4 kg', x: '2.5 m' });
    }
    ids.push(id);
  }
  let count = 0;
  return (aircraft) => {
    count += 1;
    const part = `W-${1 + (count % partsOn(aircraft))}`;
    const weighing = { kind: 'weighing', part, gross: `4.${count % 90} kg`, condition: 'finished' };
    return server.must('POST', `/api/aircraft/${ids[aircraft]}/entries`, { id: randomUUID(), ...weighing });
  };
}

async function readsOn(place: Extract<StorePlace, { kind: 'postgres' }>): Promise<void> {
  const most = Number(process.env['TAREBOOK_BENCH_MOST_PARTS'] ?? 100_000);
  const sizes = [1_000, 10_000, 100_000].filter((parts) => parts <= most);
  const store = await openStore(place);
  const first = await LoadServer.start(place);
  tell('Reads, PostgreSQL, over HTTP. A ledger has two entries a part\n');
  let largest = '';
  try {
    await first.must('POST', '/api/sign-in', { name: 'Ann Load', password: PASSWORD });
    for (const parts of sizes) {
      const id = await newAircraft(first);
      const appended = await appendEntries(store.db, {
        aircraftId: id,
        contents: makeEntries(parts, 0).map(entryText),
      });
      if (!appended.ok) throw new Error(appended.refusal.code);
      largest = id;
      tell(await readsOf(first, id, parts));
    }
    const second = await LoadServer.start(place);
    second.cookie = first.cookie;
    tell(await arrivalAt(first, second));
    await second.stop();
    const bareMs = await bareSelectMs(place.url, largest);
    const started = await LoadServer.start(place);
    started.cookie = first.cookie;
    const headlineMs = await waited(started, `/api/aircraft/${largest}`);
    const ledgerMs = await waited(started, `/api/aircraft/${largest}/entries?limit=50`);
    tell(
      `start with ${2 * (sizes.at(-1) ?? 0)} entries: listening after ${ms(started.startMs)}, headline after ${ms(headlineMs)} more, ledger page after ${ms(headlineMs + ledgerMs)}; ` +
        `bare select of its rows ${ms(bareMs)}; resident ${started.residentMb()?.toFixed(0)} MB\n`,
    );
    await started.stop();
  } finally {
    await first.stop();
    await store.close();
  }
}

async function readsOf(server: LoadServer, id: string, parts: number): Promise<string> {
  const own = `/api/aircraft/${id}`;
  const page = `${own}/entries?limit=50`;
  const firstMs = (await waited(server, own)) + (await waited(server, page));
  // As it is once the server has been at it for a while.
  const write = await weighingsOn(server, id);
  await byClients(WRITERS, 50, () => Promise.all([write(), server.must('GET', page)]));
  const idle = await byClients(1, 100, () => server.must('GET', page));
  const headline = await byClients(1, 40, () => server.must('GET', own));
  const under = async (pauseMs: number) => {
    let isBusy = true;
    const writers = Array.from({ length: WRITERS }, async (_, writer) => {
      await sleep((writer * pauseMs) / WRITERS);
      while (isBusy) await Promise.all([write(), sleep(pauseMs)]);
    });
    const took = await byClients(1, 300, () => server.must('GET', page));
    isBusy = false;
    await Promise.all(writers);
    return `${ms(at(took, 0.99))} (${(at(took, 0.99) / at(idle, 0.5)).toFixed(1)} x the idle median)`;
  };
  const steady = await under((1_000 * WRITERS) / STEADY_PER_SECOND);
  const busy = await under(0);
  const briefId = randomUUID();
  const began = performance.now();
  await waited(server, `${own}/briefs`, { id: briefId });
  const madeMs = performance.now() - began;
  const brief = await byClients(1, 20, () => server.must('GET', `${own}/briefs/${briefId}`));
  return (
    `${String(parts).padStart(7)} parts: first read ${ms(firstMs)}; headline p50 ${ms(at(headline, 0.5))}; ledger page p50 ${ms(at(idle, 0.5))} idle, ` +
    `p99 ${steady} with ${STEADY_PER_SECOND} weighings a second, ${busy} with as many as ${WRITERS} clients can get in; brief made in ${ms(madeMs)}, read p50 ${ms(at(brief, 0.5))}\n`
  );
}

async function weighingsOn(server: LoadServer, id: string): Promise<() => Promise<unknown>> {
  let count = 0;
  return () => {
    count += 1;
    const weighing = { kind: 'weighing', part: `P-${count % 900}`, gross: '0.9 kg', condition: 'trimmed' };
    return server.must('POST', `/api/aircraft/${id}/entries`, { id: randomUUID(), ...weighing });
  };
}

/** From the reply to a weighing to its message in another client, through a second server. */
async function arrivalAt(first: LoadServer, second: LoadServer): Promise<string> {
  const id = await newAircraft(first);
  const heardAt = new Map<number, number>();
  const hangUp = await second.listen((message) => {
    for (const [, seq] of message.matchAll(/"seq":(\d+)/g))
      if (message.includes(id)) heardAt.set(Number(seq), performance.now());
  });
  const took: number[] = [];
  for (let count = 0; count < 100; count += 1) {
    const told = await first.must('POST', `/api/aircraft/${id}/entries`, {
      id: randomUUID(),
      kind: 'note',
      text: 'seen',
    });
    const repliedAt = performance.now();
    const { seq } = told['entry'] as { seq: number };
    while (!heardAt.has(seq) && performance.now() - repliedAt < LONGEST_ARRIVAL_MS) await sleep(1);
    took.push(Math.max(0, (heardAt.get(seq) ?? performance.now()) - repliedAt));
  }
  hangUp();
  return `arrival in another client through a second server: p50 ${ms(at(took, 0.5))}, p99 ${ms(at(took, 0.99))} after the reply\n`;
}

async function bareSelectMs(url: string, id: string): Promise<number> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  const began = performance.now();
  await client.query('select seq, recorded_at, content from public.entry where aircraft_id = $1 order by seq', [id]);
  const tookMs = performance.now() - began;
  await client.end();
  return tookMs;
}

/** Asks until the ledger has been read; answers how long that took. */
async function waited(server: LoadServer, path: string, body?: object): Promise<number> {
  const began = performance.now();
  for (;;) {
    const { status, text } = await server.ask(body === undefined ? 'GET' : 'POST', path, body);
    if (status < 300) return performance.now() - began;
    if (status !== 503) throw new Error(`${path}: ${status} ${text.slice(0, 300)}`);
    await sleep(20);
  }
}

/** How long each operation took, in milliseconds. */
async function byClients(
  clients: number,
  each: number,
  operation: (client: number) => Promise<unknown>,
): Promise<number[]> {
  const took: number[] = [];
  await Promise.all(
    Array.from({ length: clients }, async (_, client) => {
      for (let count = 0; count < each; count += 1) {
        const began = performance.now();
        await operation(client);
        took.push(performance.now() - began);
      }
    }),
  );
  return took;
}

/** The quantile of some times. */
function at(times: readonly number[], share: number): number {
  const sorted = [...times].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;
}

const ms = (value: number) => `${value.toFixed(1)} ms`;
