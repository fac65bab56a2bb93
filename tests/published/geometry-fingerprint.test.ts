/** SHA-256. Source: NIST, FIPS 180-4, Secure Hash Standard, with its published example values. Status: memory. */
import { describe, expect, it } from 'vitest';
import { atOnce } from '#shared/geometry/mesh.ts';
import { sha256Of } from '#shared/geometry/sha256.ts';

const EXAMPLES = [
  ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  [
    'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
  ],
] as const;

describe('the fingerprint of a file', () => {
  it.each(EXAMPLES)('[E5] is the one that is printed for “%s”', (text, digest) => {
    expect(atOnce(sha256Of(new TextEncoder().encode(text)))).toBe(digest);
  });
});
