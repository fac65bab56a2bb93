/** `checkpoint` and `verify --against`, on both engines: the page for the paper file, and what it finds later (rules L5, L9, L10). */
import { chmod, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { sql } from 'kysely';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openStore } from '#db/engine/open-store.ts';
import { placesOf, run, type Said } from './run.ts';
import { describeInShops, lines, type Shop } from './shop.ts';

const PARTS = lines(
  'number,name,group,estimate [kg],x [m],date',
  'A,Rib,wing,1,1,2026-05-01',
  'B,Spar,wing,2,2,2026-05-01',
);
const MORE = lines('part,date,gross [kg],condition', 'A,2026-05-03,1.1,finished');

describeInShops('checkpoints by command', (shop) => {
  let folder = '';
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tarebook-test-'));
  });
  afterAll(() => rm(folder, { recursive: true }));

  /** A data folder has the key in itself; PostgreSQL is told where. */
  const keyFile = () => {
    const place = shop.place();
    return place.kind === 'folder' ? join(place.path, 'checkpoint-key.pem') : join(folder, 'key.pem');
  };
  const withKey = () => (shop.kind === 'folder' ? {} : { env: { TAREBOOK_CHECKPOINT_KEY: keyFile() } });

  async function begin(aircraft: string): Promise<void> {
    await shop.report(['import', '--aircraft', aircraft, '--parts', await shop.file('parts.csv', PARTS)]);
  }
  async function page(aircraft: string, name = aircraft): Promise<{ file: string; said: Said; fingerprint: string }> {
    const file = join(folder, `${name}.txt`);
    const said = await runWithKey(['checkpoint', '--aircraft', aircraft, '--out', file, '--by', 'JM']);
    expect(said).toMatchObject({ exit: 0, err: '' });
    const fingerprint = /^fingerprint: +([0-9a-f ]+\S) +\[/m.exec(await readFile(file, 'utf8'))?.[1] ?? '';
    return { file, said, fingerprint };
  }
  const runWithKey = (words: readonly string[]) =>
    shop.kind === 'folder' ? shop.run(words) : run(words, { env: { ...envOf(shop), ...withKey().env } });

  it('[L10] the first one makes the key, says so and where it is, and the next ones are signed with it', async () => {
    await begin('First');
    const first = await page('First');
    expect(first.said.out).toContain(`A key of the shop was made, in ${keyFile()}.`);
    expect((await stat(keyFile())).mode & 0o777).toBe(0o600);
    expect(first.said.out).toContain(`First: the checkpoint of entry 5 is in ${first.file}, signed with the key`);
    expect(first.said.out).toContain(first.fingerprint);
    const next = await page('First', 'next');
    expect(next.said.out).not.toContain('was made');
    expect(next.fingerprint).toBe(first.fingerprint);
  });

  it('[L9] verify holds the ledger against it, now and after it has grown, also without being told the aircraft', async () => {
    await begin('Grown');
    const { file, fingerprint } = await page('Grown');
    const now = await runWithKey(['verify', '--against', file]);
    expect(now).toMatchObject({ exit: 0, err: '' });
    expect(now.out).toContain('Grown: 5 entries, the chain is whole.');
    expect(now.out).toContain('Up to there it is the ledger of the checkpoint of entry 5, made');
    expect(now.out).toContain('No entry came after it.');
    expect(now.out).toContain('which is the one kept here.');
    await shop.report(['import', '--aircraft', 'Grown', '--weighings', await shop.file('more.csv', MORE)]);
    const later = await shop.run(['verify', '--against', file, '--key', fingerprint.toUpperCase(), '--json']);
    expect(JSON.parse(later.out)).toMatchObject({
      ...{ aircraft: 'Grown', ok: true, entryCount: 6 },
      checkpoint: { aircraft: 'Grown', entry: 5, by: 'JM', isKeyKnown: true, holds: true },
    });
    expect((await shop.run(['verify', '--against', file, '--key', fingerprint])).out).toContain(
      '1 entry came after it.',
    );
  });

  it('[L10] on another machine, without store and key, the page and the fingerprint from paper are enough', async () => {
    await begin('Elsewhere');
    const { file, fingerprint } = await page('Elsewhere');
    const alone = ['verify', '--against', file, '--page-only', '--data', join(folder, 'nothing')];
    const said = await run([...alone, '--key', fingerprint]);
    expect(said).toMatchObject({ exit: 0, err: '' });
    expect(said.out).toContain('Elsewhere: the page is as it was signed: entry 5, recorded ');
    expect(said.out).toContain('as was asked for.');
    expect(said.out).toContain('No ledger was held against it.');
    expect((await run(alone)).out).toContain('Nothing here says whose that is');
    const other = fingerprint.replace(/^./, (digit) => (digit === '0' ? '1' : '0'));
    expect(placesOf(await run([...alone, '--key', other, '--json']))).toEqual([
      'Elsewhere.txt:0:0 checkpoint-other-key',
    ]);
    expect(placesOf(await run([...alone, '--key', 'f00', '--json']))).toEqual(['#--key fingerprint-unreadable']);
  });

  it('[L9] a cut tail is found though the chain is whole, with the aircraft, the entry and what to do', async () => {
    await begin('Cut');
    const { file } = await page('Cut');
    await behindTheApp(shop, 'Cut', [
      sql`delete from entry e using aircraft a where a.id = e.aircraft_id and a.name = 'Cut' and e.seq > 3`,
      sql`update aircraft a set head_seq = 3, head_hash = e.hash from entry e where a.name = 'Cut' and e.aircraft_id = a.id and e.seq = 3`,
    ]);
    expect((await shop.run(['verify', '--aircraft', 'Cut'])).exit).toBe(0);
    const said = await runWithKey(['verify', '--against', file]);
    expect(said.exit).toBe(2);
    expect(said.out).toContain('Cut: the ledger is not that of the checkpoint of entry 5, made');
    expect(said.out).toContain('the ledger ends with entry 3: what came after it was cut off.');
    expect(said.out).toContain('Keep a copy of the whole store as it is now');
    const json = JSON.parse((await runWithKey(['verify', '--against', file, '--json'])).out);
    expect(json).toMatchObject({
      aircraft: 'Cut',
      ok: false,
      seq: 4,
      fault: 'cut',
      checkpoint: { entry: 5, holds: false },
    });
    expect(json.remedy).toContain('restore the last backup that verifies');
  });

  it('[L5] a changed entry is named with its aircraft and what to do, and the checkpoint vouches for what came before', async () => {
    await begin('Changed');
    const { file } = await page('Changed');
    await shop.report(['import', '--aircraft', 'Changed', '--weighings', await shop.file('more.csv', MORE)]);
    await behindTheApp(shop, 'Changed', [
      sql`update entry e set content = replace(e.content, '1.1', '1.0') from aircraft a where a.id = e.aircraft_id and a.name = 'Changed' and e.seq = 6`,
    ]);
    const said = await runWithKey(['verify', '--against', file]);
    expect(said.exit).toBe(2);
    expect(said.out).toMatch(/^Changed: the chain does not fit at entry 6\. Entry 6 has another hash/);
    expect(said.out).toContain('Up to there it is the ledger of the checkpoint of entry 5');
    expect(said.out).toContain('Keep a copy of the whole store as it is now');
  });

  it('[L10] a slip, a forged page, another shop, another aircraft and one that is not here are refused in words', async () => {
    await begin('Own');
    await begin('Other');
    const { file } = await page('Own');
    const refusal = async (words: readonly string[]) => placesOf(await runWithKey([...words, '--json']));
    const text = await readFile(file, 'utf8');
    const line = text.split('\n').findIndex((one) => one.startsWith('by:')) + 1;
    const slip = await shop.file('slip.txt', text.replace(/^by: +JM/m, 'by: JN'));
    expect(await refusal(['verify', '--against', slip])).toEqual([`slip.txt:${line}:0 checkpoint-line`]);
    const said = await runWithKey(['verify', '--against', slip]);
    expect(said.err).toContain(`slip.txt, line ${line}: The line “by” does not fit the four characters in brackets`);
    expect(await refusal(['verify', '--against', await shop.file('n.txt', 'nothing')])).toEqual([
      'n.txt:0:0 checkpoint-not-one',
    ]);
    // A line of another page of the shop, checks and all.
    const other = await readFile((await page('Other')).file, 'utf8');
    const lineOf = (from: string, label: string) => new RegExp(`^${label}:.*$`, 'm').exec(from)?.[0] ?? '';
    const forged = await shop.file('forged.txt', text.replace(lineOf(text, 'hash 1'), lineOf(other, 'hash 1')));
    expect(await refusal(['verify', '--against', forged])).toEqual(['forged.txt:0:0 checkpoint-forged']);
    expect(await refusal(['verify', '--against', file, '--aircraft', 'Other'])).toEqual([
      ':0:0 checkpoint-other-aircraft',
    ]);
    const anotherKey = ['--checkpoint-key', join(folder, 'another.pem')];
    const theirs = join(folder, 'theirs.txt');
    await shop.run(['checkpoint', '--aircraft', 'Own', '--out', theirs, ...anotherKey]);
    expect(await refusal(['verify', '--against', theirs])).toEqual(['theirs.txt:0:0 checkpoint-other-key']);
    const away = await run(['verify', '--against', file, '--memory', '--json']);
    expect(placesOf(away)).toEqual([':0:0 checkpoint-aircraft-missing']);
    expect(await refusal(['verify', '--page-only'])).toEqual(['#--against missing']);
  });

  it('[L10] nothing is written over, and a key that is open to others or is none signs nothing', async () => {
    await begin('Kept');
    const { file } = await page('Kept');
    const before = await readFile(file, 'utf8');
    const words = ['checkpoint', '--aircraft', 'Kept', '--json', '--out'];
    expect(placesOf(await runWithKey([...words, file]))).toEqual(['#--out file-taken']);
    expect(await readFile(file, 'utf8')).toBe(before);
    const target = join(folder, 'not-made.txt');
    await writeFile(join(folder, 'none.pem'), 'nothing', { mode: 0o600 });
    expect(placesOf(await shop.run([...words, target, '--checkpoint-key', join(folder, 'none.pem')]))).toEqual([
      ':0:0 key-file-not-one',
    ]);
    await chmod(join(folder, 'none.pem'), 0o644);
    expect(placesOf(await shop.run([...words, target, '--checkpoint-key', join(folder, 'none.pem')]))).toEqual([
      ':0:0 key-file-open-to-others',
    ]);
    if (shop.kind === 'postgres')
      expect(placesOf(await shop.run([...words, target]))).toEqual([':0:0 key-file-needed']);
    await expect(stat(target)).rejects.toThrow('ENOENT');
    const nowhere = join(folder, 'none', 'page.txt');
    expect(placesOf(await runWithKey([...words, nowhere]))).toEqual(['#--out file-not-written']);
  });
});

