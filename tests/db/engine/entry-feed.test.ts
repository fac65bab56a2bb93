/** What a PostgreSQL feed tells after the commit (N9): gathered, the newest last, and also right before it closes. */
import { randomUUID } from 'node:crypto';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { postgresFeed } from '#db/engine/entry-feed.ts';
import { makeDatabase, removePlace } from '#tests/support/engines.ts';

const TELLINGS = 100;

let url: string;
beforeAll(async () => {
  url = await makeDatabase();
});
afterAll(() => removePlace({ kind: 'postgres', url }));

async function listening() {
  const feed = postgresFeed(url);
  const heard: string[] = [];
  let isReady = false;
  feed.subscribe((notice) => {
    if (notice === undefined) isReady = true;
    else heard.push(`${notice.aircraftId}:${notice.seq}`);
  });
  while (!isReady) await sleep(5);
  return { heard, close: feed.close };
}

it('[N9] tellings one after the other go out together, the newest of each aircraft among them, and soon', async () => {
  const { heard, close } = await listening();
  const [one, two] = [randomUUID(), randomUUID()];
  const teller = postgresFeed(url);
  try {
    for (let seq = 1; seq <= TELLINGS; seq += 1) {
      teller.tell(one, seq);
      teller.tell(two, seq + 7);
      await sleep(1);
    }
    while (!heard.includes(`${one}:${TELLINGS}`)) await sleep(5);
    while (!heard.includes(`${two}:${TELLINGS + 7}`)) await sleep(5);
    expect(heard.length).toBeLessThan(TELLINGS);
    const seqs = heard.filter((notice) => notice.startsWith(one)).map((notice) => Number(notice.split(':')[1]));
    expect(seqs).toEqual([...seqs].sort((a, b) => a - b));
    // Alone, after a rest: it does not wait for others.
    await sleep(50);
    teller.tell(one, 1_000);
    while (!heard.includes(`${one}:1000`)) await sleep(5);
  } finally {
    await teller.close();
    await close();
  }
});

it('[N9] what has just been recorded is told before the feed is closed', async () => {
  const { heard, close } = await listening();
  const id = randomUUID();
  const teller = postgresFeed(url);
  teller.tell(id, 1);
  while (!heard.includes(`${id}:1`)) await sleep(1);
  // Its telling is done, and the next would wait for others to gather.
  await sleep(4);
  teller.tell(id, 2);
  teller.tell(id, 3);
  await teller.close();
  while (!heard.includes(`${id}:3`)) await sleep(5);
  await close();
});
