/**
 * The code with which the first account is made: shown at the server, so that only who can read its window becomes the first lead. Only
 * its hash is kept, in memory; after five wrong tries there is a new one.
 */
import { createHash, randomInt, timingSafeEqual } from 'node:crypto';
import { say } from '#shared/words/say.ts';

/** Without letters and digits that are taken for each other. */
const ALPHABET = 'ABCDEFGHJKMNPQRSTVWXYZ23456789';
const LENGTH = 8;
const MOST_WRONG = 5;

export class FirstRunCode {
  readonly #out: { write(text: string): unknown };
  #hash: Buffer | undefined;
  #wrong = 0;

  constructor(out: { write(text: string): unknown }) {
    this.#out = out;
  }

  /** Makes a code and shows it. */
  show(): void {
    const letters = Array.from({ length: LENGTH }, () => ALPHABET.charAt(randomInt(ALPHABET.length))).join('');
    this.#hash = hashOf(letters);
    this.#wrong = 0;
    this.#out.write(
      `${say`There is no account yet. Code for the first one: ${`${letters.slice(0, 4)}-${letters.slice(4)}`}`}\n`,
    );
  }

  /** Whether this is the code. Each wrong one counts. */
  fits(typed: string): boolean {
    if (this.#hash === undefined) return false;
    const letters = typed.toUpperCase().replace(/[\s-]/g, '');
    if (timingSafeEqual(hashOf(letters), this.#hash)) return true;
    this.#wrong += 1;
    if (this.#wrong >= MOST_WRONG) this.show();
    return false;
  }

  /** The first account is there: no code fits any more. */
  forget(): void {
    this.#hash = undefined;
  }
}

function hashOf(letters: string): Buffer {
  return createHash('sha256').update(letters, 'utf8').digest();
}