describeInShops('what is carried away', (shop) => {
  it('[L10] neither an export nor a backup has the key in it', async () => {
    await shop.report(['import', '--aircraft', 'Carried', '--parts', await shop.file('parts.csv', PARTS)]);
    const folder = await mkdtemp(join(tmpdir(), 'tarebook-test-'));
    const place = shop.place();
    const [named, keyFile] =
      place.kind === 'folder'
        ? [[], join(place.path, 'checkpoint-key.pem')]
        : [['--checkpoint-key', join(folder, 'key.pem')], join(folder, 'key.pem')];
    expect(await shop.run(['checkpoint', '--out', join(folder, 'page.txt'), ...named])).toMatchObject({ exit: 0 });
    const secret = (await readFile(keyFile, 'utf8')).split('\n')[1] ?? '';
    expect(secret).toMatch(/^[A-Za-z0-9+/=]{60,}$/);
    const [carried, backup] = [join(folder, 'carried'), join(folder, 'backup.tar')];
    expect(await shop.run(['export', '--aircraft', 'Carried', '--to', carried])).toMatchObject({ exit: 0 });
    expect(await shop.run(['backup', '--to', backup])).toMatchObject({ exit: 0, err: '' });
    const names = await readdir(carried);
    expect(names).toContain('manifest.json');
    for (const file of [backup, ...names.map((name) => join(carried, name))]) {
      const { isFile } = await stat(file).then((found) => ({ isFile: found.isFile() }));
      if (isFile) expect(unpacked(await readFile(file))).not.toContain(secret);
    }
    expect(unpacked(await readFile(backup))).toContain('Carried');
    await rm(folder, { recursive: true });
  });
});

