/** The local authority: a client that trusts it connects, one that does not is warned, and it vouches for local names alone. */
import { createPrivateKey, createPublicKey, type KeyObject, X509Certificate } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { createServer, request } from 'node:https';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { FOR_AUTHORITY, forServer, type Keys, makeCertificate, makeKeys } from '#api/tls/certificate.ts';
import { type LocalTls, localTls, type Pair } from '#api/tls/local-authority.ts';
import { isPrivateAddress } from '#api/tls/name-constraints.ts';

const DAY_MS = 24 * 60 * 60 * 1000;
const now = new Date();
const place = { hostName: 'shop-pc', addresses: ['192.168.7.20', 'fd12:3456::7'] };

/** Connects to a server with `pair` as if it were called `host`; answers an error's code, or 'trusted'. */
async function connect(pair: Pair, ca: string | undefined, host: string): Promise<string> {
  const server = createServer(pair, (_, answer) => answer.end('inside'));
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  try {
    return await new Promise((resolve) => {
      const asked = request(
        { host: '127.0.0.1', port, servername: host, agent: false, ...(ca === undefined ? {} : { ca }) },
        (answer) => {
          answer.resume();
          resolve('trusted');
        },
      );
      asked.on('error', (error: Error & { code?: string }) =>
        resolve(error.code === 'UNSPECIFIED' ? error.message : (error.code ?? error.message)),
      );
      asked.end();
    });
  } finally {
    server.closeAllConnections();
    server.close();
  }
}

function pairOf(privateKey: KeyObject): Keys {
  return { privateKey, publicKey: createPublicKey(privateKey) };
}

