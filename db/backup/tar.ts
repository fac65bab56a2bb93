/**
 * The container of a backup: a plain tar (POSIX.1-1988 "ustar"), which every tar program opens. Only what is needed of it: files with short
 * names, one after the other. Read strictly: a header is taken only where it is, byte by byte, the one that would be written, so that no
 * changed byte of a file can go unseen.
 */
import { readSync } from 'node:fs';
import { say } from '#shared/words/say.ts';

const BLOCK = 512;
/** No member is larger, so that a file that lies about a size cannot make its reader take all memory. */
export const MOST_MEMBER_BYTES = 64 * 1_048_576;
/** Two blocks of zeros end a tar. */
export const TAR_END = new Uint8Array(2 * BLOCK);

export type TarHeader = { readonly name: string; readonly bytes: number; readonly atS: number };

/** What stands before the bytes of a member. `name`: up to 100 letters of ASCII. */
export function tarHeader({ name, bytes, atS }: TarHeader): Uint8Array {
  const block = Buffer.alloc(BLOCK);
  const octal = (value: number, at: number, digits: number) =>
    block.write(`${value.toString(8).padStart(digits, '0')}\0`, at, 'latin1');
  block.write(name, 0, 100, 'latin1');
  octal(0o600, 100, 7);
  octal(0, 108, 7);
  octal(0, 116, 7);
  octal(bytes, 124, 11);
  octal(atS, 136, 11);
  block.write('        0', 148, 'latin1');
  block.write('ustar\u000000', 257, 'latin1');
  const sum = block.reduce((all, byte) => all + byte, 0);
  block.write(`${sum.toString(8).padStart(6, '0')}\0 `, 148, 'latin1');
  return block;
}

/** How many zeros follow the bytes of a member. */
export function tarPadding(bytes: number): number {
  return (BLOCK - (bytes % BLOCK)) % BLOCK;
}

/** What is no tar of ours; the message says why, as the end of a sentence. */
export class TarFault extends Error {}

/** Yields the members of the open file `fd` in their order, from its beginning, and makes sure that it ends where the tar does. */
export function* readTar(fd: number): Generator<{ readonly name: string; readonly bytes: Uint8Array }, void, void> {
  let at = 0;
  const take = (count: number): Buffer => {
    const taken = Buffer.alloc(count);
    let filled = 0;
    while (filled < count) {
      const got = readSync(fd, taken, filled, count - filled, at + filled);
      if (got === 0) throw new TarFault(say`it is cut off`);
      filled += got;
    }
    at += count;
    return taken;
  };
  for (;;) {
    const block = take(BLOCK);
    if (block.every((byte) => byte === 0)) break;
    const header = readHeader(block);
    const bytes = take(header.bytes);
    if (take(tarPadding(header.bytes)).some((byte) => byte !== 0)) throw new TarFault(say`it was changed`);
    yield { name: header.name, bytes };
  }
  if (take(BLOCK).some((byte) => byte !== 0)) throw new TarFault(say`it was changed`);
  if (readSync(fd, Buffer.alloc(1), 0, 1, at) > 0) throw new TarFault(say`something stands behind its end`);
}

function readHeader(block: Buffer): TarHeader {
  const text = (from: number, to: number) => block.toString('latin1', from, to).split('\0')[0] ?? '';
  const header = { name: text(0, 100), bytes: parseInt(text(124, 136), 8), atS: parseInt(text(136, 148), 8) };
  if (text(257, 262) !== 'ustar') throw new TarFault(say`it is no backup, or was changed`);
  if (!(header.bytes >= 0 && header.bytes <= MOST_MEMBER_BYTES && header.atS >= 0))
    throw new TarFault(say`it was changed`);
  if (!block.equals(tarHeader(header))) throw new TarFault(say`it was changed`);
  return header;
}