/** Packed or not, as text. */
function unpacked(bytes: Buffer): string {
  return (bytes[0] === 0x1f && bytes[1] === 0x8b ? gunzipSync(bytes) : bytes).toString('latin1');
}

function envOf(shop: Shop): Record<string, string> {
  const place = shop.place();
  return place.kind === 'postgres' ? { DATABASE_URL: place.url } : {};
}

/** With the owner's rights and the guards off, while no command has the store. */
async function behindTheApp(
  shop: Shop,
  aircraft: string,
  statements: readonly { execute: (tx: never) => Promise<{ numAffectedRows?: bigint }> }[],
) {
  const store = await openStore(shop.place());
  try {
    await store.db.transaction().execute(async (tx) => {
      await sql`set local role none`.execute(tx);
      const guards = ['entry_kept on entry', 'aircraft_guarded on aircraft'].map((one) => one.split(' on '));
      for (const [trigger = '', table = ''] of guards)
        await sql`alter table ${sql.ref(table)} disable trigger ${sql.ref(trigger)}`.execute(tx);
      for (const statement of statements) {
        const { numAffectedRows } = await statement.execute(tx as never);
        if ((numAffectedRows ?? 0n) === 0n) throw new Error(`nothing of ${aircraft} was changed`);
      }
      for (const [trigger = '', table = ''] of guards)
        await sql`alter table ${sql.ref(table)} enable always trigger ${sql.ref(trigger)}`.execute(tx);
    });
  } finally {
    await store.close();
  }
}
