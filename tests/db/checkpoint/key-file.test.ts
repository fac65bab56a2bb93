/** The key of the shop (rule L10): made once, read by its owner alone, never written over. */
import { generateKeyPairSync } from 'node:crypto';
import { chmod, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fingerprintIn, keyFileIn, shopKey } from '#db/checkpoint/key-file.ts';

describe('the key of the shop', () => {
  let folder = '';
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tarebook-test-'));
  });
  afterEach(() => rm(folder, { recursive: true }));
  const file = () => keyFileIn(folder);

  it('[L10] it is made once, for its owner alone, and is the same from then on', async () => {
    expect(await fingerprintIn(file())).toBeUndefined();
    expect(await readdir(folder)).toEqual([]);
    const first = await shopKey(file());
    if (!first.ok) throw new Error(first.refusal.code);
    expect(first.value).toMatchObject({ isNew: true, fingerprint: expect.stringMatching(/^[0-9a-f]{32}$/) });
    expect((await stat(file())).mode & 0o777).toBe(0o600);
    const again = await shopKey(file());
    expect(again).toMatchObject({ ok: true, value: { isNew: false, fingerprint: first.value.fingerprint } });
    expect(await fingerprintIn(file())).toBe(first.value.fingerprint);
    expect(await readdir(folder)).toEqual(['checkpoint-key.pem']);
  });

  it('[L10] several that make it at once have one and the same, which stays', async () => {
    for (let round = 0; round < 40; round += 1) {
      const each = join(folder, `${round}.pem`);
      const later = setTimeout(round % 8).then(() => shopKey(each));
      const all = await Promise.all([...Array.from({ length: 8 }, () => shopKey(each)), later]);
      const fingerprints = all.map((one) => (one.ok ? one.value.fingerprint : one.refusal.code));
      expect(new Set([...fingerprints, await fingerprintIn(each)]).size).toBe(1);
    }
    expect((await readdir(folder)).length).toBe(40);
  });

  it('[L10] one that others can read is refused', async () => {
    await shopKey(file());
    for (const mode of [0o640, 0o604, 0o660]) {
      await chmod(file(), mode);
      expect(await shopKey(file())).toEqual({ ok: false, refusal: { code: 'key-file-open-to-others', file: file() } });
    }
  });

  it('[L10] what is no Ed25519 private key is refused and stays as it is', async () => {
    const pem = { type: 'pkcs8', format: 'pem' } as const;
    const other = generateKeyPairSync('ec', { namedCurve: 'P-256' }).privateKey.export(pem).toString();
    const half = generateKeyPairSync('ed25519').publicKey.export({ type: 'spki', format: 'pem' }).toString();
    for (const text of ['', 'nothing', other, half]) {
      await writeFile(file(), text, { mode: 0o600 });
      expect(await shopKey(file())).toEqual({ ok: false, refusal: { code: 'key-file-not-one', file: file() } });
      expect(await readFile(file(), 'utf8')).toBe(text);
    }
  });

  it('[L10] a folder that is not there, and a folder in its place, are refused with their reason', async () => {
    const nowhere = join(folder, 'none', 'key.pem');
    expect(await shopKey(nowhere)).toMatchObject({
      ok: false,
      refusal: { code: 'key-file-unreadable', why: 'ENOENT' },
    });
    expect(await shopKey(folder)).toMatchObject({ ok: false });
  });
});
