/**
 * The key of the shop that signs checkpoints, in a file that only its owner reads (PKCS #8, PEM). Made once, where there is none; never written
 * over. It is in no table, so no export and no dump of the database has it. Who has it can sign checkpoints in the shop's name, and nothing else.
 */
import { createPrivateKey, generateKeyPairSync, type KeyObject, randomUUID } from 'node:crypto';
import { link, open, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { CheckpointRefusal } from '#shared/checkpoint/refusal.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { fingerprintOf, publicKeyOf } from './signature.ts';

export type ShopKey = {
  readonly privateKey: KeyObject;
  readonly publicKey: Uint8Array;
  readonly fingerprint: string;
  /** True where it has just been made. */
  readonly isNew: boolean;
};

/** The key's file where nobody names another: in the data folder. A PostgreSQL store has none of its own. */
export function keyFileIn(folder: string): string {
  return join(folder, 'checkpoint-key.pem');
}

/** The key in this file, made where the file does not exist. Its folder must. */
export async function shopKey(file: string): Promise<Result<ShopKey, CheckpointRefusal>> {
  try {
    const kept = await readKey(file);
    if (kept !== undefined) return kept;
    await makeKey(file);
    const made = await readKey(file);
    if (made === undefined) throw new Error('a key file that was written is not there');
    return made.ok ? accept({ ...made.value, isNew: true }) : made;
  } catch (error) {
    return refuse({ code: 'key-file-unreadable', file, why: codeOf(error) });
  }
}

/** The fingerprint of the key in this file; undefined where there is none that could be read. */
export async function fingerprintIn(file: string): Promise<string | undefined> {
  const kept = await readKey(file).catch(() => undefined);
  return kept?.ok === true ? kept.value.fingerprint : undefined;
}

async function readKey(file: string): Promise<Result<ShopKey, CheckpointRefusal> | undefined> {
  let handle: Awaited<ReturnType<typeof open>>;
  try {
    handle = await open(file, 'r');
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return undefined;
    throw error;
  }
  try {
    const { mode } = await handle.stat();
    // Windows has no such bits.
    if (process.platform !== 'win32' && (mode & 0o077) !== 0) return refuse({ code: 'key-file-open-to-others', file });
    const privateKey = keyFrom(await handle.readFile('utf8'));
    if (privateKey?.asymmetricKeyType !== 'ed25519') return refuse({ code: 'key-file-not-one', file });
    const publicKey = publicKeyOf(privateKey);
    return accept({ privateKey, publicKey, fingerprint: fingerprintOf(publicKey), isNew: false });
  } finally {
    await handle.close();
  }
}

function keyFrom(pem: string): KeyObject | undefined {
  try {
    return createPrivateKey(pem);
  } catch {
    return undefined;
  }
}

/** Whole or not at all, and never over another: of two that make one at once, the first stays and both read it. */
async function makeKey(file: string): Promise<void> {
  const { privateKey } = generateKeyPairSync('ed25519');
  const draft = `${file}.${randomUUID()}`;
  const handle = await open(draft, 'wx', 0o600);
  try {
    await handle.writeFile(privateKey.export({ type: 'pkcs8', format: 'pem' }).toString());
    await handle.sync();
  } finally {
    await handle.close();
  }
  try {
    await link(draft, file);
  } catch (error) {
    if (codeOf(error) !== 'EEXIST') throw error;
  } finally {
    await rm(draft, { force: true });
  }
}

function codeOf(error: unknown): string {
  if (error instanceof Error && 'code' in error && typeof error.code === 'string') return error.code;
  throw error;
}
