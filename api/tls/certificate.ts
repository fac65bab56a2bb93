/**
 * Makes a certificate (RFC 5280): ECDSA on P-256 with SHA-256, version 3, the extensions that a local authority and its server need.
 * Checked in tests by the TLS library that browsers' kin use, and not by what made it.
 */
import { createHash, generateKeyPairSync, type KeyObject, randomBytes, sign } from 'node:crypto';
import { isIPv4 } from 'node:net';
import { bits, integer, octets, oid, sequence, set, tagged, time, truth, utf8 } from './der.ts';

export type Keys = { readonly publicKey: KeyObject; readonly privateKey: KeyObject };

export type CertificateRequest = {
  readonly subject: string;
  readonly issuer: string;
  readonly from: Date;
  readonly until: Date;
  readonly publicKey: KeyObject;
  readonly signedBy: Keys;
  readonly extensions: readonly Buffer[];
};

export function makeKeys(): Keys {
  return generateKeyPairSync('ec', { namedCurve: 'P-256' });
}

/** The certificate as PEM. `subject` and `issuer` are common names. */
export function makeCertificate(request: CertificateRequest): string {
  const { subject, issuer, from, until, publicKey, signedBy, extensions } = request;
  const algorithm = sequence(oid('1.2.840.10045.4.3.2'));
  const toSign = sequence(
    tagged(0xa0, integer(Buffer.from([2]))),
    // Positive and not to be guessed (4.1.2.2).
    integer(Buffer.concat([Buffer.from([0x40]), randomBytes(15)])),
    algorithm,
    commonName(issuer),
    sequence(time(from), time(until)),
    commonName(subject),
    spkiOf(publicKey),
    tagged(
      0xa3,
      sequence(
        ...extensions,
        extension('2.5.29.14', octets(keyIdentifier(publicKey))),
        extension('2.5.29.35', sequence(tagged(0x80, keyIdentifier(signedBy.publicKey)))),
      ),
    ),
  );
  const signature = sign('sha256', toSign, signedBy.privateKey);
  return pem('CERTIFICATE', sequence(toSign, algorithm, bits(signature)));
}

/** May sign certificates, but none of another authority. */
export const FOR_AUTHORITY: readonly Buffer[] = [
  extension('2.5.29.19', sequence(truth(), integer(Buffer.from([0]))), 'critical'),
  // keyCertSign and cRLSign.
  extension('2.5.29.15', bits(Buffer.from([0x06]), 1), 'critical'),
];

/** Is a server of these names and addresses, and nothing else. */
export function forServer(names: {
  readonly dns: readonly string[];
  readonly ip: readonly string[];
}): readonly Buffer[] {
  return [
    extension('2.5.29.19', sequence(), 'critical'),
    // digitalSignature.
    extension('2.5.29.15', bits(Buffer.from([0x80]), 7), 'critical'),
    extension('2.5.29.37', sequence(oid('1.3.6.1.5.5.7.3.1'))),
    extension(
      '2.5.29.17',
      sequence(
        ...names.dns.map((name) => tagged(0x82, Buffer.from(name, 'ascii'))),
        ...names.ip.map((address) => tagged(0x87, bytesOfAddress(address))),
      ),
    ),
  ];
}

export function extension(id: string, value: Buffer, weight?: 'critical'): Buffer {
  return sequence(oid(id), ...(weight === undefined ? [] : [truth()]), octets(value));
}

export function bytesOfAddress(address: string): Buffer {
  if (isIPv4(address)) return Buffer.from(address.split('.').map(Number));
  // The URL parser writes an address out in its one canonical form, with IPv4 tails turned into groups.
  const [head = '', tail] = new URL(`http://[${address}]/`).hostname.slice(1, -1).split('::');
  const groupsOf = (text: string) => (text === '' ? [] : text.split(':').map((group) => Number.parseInt(group, 16)));
  const [first, last] = [groupsOf(head), groupsOf(tail ?? '')];
  const groups = [...first, ...Array.from({ length: 8 - first.length - last.length }, () => 0), ...last];
  const bytes = Buffer.alloc(16);
  for (const [at, group] of groups.entries()) bytes.writeUInt16BE(group, at * 2);
  return bytes;
}

function commonName(name: string): Buffer {
  return sequence(set(sequence(oid('2.5.4.3'), utf8(name))));
}

function spkiOf(key: KeyObject): Buffer {
  return key.export({ type: 'spki', format: 'der' });
}

/** Any value that is the key's own will do (4.2.1.2). */
function keyIdentifier(key: KeyObject): Buffer {
  return createHash('sha256').update(spkiOf(key)).digest().subarray(0, 20);
}

function pem(label: string, bytes: Buffer): string {
  return `-----BEGIN ${label}-----\n${bytes.toString('base64').replace(/(.{64})(?=.)/g, '$1\n')}\n-----END ${label}-----\n`;
}
