/** The shop's authority among those that a browser's profile trusts, as its settings page writes it. */
import { X509Certificate } from 'node:crypto';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';

/** `profile`: a user folder that a browser has been started with and has left. 0x08 0x03 says "trusted" in the browser's own record. */
export function trustIn(profile: string, pem: string): void {
  const certificate = new X509Certificate(pem);
  const kept = new DatabaseSync(join(profile, 'Default', 'ServerCertificate'));
  kept
    .prepare('insert into certificates (sha256hash_hex, der_cert, trust_settings) values (?, ?, ?)')
    .run(certificate.fingerprint256.replaceAll(':', ''), certificate.raw, Buffer.from([0x0a, 0x02, 0x08, 0x03]));
  kept.close();
}
