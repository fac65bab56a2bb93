/** Two servers on one database behind a proxy: each is killed, or told to stop, and started again while everybody weighs. */
import { setTimeout as sleep } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { openStore } from '#db/engine/open-store.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { LiveMessage } from '#shared/contract/aircraft.ts';
import { makeDatabase, removePlace } from '#tests/support/engines.ts';
import { proxyBefore } from '#tests/support/proxy.ts';
import {
  beginAircraft,
  firstLead,
  type ServerProcess,
  sendJson,
  startServerProcess,
} from '#tests/support/server-process.ts';
import { loadOn } from './load.ts';

/** A page's line: opened again wherever it ends, and what it has heard. */
function lineOn(at: string, cookie: string): { heard: Set<number>; isOpen(): boolean; close(): void } {
  const closing = new AbortController();
  const heard = new Set<number>();
  let isOpen = false;
  const listen = async () => {
    const answer = await fetch(`${at}/api/live`, { headers: { Cookie: cookie }, signal: closing.signal });
    const decoder = new TextDecoder();
    let text = '';
    for await (const piece of answer.body ?? []) {
      const events = `${text}${decoder.decode(piece as Uint8Array, { stream: true })}`.split('\n\n');
      text = events.pop() ?? '';
      for (const event of events) {
        isOpen = !event.includes('event: leaving');
        if (event.startsWith('data: ')) heard.add(LiveMessage.parse(JSON.parse(event.slice('data: '.length))).seq);
      }
    }
  };
  void (async () => {
    while (!closing.signal.aborted) {
      await listen().catch(() => undefined);
      isOpen = false;
      await sleep(50);
    }
  })();
  return { heard, isOpen: () => isOpen, close: () => closing.abort() };
}

it('[Y5] killed and stopped in turn under load they lose nothing, repeat nothing, and every page is told', {
  timeout: 300_000,
}, async () => {
  const url = await makeDatabase();
  const start = (port: string) => startServerProcess(['--port', port], { DATABASE_URL: url });
  const first = start('0');
  const servers: ServerProcess[] = [first];
  let close: () => void = () => undefined;
  try {
    const cookie = await firstLead(first);
    servers.push(start('0'));
    const addresses = await Promise.all(servers.map((server) => server.address()));
    const [a = '', b = ''] = addresses;
    const proxy = await proxyBefore(addresses);
    close = proxy.close;
    const id = await beginAircraft(proxy.at, cookie);

    // The session holds on both, and what one records is on the line and in the answers of the other.
    const lineOfB = lineOn(b, cookie);
    const entry = { id: crypto.randomUUID(), kind: 'note', text: 'from the first' };
    while (!lineOfB.isOpen()) await sleep(20);
    expect((await sendJson(`${a}/api/aircraft/${id}/entries`, { cookie, body: entry })).status).toBe(201);
    expect((await sendJson(`${b}/api/aircraft/${id}/entries`, { cookie })).body).toMatchObject({ seq: 2 });
    while (!lineOfB.heard.has(2)) await sleep(20);
    lineOfB.close();
    // The same entry sent to the other is known for the same.
    expect((await sendJson(`${b}/api/aircraft/${id}/entries`, { cookie, body: entry })).status).toBe(200);

    const line = lineOn(proxy.at, cookie);
    const load = loadOn(`${proxy.at}/api/aircraft/${id}/entries`, { cookie, hands: 4 });
    const more = async (count: number) => {
      const upTo = load.acknowledged.size + count;
      while (load.acknowledged.size < upTo) await sleep(10);
    };
    await more(10);
    for (const [at, how] of [
      [0, 'kill'],
      [1, 'stop'],
      [1, 'kill'],
      [0, 'stop'],
    ] as const) {
      const status = await servers[at]?.[how]();
      if (how === 'stop') expect(status).toBe(0);
      // The other one carries on alone.
      await more(10);
      const again = start(new URL(addresses[at] ?? '').port);
      servers[at] = again;
      await again.address();
      while (proxy.readyCount() < 2) await sleep(20);
      await more(10);
    }
    await load.end(30_000);

    expect(load.refused).toEqual([]);
    const store = await openStore({ kind: 'postgres', url });
    const rows = await store.db.selectFrom('entry').select('id').where('aircraft_id', '=', id).execute();
    // Each that was begun was acknowledged in the end: one row each, beside the aircraft's first entry and the note.
    expect(rows.map((row) => row.id).filter((row) => load.acknowledged.has(row))).toHaveLength(load.acknowledged.size);
    expect(rows).toHaveLength(load.acknowledged.size + 2);
    expect(await verifyChain(store.db, id)).toMatchObject({ ok: true });
    await store.close();
    // The line has come back each time: it is told of what comes now.
    while (!line.isOpen()) await sleep(20);
    const last = { ...entry, id: crypto.randomUUID() };
    expect((await sendJson(`${proxy.at}/api/aircraft/${id}/entries`, { cookie, body: last })).status).toBe(201);
    const head = rows.length + 1;
    while (!line.heard.has(head)) await sleep(20);
    line.close();
    for (const at of addresses)
      expect((await sendJson(`${at}/api/aircraft/${id}/entries`, { cookie })).body).toMatchObject({ seq: head });
  } finally {
    close();
    await Promise.all(servers.map((server) => server.kill()));
    await removePlace({ kind: 'postgres', url });
  }
});
