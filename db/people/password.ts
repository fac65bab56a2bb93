/**
 * Passwords as they are kept: Argon2id (RFC 9106), with its parameters and salt beside the hash, so that they can be raised later
 * without locking anybody out.
 *
 * One hash takes 64 MiB and some 0.2 s. At most two run at once and a bounded number waits: a crowd at the door slows the
 * door, and not the ledger.
 */
import { type Argon2Parameters, argon2, randomBytes, timingSafeEqual } from 'node:crypto';

type Parameters = { readonly memoryKib: number; readonly passes: number; readonly lanes: number };

const PARAMETERS: Parameters = { memoryKib: 65_536, passes: 3, lanes: 1 };
const TAG_BYTES = 32;
const SALT_BYTES = 16;
const MOST_AT_ONCE = 2;
const MOST_WAITING = 16;

/** Thrown where too many passwords are being looked at already. */
export class TooBusy extends Error {}

let running = 0;
const waiting: (() => void)[] = [];

export async function hashPassword(password: string): Promise<string> {
  const salt = randomBytes(SALT_BYTES);
  const tag = await derive(password, salt, PARAMETERS);
  const { memoryKib, passes, lanes } = PARAMETERS;
  return `$argon2id$v=19$m=${memoryKib},t=${passes},p=${lanes}$${unpadded(salt)}$${unpadded(tag)}`;
}

/**
 * Whether `password` is the one that was kept. Without a kept hash it works as long and answers no: whoever asks cannot tell an
 * unknown name from a wrong password by the time it takes.
 */
export async function passwordFits(password: string, kept: string | undefined): Promise<boolean> {
  const read = kept === undefined ? undefined : readKept(kept);
  if (read === undefined) {
    await derive(password, Buffer.alloc(SALT_BYTES), PARAMETERS);
    return false;
  }
  return timingSafeEqual(await derive(password, read.salt, read.parameters), read.tag);
}

function readKept(kept: string) {
  const parts = /^\$argon2id\$v=19\$m=(\d+),t=(\d+),p=(\d+)\$([A-Za-z0-9+/]+)\$([A-Za-z0-9+/]+)$/.exec(kept);
  if (parts === null) throw new Error('A kept password hash cannot be read.');
  const [, memory, passes, lanes, salt = '', tag = ''] = parts;
  const parameters = { memoryKib: Number(memory), passes: Number(passes), lanes: Number(lanes) };
  return { parameters, salt: Buffer.from(salt, 'base64'), tag: Buffer.from(tag, 'base64') };
}

async function derive(password: string, salt: Buffer, { memoryKib, passes, lanes }: Parameters): Promise<Buffer> {
  await takeTurn();
  try {
    // One password, however the keyboard composed its letters.
    const message = Buffer.from(password.normalize('NFC'), 'utf8');
    const parameters = { message, nonce: salt, memory: memoryKib, passes, parallelism: lanes, tagLength: TAG_BYTES };
    return await argon2id(parameters);
  } finally {
    // The turn is handed on; only where nobody waits does it fall free.
    const next = waiting.shift();
    if (next === undefined) running -= 1;
    else next();
  }
}

function argon2id(parameters: Argon2Parameters): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    argon2('argon2id', parameters, (error, tag) => (error === null ? resolve(tag) : reject(error)));
  });
}

async function takeTurn(): Promise<void> {
  if (running < MOST_AT_ONCE) {
    running += 1;
    return;
  }
  if (waiting.length >= MOST_WAITING) throw new TooBusy('too many passwords at once');
  await new Promise<void>((resolve) => {
    waiting.push(resolve);
  });
}

function unpadded(bytes: Buffer): string {
  return bytes.toString('base64').replaceAll('=', '');
}
