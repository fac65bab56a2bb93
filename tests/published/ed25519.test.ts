/**
 * Ed25519 as checkpoints are signed with it: the key read from the shop's key file, signed and verified by our own functions.
 * Source: RFC 8032, 7.1, tests 1, 2, 3 and SHA(abc) (read in tests of other programs that quote them).
 */
import { createPrivateKey } from 'node:crypto';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { shopKey } from '#db/checkpoint/key-file.ts';
import { isSignedBy, signatureOf } from '#db/checkpoint/signature.ts';

const VECTORS = [
  {
    name: '1',
    secret: '9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60',
    publicKey: 'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
    message: '',
    signature:
      'e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b',
  },
  {
    name: '2',
    secret: '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb',
    publicKey: '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
    message: '72',
    signature:
      '92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00',
  },
  {
    name: '3',
    secret: 'c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7',
    publicKey: 'fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025',
    message: 'af82',
    signature:
      '6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a',
  },
  {
    name: 'SHA(abc)',
    secret: '833fe62409237b9d62ec77587520911e9a759cec1d19755b7da901b96dca3d42',
    publicKey: 'ec172b93ad5e563bf4932c70e1245034c35467ef2efd4d64ebf819683467e2bf',
    message:
      'ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f',
    signature:
      'dc2a4459e7369633a52b1bf277839a00201009a3efbf3ecb69bea2186c26b58909351fc9ac90b3ecfdfbc7c66431e0303dca179c138ac17ad9bef1177331a704',
  },
];

const bytesOf = (hex: string) => new Uint8Array(Buffer.from(hex, 'hex'));
const hexOf = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex');
/** Before the 32 bytes of the secret in PKCS #8 (RFC 8410, 7). */
const PKCS8 = '302e020100300506032b657004220420';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tarebook-test-'));
});
afterAll(() => rm(folder, { recursive: true }));

it.each(VECTORS)(
  '[L10] test $name of RFC 8032 is signed and verified as printed, and nothing else is',
  async (vector) => {
    const file = join(folder, `${vector.name}.pem`);
    const key = createPrivateKey({ key: Buffer.from(PKCS8 + vector.secret, 'hex'), format: 'der', type: 'pkcs8' });
    await writeFile(file, key.export({ type: 'pkcs8', format: 'pem' }), { mode: 0o600 });
    const read = await shopKey(file);
    if (!read.ok) throw new Error(read.refusal.code);
    const { privateKey, publicKey } = read.value;
    const message = bytesOf(vector.message);
    const signature = signatureOf(privateKey, message);
    expect(hexOf(publicKey)).toBe(vector.publicKey);
    expect(hexOf(signature)).toBe(vector.signature);
    expect(isSignedBy(bytesOf(vector.publicKey), message, bytesOf(vector.signature))).toBe(true);
    for (let bit = 0; bit < 512; bit += 7) {
      const forged = Uint8Array.from(signature);
      forged[bit >> 3] = (forged[bit >> 3] ?? 0) ^ (1 << (bit & 7));
      expect(isSignedBy(publicKey, message, forged)).toBe(false);
    }
    expect(isSignedBy(publicKey, bytesOf(`${vector.message}00`), signature)).toBe(false);
    for (const other of VECTORS)
      if (other !== vector) expect(isSignedBy(bytesOf(other.publicKey), message, signature)).toBe(false);
    // Malleable: the same signature with the order of the group added to its second half (RFC 8032, 5.1.7).
    expect(isSignedBy(publicKey, message, withOrderAdded(signature))).toBe(false);
    expect(isSignedBy(publicKey.subarray(1), message, signature)).toBe(false);
    expect(isSignedBy(publicKey, message, signature.subarray(1))).toBe(false);
  },
);

const ORDER = 2n ** 252n + 27742317777372353535851937790883648493n;

function withOrderAdded(signature: Uint8Array): Uint8Array {
  let half = BigInt(`0x${hexOf(signature.slice(32).reverse())}`) + ORDER;
  const bytes = Uint8Array.from(signature);
  for (let at = 32; at < 64; at += 1) {
    bytes[at] = Number(half & 255n);
    half >>= 8n;
  }
  return bytes;
}
