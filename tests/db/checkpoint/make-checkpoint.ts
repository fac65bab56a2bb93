/** Keys and pages for tests. */
import { generateKeyPairSync } from 'node:crypto';
import type { ShopKey } from '#db/checkpoint/key-file.ts';
import { pageText, readPage } from '#db/checkpoint/page.ts';
import { fingerprintOf, publicKeyOf, signatureOf } from '#db/checkpoint/signature.ts';
import { type Checkpoint, type Statement, signedBytes } from '#db/checkpoint/statement.ts';

export function newKey(): ShopKey {
  const { privateKey } = generateKeyPairSync('ed25519');
  const publicKey = publicKeyOf(privateKey);
  return { privateKey, publicKey, fingerprint: fingerprintOf(publicKey), isNew: false };
}

export const STATEMENT: Statement = {
  aircraft: 'Dåbchick [study] 2: Ω',
  'aircraft id': '6f1c2f0e-0c0f-4a53-9a8e-0d2a4a1f9b11',
  entry: '25',
  recorded: '2026-06-15T10:11:12.131Z',
  hash: '4055ba3f28f721c16a147bf2d7929cb6ff7912040c6b126749b018b0cdf0bab6',
  'empty weight': 'predicted 43.97 ± 0.51 kg',
  'empty CG': 'predicted x 3.638 ± 0.016 m (27.0 % MAC)',
  made: '2026-06-15T12:00:00.000Z',
  by: 'JM',
};

export function signedPage(statement: Statement, key: ShopKey): string {
  const signature = signatureOf(key.privateKey, signedBytes(statement));
  return pageText({ statement, publicKey: key.publicKey, signature });
}

/** What stands on a page that can be read. */
export function pageRead(page: string): Checkpoint {
  const read = readPage(page);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.checkpoint;
}
