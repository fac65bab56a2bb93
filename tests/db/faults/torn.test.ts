/** A data folder whose files were cut, lost or changed is opened whole or refused in words, never half (S9). */
import { cp, mkdtemp, open, readdir, rm, stat, truncate } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openStore } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { startChild } from '#tests/support/child.ts';
import { makeAircraft } from '#tests/support/engines.ts';
import { contentsOf } from '#tests/support/entry-content.ts';
import { faultChance, faultRounds } from '#tests/support/fault-rounds.ts';

const rounds = faultRounds(3);
const entries = 600;

let home = '';
/** How the folder was left: shut down in order, or as a process leaves it that is killed. */
const left = { shut: '', killed: '' };

beforeAll(async () => {
  home = await mkdtemp(join(tmpdir(), 'tarebook-torn-'));
  const path = join(home, 'data');
  left.shut = path;
  left.killed = join(home, 'killed');
  const store = await openStore({ kind: 'folder', path });
  const aircraftId = await makeAircraft(store.db);
  for (let at = 0; at < 6; at += 1) {
    const contents = contentsOf(entries / 6, { text: 'as it was weighed '.repeat(20) });
    expect(await appendEntries(store.db, { aircraftId, contents })).toMatchObject({ ok: true });
  }
  await cp(path, left.killed, { recursive: true });
  await rm(join(left.killed, 'owner.json'));
  await store.close();
}, 240_000);
afterAll(() => rm(home, { recursive: true, force: true }));

/** What is said of a copy of the folder that was damaged. */
async function openedAfter(from: string, damage: (folder: string) => Promise<unknown>): Promise<string> {
  const folder = join(home, 'torn');
  await rm(folder, { recursive: true, force: true });
  await cp(from, folder, { recursive: true });
  await damage(folder);
  const child = startChild(join(import.meta.dirname, 'open-torn.ts'), [folder]);
  const code = await child.ended;
  expect({ code, complaints: child.complaints() }).toEqual({ code: 0, complaints: '' });
  expect(child.lines).toHaveLength(1);
  return child.lines[0] ?? '';
}

const refused = /^refused folder-damaged .+ (restore|Restore)/;

describe('a torn data folder', () => {
  it('[S9] is opened whole where nothing is torn', { timeout: 240_000 }, async () => {
    for (const from of [left.shut, left.killed])
      expect(await openedAfter(from, async () => undefined)).toBe(`whole ${entries}`);
  });

  it('[S9] is refused with the way to restore where it was shut down in order and any file is not as it was', {
    timeout: 240_000,
  }, async () => {
    const chance = faultChance();
    for (let round = 0; round < 4 + rounds; round += 1) {
      let told = `${chance.seed}, round ${round}`;
      const said = await openedAfter(left.shut, async (folder) => {
        told += `, ${await tear(join(folder, 'pgdata'), chance)}`;
      });
      expect(said, told).toMatch(refused);
    }
  });

  it('[S9] is whole or refused where its process was killed', { timeout: 120_000 + rounds * 60_000 }, async () => {
    const chance = faultChance();
    for (let round = 0; round < rounds; round += 1) {
      let told = `${chance.seed}, round ${round}`;
      const said = await openedAfter(left.killed, async (folder) => {
        for (let count = 0; count <= round % 3; count += 1) told += `, ${await tear(join(folder, 'pgdata'), chance)}`;
      });
      if (said !== `whole ${entries}`) expect(said, told).toMatch(/^refused folder-damaged /);
    }
  });

  it('[S9] is refused where the log of a killed process ends before what it had acknowledged', {
    timeout: 240_000,
  }, async () => {
    const said = await openedAfter(left.killed, async (folder) => {
      // Half of what follows the start of the log's records is gone.
      const log = join(folder, 'pgdata', 'pg_wal');
      const [last = ''] = (await readdir(log))
        .filter((name) => /^[0-9A-F]{24}$/.test(name))
        .sort()
        .reverse();
      const file = await open(join(log, last), 'r+');
      const { size } = await file.stat();
      const bytes = await file.readFile();
      const end = bytes.findLastIndex((byte) => byte !== 0);
      await file.write(new Uint8Array(size - (end - 40_000)), 0, size - (end - 40_000), end - 40_000);
      await file.close();
    });
    expect(said).toMatch(new RegExp(`^refused folder-damaged .* and ${entries} had been acknowledged`));
  });

  it('[S9] is refused and not made anew where the files of the engine are gone', { timeout: 240_000 }, async () => {
    for (const from of [left.shut, left.killed])
      for (const gone of ['pgdata', 'pgdata/PG_VERSION'])
        expect(await openedAfter(from, (folder) => rm(join(folder, gone), { recursive: true }))).toMatch(refused);
  });
});

/** Cuts, takes away or changes one file that holds something; answers what was done. */
async function tear(folder: string, chance: ReturnType<typeof faultChance>): Promise<string> {
  const names = (await readdir(folder, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile() && !/^(postmaster|pg_internal)/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
  for (;;) {
    const path = names[chance.below(names.length)] ?? '';
    const { size } = await stat(path);
    if (size === 0) continue;
    const name = path.slice(folder.length + 1);
    const at = chance.below(size);
    const how = chance.below(3);
    if (how === 0) {
      await truncate(path, at);
      return `${name} cut at ${at}`;
    }
    if (how === 1) {
      await rm(path);
      return `${name} taken away`;
    }
    const file = await open(path, 'r+');
    const some = Buffer.alloc(Math.min(64, size - at));
    await file.read(some, 0, some.length, at);
    await file.write(
      some.map((byte) => byte ^ (1 + chance.below(255))),
      0,
      some.length,
      at,
    );
    await file.close();
    return `${name} changed at ${at}`;
  }
}