describe('local TLS', () => {
  let folder = '';
  beforeEach(async () => {
    folder = join(await mkdtemp(join(tmpdir(), 'tarebook-tls-')), 'tls');
  });
  afterEach(() => rm(join(folder, '..'), { recursive: true, force: true }));
  const make = (at = now, where = place): Promise<LocalTls> => localTls(folder, where, at);

  it('[N11] who trusts the authority connects under every name; who does not is warned', async () => {
    const { authority, server } = await make();
    for (const name of ['localhost', 'shop-pc', 'shop-pc.local'])
      expect(await connect(server, authority, name)).toBe('trusted');
    expect(await connect(server, undefined, 'localhost')).toBe('UNABLE_TO_VERIFY_LEAF_SIGNATURE');
    expect(await connect(server, authority, 'other-pc')).toBe('ERR_TLS_CERT_ALTNAME_INVALID');
    const certificate = new X509Certificate(server.cert);
    for (const address of ['127.0.0.1', '::1', '192.168.7.20', 'fd12:3456::7'])
      expect(certificate.checkIP(address)).toBe(address);
    const { authority: another } = await localTls(join(folder, 'other'), place, now);
    expect(await connect(server, another, 'localhost')).not.toBe('trusted');
  });

  it('[N11] the authority vouches for no public name or address: a client refuses what it signs', async () => {
    const { authority } = await make();
    const key = await readFile(join(folder, 'authority.key'), 'utf8');
    const keys = makeKeys();
    const forged = (names: { dns: string[]; ip: string[] }) => ({
      key: keys.privateKey.export({ type: 'pkcs8', format: 'pem' }).toString(),
      cert: makeCertificate({
        subject: 'forged',
        issuer: new X509Certificate(authority).subject.replace('CN=', ''),
        from: new Date(now.getTime() - DAY_MS),
        until: new Date(now.getTime() + DAY_MS),
        publicKey: keys.publicKey,
        signedBy: pairOf(createPrivateKey(key)),
        extensions: forServer(names),
      }),
    });
    expect(await connect(forged({ dns: ['shop-pc'], ip: [] }), authority, 'shop-pc')).toBe('trusted');
    expect(await connect(forged({ dns: ['bank.example'], ip: [] }), authority, 'bank.example')).toBe(
      'permitted subtree violation',
    );
    for (const ip of ['8.8.8.8', '172.32.0.1', '2001:db8::1'])
      expect(await connect(forged({ dns: ['shop-pc'], ip: [ip] }), authority, 'shop-pc')).toBe(
        'permitted subtree violation',
      );
    for (const ip of ['10.1.2.3', '172.31.255.1', '192.168.0.1', '::1', 'fe80::1'])
      expect({ ip, is: await connect(forged({ dns: ['shop-pc'], ip: [ip] }), authority, 'shop-pc') }).toEqual({
        ip,
        is: 'trusted',
      });
  });

  it('[N11] nobody to whom the authority gave a certificate can be an authority in turn, and a server is only that', async () => {
    const { authority, server } = await make();
    const key = createPrivateKey(await readFile(join(folder, 'authority.key'), 'utf8'));
    const root = { name: new X509Certificate(authority).subject.replace('CN=', ''), keys: pairOf(key) };
    const [middle, leaf] = [makeKeys(), makeKeys()];
    const signed = (
      subject: string,
      publicKey: KeyObject,
      by: { name: string; keys: Keys },
      extensions: readonly Buffer[],
    ) =>
      makeCertificate({
        subject,
        issuer: by.name,
        from: new Date(now.getTime() - DAY_MS),
        until: new Date(now.getTime() + DAY_MS),
        publicKey,
        signedBy: by.keys,
        extensions,
      });
    const names = { dns: ['shop-pc'], ip: [] };
    const chain = {
      key: leaf.privateKey.export({ type: 'pkcs8', format: 'pem' }).toString(),
      cert: [
        signed('leaf', leaf.publicKey, { name: 'middle', keys: middle }, forServer(names)),
        signed('middle', middle.publicKey, root, FOR_AUTHORITY),
      ].join(''),
    };
    expect(await connect(chain, authority, 'shop-pc')).toBe('PATH_LENGTH_EXCEEDED');
    const certificate = new X509Certificate(server.cert);
    expect(certificate.ca).toBe(false);
    // TLS server authentication, and nothing else.
    expect(certificate.keyUsage).toEqual(['1.3.6.1.5.5.7.3.1']);
  });

  it('[N11] which addresses are private is told alike here and by the authority', () => {
    for (const address of [
      '10.0.0.1',
      '127.0.0.1',
      '172.16.0.1',
      '192.168.255.255',
      '169.254.1.1',
      '100.64.0.1',
      '::1',
      'fd00::1',
      'fe80::1',
    ])
      expect({ address, is: isPrivateAddress(address) }).toEqual({ address, is: true });
    for (const address of [
      '8.8.8.8',
      '172.15.0.1',
      '172.32.0.1',
      '192.169.0.1',
      '100.128.0.1',
      '2001:db8::1',
      '::2',
      '11.0.0.1',
    ])
      expect({ address, is: isPrivateAddress(address) }).toEqual({ address, is: false });
  });

  it('[N11] a public address of the machine is left out, and the certificate still holds', async () => {
    const { authority, server } = await make(now, { hostName: 'shop-pc', addresses: ['8.8.8.8', '10.0.0.9'] });
    expect(new X509Certificate(server.cert).subjectAltName).not.toContain('8.8.8.8');
    expect(await connect(server, authority, 'shop-pc')).toBe('trusted');
  });

  it('[N11] keys and certificates are kept so that only the server’s user can read them', async () => {
    await make();
    expect((await readdir(folder)).sort()).toEqual(['authority.crt', 'authority.key', 'server.crt', 'server.key']);
    for (const file of await readdir(folder)) expect((await stat(join(folder, file))).mode & 0o777).toBe(0o600);
    expect((await stat(folder)).mode & 0o777).toBe(0o700);
  });

  it('[N11] a second start takes what is there; another address, or the end in sight, makes a new certificate', async () => {
    const first = await make();
    expect(first.isNew).toBe(true);
    expect(await make()).toEqual({ ...first, isNew: false });
    const moved = await make(now, { ...place, addresses: ['192.168.7.21'] });
    expect(moved).toMatchObject({ isNew: true, authority: first.authority });
    expect(new X509Certificate(moved.server.cert).checkIP('192.168.7.21')).toBe('192.168.7.21');
    expect((await make(new Date(now.getTime() + 360 * DAY_MS), { ...place, addresses: ['192.168.7.21'] })).isNew).toBe(
      false,
    );
    const later = await make(new Date(now.getTime() + 370 * DAY_MS));
    expect(later).toMatchObject({ isNew: true, authority: first.authority });
    const last = await make(new Date(now.getTime() + 3640 * DAY_MS));
    expect(last.authority).not.toBe(first.authority);
  });

  it('[N11] a folder left half-written gets a new pair', async () => {
    await make();
    await rm(join(folder, 'server.key'));
    expect((await make()).isNew).toBe(true);
    await writeFile(join(folder, 'server.crt.new'), 'half');
    expect((await make()).isNew).toBe(false);
  });

  it('[N11] it says what it is: ten years, ECDSA on P-256, an authority of no other', async () => {
    const certificate = new X509Certificate((await make()).authority);
    expect(certificate.ca).toBe(true);
    expect(certificate.subject).toBe('CN=Tarebook authority of shop-pc');
    expect(certificate.publicKey.asymmetricKeyDetails).toMatchObject({ namedCurve: 'prime256v1' });
    expect(certificate.verify(certificate.publicKey)).toBe(true);
    const years = (new Date(certificate.validTo).getTime() - now.getTime()) / (365.25 * DAY_MS);
    expect(years).toBeCloseTo(10, 1);
  });
});
