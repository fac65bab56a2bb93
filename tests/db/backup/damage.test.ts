/** A file that is not as it was written is refused in words, and nothing of it is restored (rule Z3). */
import { existsSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeBackup } from '#db/backup/make-backup.ts';
import type { Manifest } from '#db/backup/manifest.ts';
import { asOwner } from '#db/backup/read-store.ts';
import { checkBackup, restoreBackup } from '#db/backup/restore-backup.ts';
import { openStore } from '#db/engine/open-store.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { chanceOf } from '#tests/support/chance.ts';
import { makeDatabase, removePlace } from '#tests/support/engines.ts';
import { contentsOf } from './contents.ts';
import { fillStore } from './fill-store.ts';
import { type Forgery, forge, membersOf, writeMembers } from './forge.ts';

let folder = '';
let file = '';
let bytes = Buffer.alloc(0);
const place = { kind: 'postgres', url: '' } as const;
const target = { kind: 'postgres' as const, url: '' };

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tarebook-damage-'));
  file = join(folder, 'backup.tar');
  const from = { ...place, url: await makeDatabase() };
  const store = await openStore(from);
  await store.db.transaction().execute(async (tx) => {
    await asOwner(tx);
    await fillStore(tx);
  });
  await makeBackup(store.db, file, new Date());
  await store.close();
  await removePlace(from);
  bytes = readFileSync(file);
  target.url = await makeDatabase();
});
afterAll(async () => {
  await removePlace(target);
  await rm(folder, { recursive: true, force: true });
});

/** The code that a file is refused with, and why in words; undefined where it is taken. */
function refusedWith(path: string): { code: string; words: string } | undefined {
  try {
    checkBackup(path);
    return undefined;
  } catch (error) {
    if (!(error instanceof StoreRefusal)) throw error;
    expect(error.remedy).not.toBe('');
    return { code: error.code, words: error.words };
  }
}

function changed(change: (copy: Buffer) => Buffer): string {
  const path = join(folder, 'changed.tar');
  writeFileSync(path, change(Buffer.from(bytes)));
  return path;
}

describe('a damaged backup', () => {
  it('[Z3] as it was written it is taken', () => {
    expect(refusedWith(changed((copy) => copy))).toBeUndefined();
  });

  it('[Z3] cut off anywhere it is refused', () => {
    const { uniform } = chanceOf(7);
    const ends = [0, 1, 511, 512, bytes.length - 1, bytes.length - 512, bytes.length - 1024, bytes.length - 1025];
    for (const end of [...ends, ...Array.from({ length: 60 }, () => Math.floor(uniform() * bytes.length))])
      expect({ end, ...refusedWith(changed((copy) => copy.subarray(0, end))) }).toMatchObject({
        end,
        code: 'backup-damaged',
        words: expect.stringContaining('it is cut off'),
      });
  });

  it('[Z3] with any byte changed it is refused', () => {
    const { uniform } = chanceOf(11);
    // Every byte of the first header and of the end, and others at random.
    const places = [
      ...Array.from({ length: 512 }, (_, at) => at),
      ...Array.from({ length: 1100 }, (_, at) => bytes.length - 1 - at),
      ...Array.from({ length: 400 }, () => Math.floor(uniform() * bytes.length)),
    ];
    const taken = places.filter((at, index) => {
      const path = changed((copy) => {
        copy[at] = (copy[at] ?? 0) ^ (1 << (index % 8));
        return copy;
      });
      return refusedWith(path)?.code !== 'backup-damaged';
    });
    expect(taken).toEqual([]);
  });

  it('[Z3] with something behind its end, a member too many, one missing or two exchanged it is refused', () => {
    expect(refusedWith(changed((copy) => Buffer.concat([copy, Buffer.from('x')])))?.words).toContain('behind its end');
    const members = membersOf(file);
    const path = join(folder, 'members.tar');
    const [about, first, second, ...rest] = members;
    if (about === undefined || first === undefined || second === undefined) throw new Error('too few members');
    for (const list of [
      [about, second, ...rest],
      [about, second, first, ...rest],
      [about, first, first, second, ...rest],
      [about, { name: 'rows/entry/../../x.jsonl.gz', bytes: first.bytes }, first, second, ...rest],
      [...members, about],
    ]) {
      writeMembers(path, list);
      expect(refusedWith(path)?.code).toBe('backup-damaged');
    }
  });

  it.each([
    ['nothing', Buffer.alloc(0)],
    ['a text', Buffer.from('part,estimate\n'.repeat(100))],
    ['zeros', Buffer.alloc(4096)],
    ['a picture', Buffer.from('\x89PNG\r\n\x1a\n'.padEnd(600, 'x'), 'latin1')],
  ])('[Z3] %s is refused', (_, content) => {
    const path = changed(() => content);
    expect(refusedWith(path)?.code).toBe('backup-damaged');
  });

  it('[Z3] what is not there, and a folder, cannot be read', () => {
    expect(refusedWith(join(folder, 'none.tar'))?.code).toBe('backup-unreadable');
    expect(refusedWith(folder)?.code).toBe('backup-unreadable');
  });
});

const massOf = (row: Record<string, unknown>) => ({
  ...row,
  content: String(row['content']).replace(/"netKg":[0-9.]+/, '"netKg":0.001'),
});

