/** The fingerprint of a file (rule E5), against another implementation. */
import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { atOnce } from '#shared/geometry/mesh.ts';
import { sha256Of } from '#shared/geometry/sha256.ts';

describe('fingerprint', () => {
  it('[E5] is the SHA-256 of the bytes, at every length around a block', () => {
    for (let length = 0; length < 200; length += 1) {
      const bytes = Uint8Array.from({ length }, (_, at) => (at * 37 + length) % 256);
      expect(atOnce(sha256Of(bytes))).toBe(createHash('sha256').update(bytes).digest('hex'));
    }
  });

  it('[E5] is that of the bytes that are meant, where they are part of more', () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 10, maxLength: 500 }), (all) => {
        const bytes = all.subarray(3, -2);
        expect(atOnce(sha256Of(bytes))).toBe(createHash('sha256').update(bytes).digest('hex'));
      }),
      { seed: 5 },
    );
  });
});
