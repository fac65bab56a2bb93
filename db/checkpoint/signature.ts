/**
 * Ed25519 (RFC 8032) with Node's own cryptography: what signs a checkpoint, and what tells whether it was signed. Public keys are their 32 bytes,
 * signatures their 64. Pure.
 */
import { createHash, createPublicKey, type KeyObject, sign, verify } from 'node:crypto';

/** The signature of these bytes: the same key and bytes give the same one. */
export function signatureOf(privateKey: KeyObject, message: Uint8Array): Uint8Array {
  return new Uint8Array(sign(null, message, privateKey));
}

/** False for whatever is no signature of these bytes by that key, also where the key is none. */
export function isSignedBy(publicKey: Uint8Array, message: Uint8Array, signature: Uint8Array): boolean {
  if (publicKey.length !== 32 || signature.length !== 64) return false;
  const x = Buffer.from(publicKey).toString('base64url');
  try {
    return verify(null, message, createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x }, format: 'jwk' }), signature);
  } catch {
    return false;
  }
}

export function publicKeyOf(privateKey: KeyObject): Uint8Array {
  const { x } = createPublicKey(privateKey).export({ format: 'jwk' });
  return new Uint8Array(Buffer.from(x ?? '', 'base64url'));
}

/**
 * What stands for a public key on paper: the first 128 bits of its SHA-256, in hexadecimal. Short enough to be typed, and nobody finds another
 * key with the same one.
 */
export function fingerprintOf(publicKey: Uint8Array): string {
  return createHash('sha256').update(publicKey).digest('hex').slice(0, 32);
}

/** In groups of four, as people read it aloud. */
export function inGroups(hex: string, size = 4): string {
  return hex.match(new RegExp(`.{1,${size}}`, 'g'))?.join(' ') ?? '';
}
