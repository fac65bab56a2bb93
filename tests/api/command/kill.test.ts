/**
 * A process killed at any moment of importing (S6). Each round has an aircraft of its own and imports small lists and a large one,
 * about 3,000 rows in all; it is killed while one of them is under way, at a moment that a seeded generator chooses: in every other round
 * between two batches of the large one, of which the database has taken the one and not yet the other.
 */
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { startChild } from '#tests/support/child.ts';
import { nobodyLeft } from '#tests/support/engines.ts';
import { faultRounds } from '#tests/support/fault-rounds.ts';
import { AircraftList, Verified } from './report-shape.ts';
import { jsonOf } from './run.ts';
import { describeInShops, given, lines, type Shop } from './shop.ts';

const ROUNDS = faultRounds(4);
const SEED = 20_260_615;
/** Parts in each list; each is weighed in the same import, so that there are two rows and three entries for a part. */
const LISTS: ReadonlyMap<string, number> = new Map([
  ['small-0', 60],
  ['small-1', 60],
  ['large', 1_200],
  ['small-2', 60],
  ['small-3', 60],
  ['small-4', 60],
]);
const ORDER = [...LISTS.keys()];
/** The large list comes first: its import then makes the aircraft as well, which must go with it. */
const LARGE_FIRST = ['large', ...ORDER.filter((list) => list !== 'large')];
/** How long the import of a small list takes about; the kill falls somewhere within, or shortly after. */
const SPAN_MS = 250;
/** The large list goes in fifteen batches; after so many of them there are always some to come. */
const MOST_BATCHES = 12;

/** Numbers from 0 to 1, the same for the same seed (mulberry32). */
function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

async function writeLists(shop: Shop): Promise<string> {
  let folder = '';
  for (const [list, count] of LISTS) {
    const numbers = Array.from({ length: count }, (_, at) => `${list}/${at}`);
    const parts = numbers.map((number) => `${number},wing,1.5,2`);
    const weighings = numbers.map((number) => `${number},2026-06-01,1.75,finished`);
    const path = await shop.file(`${list}.parts.csv`, lines('number,group,estimate [kg],x [m]', ...parts));
    await shop.file(`${list}.weighings.csv`, lines('part,date,gross [kg],condition', ...weighings));
    folder = join(path, '..');
  }
  return folder;
}

/** Kills a child that imports, while the list chosen is under way; answers what it had said. */
async function killedRun(
  shop: Shop,
  run: { aircraft: string; files: string; order: string[]; during: string; moment: number },
) {
  const place = shop.place();
  const where = [place.kind === 'postgres' ? place.url : '', place.kind === 'folder' ? place.path : ''];
  const child = startChild(join(import.meta.dirname, 'import-loop.ts'), [
    ...where,
    run.aircraft,
    run.files,
    ...run.order,
  ]);
  const times = (line: string, of: readonly string[]) => of.filter((said) => said === line).length;
  if (run.during === 'large') await child.until((said) => times('part large', said) > run.moment * MOST_BATCHES);
  else {
    await child.until((said) => times(`try ${run.during}`, said) > 0);
    await sleep(run.moment * SPAN_MS);
  }
  await child.kill();
  await nobodyLeft(place);
  const of = (verb: string) => child.lines.flatMap((line) => (line.startsWith(`${verb} `) ? [line.slice(5)] : []));
  return { tried: child.lines.flatMap((line) => (line.startsWith('try ') ? [line.slice(4)] : [])), done: of('done') };
}

/** Which lists are wholly there; throws where one is there in part, or anything twice. */
async function wholeLists(shop: Shop, aircraft: string): Promise<string[]> {
  const { aircraft: all } = jsonOf(await shop.run(['aircraft', '--json']), AircraftList);
  if (!all.some(({ name }) => name === aircraft)) return [];
  const verified = jsonOf(await shop.run(['verify', '--aircraft', aircraft, '--json']), Verified);
  expect(verified).toMatchObject({ ok: true });
  const parts = given((await shop.report(['show', 'parts', '--aircraft', aircraft])).parts);
  const whole: string[] = [];
  for (const [list, count] of LISTS) {
    const there = parts.filter(({ number }) => number.startsWith(`${list}/`));
    const weighed = there.filter((part) => part.weighed.length === 1);
    expect([0, count], `parts of ${list} in ${aircraft}`).toContain(there.length);
    expect(weighed.length, `weighings of ${list} in ${aircraft}`).toBe(there.length);
    if (there.length > 0) whole.push(list);
  }
  // The aircraft itself, and for each part that it was added, estimated and weighed: nothing twice.
  const entryCount = 1 + whole.reduce((sum, list) => sum + 3 * (LISTS.get(list) ?? 0), 0);
  expect(verified).toMatchObject({ entryCount });
  return whole;
}

describeInShops('imports that are killed', (shop) => {
  it(`[S6] ${ROUNDS} kills lose nothing acknowledged, leave no import half done, and an import again completes it`, {
    timeout: 300_000 + ROUNDS * 120_000,
  }, async () => {
    // The store is made first: a kill while it is being made is another test.
    await shop.run(['import', '--aircraft', 'First']);
    const files = await writeLists(shop);
    const next = generator(SEED);
    let cutShort = 0;
    for (let round = 0; round < ROUNDS; round += 1) {
      const aircraft = `Round ${round}`;
      const order = round % 4 === 0 ? LARGE_FIRST : ORDER;
      const during = round % 2 === 0 ? 'large' : given(ORDER[Math.floor(next() * ORDER.length)]);
      const moment = next();
      const { tried, done } = await killedRun(shop, { aircraft, files, order, during, moment });
      const there = await wholeLists(shop, aircraft);
      const told = `seed ${SEED}, ${aircraft}, at ${moment.toFixed(3)} of ${during}`;
      expect(there, told).toEqual(expect.arrayContaining(done));
      expect(tried, told).toEqual(expect.arrayContaining(there));
      const last = given(tried.at(-1));
      if (!there.includes(last)) cutShort += 1;

      // What was under way and the last that was acknowledged, once more.
      for (const list of new Set([last, done.at(-1) ?? last])) {
        const rows = ['--parts', join(files, `${list}.parts.csv`), '--weighings', join(files, `${list}.weighings.csv`)];
        const { imported } = await shop.report(['import', '--aircraft', aircraft, ...rows, '--show', 'headline']);
        const isNew = list === last && !there.includes(list);
        const count = given(LISTS.get(list));
        expect(imported?.recorded, told).toBe(isNew ? 3 * count + (there.length === 0 ? 1 : 0) : 0);
      }
      const after = await wholeLists(shop, aircraft);
      expect(new Set(after), told).toEqual(new Set([...there, last]));
    }
    // The kills must have fallen into imports, or this shows nothing.
    expect(cutShort).toBeGreaterThanOrEqual(ROUNDS / 2);
  });
});
