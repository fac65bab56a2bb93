/**
 * The extension that keeps a local authority local (RFC 5280, 4.2.1.10): it may vouch for this machine's name, for names that
 * have no place in public name service, and for addresses of private networks. Whoever stole its key could pose as no public site.
 */
import { isIP } from 'node:net';
import { bytesOfAddress, extension } from './certificate.ts';
import { sequence, tagged } from './der.ts';

const NAME_CONSTRAINTS = '2.5.29.30';
const LOCAL_NAMES = ['localhost', 'local', 'lan', 'home.arpa', 'internal'];
/** Loopback, RFC 1918, carriers' private space, link-local; as address and length of the prefix. */
const PRIVATE_V4: readonly (readonly [string, number])[] = [
  ['127.0.0.0', 8],
  ['10.0.0.0', 8],
  ['172.16.0.0', 12],
  ['192.168.0.0', 16],
  ['100.64.0.0', 10],
  ['169.254.0.0', 16],
];
/** First 16 bits and prefix: unique local and link-local. ::1 is named on its own. */
const PRIVATE_V6: readonly (readonly [number, number])[] = [
  [0xfc00, 7],
  [0xfe80, 10],
];

export function localNamesOnly(hostName: string): Buffer {
  const names = [...new Set([...LOCAL_NAMES, hostName])].map((name) => tagged(0x82, Buffer.from(name, 'ascii')));
  const addresses = [
    ...PRIVATE_V4.map(([address, bits]) => Buffer.concat([bytesOfAddress(address), mask(bits, 4)])),
    Buffer.concat([Buffer.alloc(15), Buffer.from([1]), mask(128, 16)]),
    ...PRIVATE_V6.map(([start, bits]) => {
      const first = Buffer.alloc(16);
      first.writeUInt16BE(start);
      return Buffer.concat([first, mask(bits, 16)]);
    }),
  ].map((range) => tagged(0x87, range));
  const subtrees = [...names, ...addresses].map((base) => sequence(base));
  return extension(NAME_CONSTRAINTS, sequence(tagged(0xa0, ...subtrees)), 'critical');
}

/** True for an address that the constraint above permits. */
export function isPrivateAddress(address: string): boolean {
  const plain = address.split('%')[0] ?? '';
  if (isIP(plain) === 4) {
    const value = bytesOfAddress(plain).readUInt32BE();
    return PRIVATE_V4.some(
      ([start, bits]) => value >>> (32 - bits) === bytesOfAddress(start).readUInt32BE() >>> (32 - bits),
    );
  }
  if (plain === '::1') return true;
  const first = Number.parseInt(plain.split(':')[0] ?? '', 16);
  return PRIVATE_V6.some(([start, bits]) => first >>> (16 - bits) === start >>> (16 - bits));
}

/** True for a name that an authority made for `hostName` may vouch for. */
export function isLocalName(name: string, hostName: string): boolean {
  return [...LOCAL_NAMES, hostName].some((local) => name === local || name.endsWith(`.${local}`));
}

function mask(bits: number, length: number): Buffer {
  return Buffer.from(Array.from({ length }, (_, at) => (0xff00 >> Math.min(8, Math.max(0, bits - at * 8))) & 0xff));
}