describe('a forged backup', () => {
  const FORGERIES: readonly (readonly [string, string, Forgery])[] = [
    ['a mass in an entry', 'does not fit at entry', { row: (table, row) => (table === 'entry' ? massOf(row) : row) }],
    [
      'an entry taken out',
      'does not fit at entry 3',
      { row: (table, row) => (table === 'entry' && row['seq'] === 3 ? undefined : row) },
    ],
    [
      'the last entry taken out',
      'does not fit at entry',
      { row: (table, row) => (table === 'entry' && row['kind'] === 'loading' ? undefined : row) },
    ],
    [
      'another head',
      'does not fit at entry',
      { row: (table, row) => (table === 'aircraft' ? { ...row, head_hash: '0'.repeat(64) } : row) },
    ],
    [
      'another headline',
      'headline',
      {
        manifest: ({ aircraft }) => {
          for (const { headline } of aircraft) if (headline !== null) headline.predictedKg += 1;
        },
      },
    ],
    [
      'an aircraft left off its list',
      'its ledgers are not those that it lists',
      { manifest: ({ aircraft }) => void aircraft.pop() },
    ],
    [
      'a row more on its list',
      'its rows are not those that it lists',
      {
        manifest: ({ tables }) => {
          for (const table of tables) if (table.name === 'person') table.rows += 1;
        },
      },
    ],
  ];

  it.each(FORGERIES)('[Z3] %s is found', (_, words, forgery) => {
    const path = join(folder, 'forged.tar');
    forge(file, path, forgery);
    expect(refusedWith(path)).toMatchObject({ code: 'backup-damaged', words: expect.stringContaining(words) });
  });

  it('[Z3] taken apart and put together unchanged it is taken', () => {
    const path = join(folder, 'same.tar');
    forge(file, path, {});
    expect(refusedWith(path)).toBeUndefined();
  });

  it.each([
    ['a later form', (manifest: Manifest) => Object.assign(manifest, { format: 2 }), 'form 2'],
    ['a later schema', (manifest: Manifest) => void manifest.schema.push('9999-later'), 'schema step 9999-later'],
  ])('[Z4] one of %s is refused with a word of its version', async (_, change, words) => {
    const path = join(folder, 'newer.tar');
    forge(file, path, { manifest: change });
    expect(refusedWith(path)).toMatchObject({ code: 'backup-newer', words: expect.stringContaining(words) });
    const newPlace = { kind: 'folder', path: join(folder, 'never-made') } as const;
    await expect(restoreBackup(newPlace, path)).rejects.toMatchObject({ code: 'backup-newer' });
    expect(existsSync(newPlace.path)).toBe(false);
  });

  it('[Z2] what only the database can see undoes all of it, and the store takes the right file afterwards', async () => {
    const path = join(folder, 'beside.tar');
    // A derived column that says another mass than its entry: every hash fits.
    forge(file, path, {
      row: (table, row) => (table === 'entry' && row['mass_kg'] !== null ? { ...row, mass_kg: 0.5 } : row),
    });
    expect(refusedWith(path)).toBeUndefined();
    await expect(restoreBackup(target, path)).rejects.toMatchObject({
      code: 'backup-damaged',
      message: expect.stringContaining('another mass_kg'),
    });
    // A row that its table refuses: the database's own word, and everything is undone as well.
    forge(file, path, { row: (table, row) => (table === 'person' ? { ...row, role: 'owner' } : row) });
    await expect(restoreBackup(target, path)).rejects.toMatchObject({ code: 'backup-damaged' });
    // A field too many would be lost in silence.
    forge(file, path, { row: (table, row) => (table === 'person' ? { ...row, extra: 1 } : row) });
    await expect(restoreBackup(target, path)).rejects.toMatchObject({ code: 'backup-damaged' });
    const empty = await openStore(target);
    for (const [, rows] of await contentsOf(empty.db)) expect(rows).toEqual([]);
    await empty.close();
    expect((await restoreBackup(target, file)).manifest.aircraft).toHaveLength(2);
  });

  it('[Z2] a store that a later version has opened is not one for a backup of an earlier schema', async () => {
    const older = join(import.meta.dirname, '../migration/fixtures/0003-proposals.tar');
    const url = await makeDatabase();
    try {
      await (await openStore({ kind: 'postgres', url })).close();
      const refused = restoreBackup({ kind: 'postgres', url }, older);
      await expect(refused).rejects.toMatchObject({ code: 'store-moved-on' });
    } finally {
      await removePlace({ kind: 'postgres', url });
    }
  });

  it('[Z3] a file that is cut while it is restored undoes all of it', async () => {
    const url = await makeDatabase();
    try {
      const path = changed((copy) => copy);
      const restoring = restoreBackup({ kind: 'postgres', url }, path);
      // It was read once by now, and the store is being opened.
      truncateSync(path, Math.floor(bytes.length / 2));
      await expect(restoring).rejects.toMatchObject({ code: 'backup-damaged' });
      rmSync(path);
      const store = await openStore({ kind: 'postgres', url });
      expect(await store.db.selectFrom('aircraft').selectAll().execute()).toEqual([]);
      await store.close();
    } finally {
      await removePlace({ kind: 'postgres', url });
    }
  });
});
