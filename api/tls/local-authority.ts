/**
 * A certificate authority of the shop's own, and the server's certificate that it signs: so that a tablet on the shop's network has a
 * secure connection without a public name. Both are kept in one folder that only the server's user can read.
 */
import { createPrivateKey, createPublicKey, type KeyObject, X509Certificate } from 'node:crypto';
import { chmod, mkdir, readFile, rename, writeFile } from 'node:fs/promises';
import { isIP } from 'node:net';
import { join } from 'node:path';
import { FOR_AUTHORITY, forServer, makeCertificate, makeKeys } from './certificate.ts';
import { isLocalName, isPrivateAddress, localNamesOnly } from './name-constraints.ts';

export type Pair = { readonly cert: string; readonly key: string };

export type LocalTls = {
  /** The authority's certificate, PEM: what a device has to trust. */
  readonly authority: string;
  readonly server: Pair;
  /** True where the server's certificate has just been made. */
  readonly isNew: boolean;
};

/** What the server is called, and the addresses it is reached at. */
export type Place = { readonly hostName: string; readonly addresses: readonly string[] };

const DAY_MS = 24 * 60 * 60 * 1000;
const AUTHORITY_DAYS = 3652;
/** Browsers of Apple take no longer one; renewed well before. */
const SERVER_DAYS = 397;
const RENEW_DAYS = 30;

/** The authority and a server certificate that fits `place`: those of the folder while they hold, else new ones. */
export async function localTls(folder: string, place: Place, now: Date): Promise<LocalTls> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const kept = await readPair(folder, 'authority');
  const authority =
    kept !== undefined && daysLeft(kept.cert, now) > RENEW_DAYS ? kept : await makeAuthority(folder, place, now);
  const names = namesOf(place, hostNameOf(authority.cert) ?? place.hostName);
  const server = await readPair(folder, 'server');
  if (server !== undefined && stillFits(server.cert, authority.cert, names, now))
    return { authority: authority.cert, server, isNew: false };
  return { authority: authority.cert, server: await makeServer(folder, authority, names, now), isNew: true };
}

type Names = { readonly dns: readonly string[]; readonly ip: readonly string[] };

/** Only what the authority may vouch for. */
function namesOf({ hostName, addresses }: Place, authorityFor: string): Names {
  const name = hostName.toLowerCase();
  const dns = ['localhost', name, ...(name.includes('.') ? [] : [`${name}.local`])];
  const ip = ['127.0.0.1', '::1', ...addresses].filter((address) => isIP(address) !== 0 && isPrivateAddress(address));
  return {
    dns: [...new Set(dns)].filter((one) => /^[a-z0-9.-]+$/.test(one) && isLocalName(one, authorityFor)).sort(),
    ip: [...new Set(ip)].sort(),
  };
}

const SUBJECT = 'Tarebook authority of ';

/** The name for which an authority was made: it stands in its subject. */
function hostNameOf(pem: string): string | undefined {
  const name = commonNameOf(pem);
  return name.startsWith(SUBJECT) ? name.slice(SUBJECT.length) : undefined;
}

function commonNameOf(pem: string): string {
  return new X509Certificate(pem).subject.replace(/^CN=/, '');
}

async function makeAuthority(folder: string, { hostName }: Place, now: Date): Promise<Pair> {
  const name = /^[a-z0-9.-]+$/i.test(hostName) ? hostName.toLowerCase() : 'localhost';
  const keys = makeKeys();
  const cert = makeCertificate({
    subject: `${SUBJECT}${name}`,
    issuer: `${SUBJECT}${name}`,
    from: new Date(now.getTime() - DAY_MS),
    until: new Date(now.getTime() + AUTHORITY_DAYS * DAY_MS),
    publicKey: keys.publicKey,
    signedBy: keys,
    extensions: [...FOR_AUTHORITY, localNamesOnly(name)],
  });
  return writePair(folder, 'authority', { cert, key: pemOf(keys.privateKey) });
}

async function makeServer(folder: string, authority: Pair, names: Names, now: Date): Promise<Pair> {
  const keys = makeKeys();
  const authorityKey = createPrivateKey(authority.key);
  const cert = makeCertificate({
    subject: names.dns[0] ?? 'localhost',
    issuer: commonNameOf(authority.cert),
    from: new Date(now.getTime() - DAY_MS),
    until: new Date(now.getTime() + SERVER_DAYS * DAY_MS),
    publicKey: keys.publicKey,
    signedBy: { privateKey: authorityKey, publicKey: createPublicKey(authorityKey) },
    extensions: forServer(names),
  });
  return writePair(folder, 'server', { cert, key: pemOf(keys.privateKey) });
}

function stillFits(cert: string, authority: string, names: Names, now: Date): boolean {
  const certificate = new X509Certificate(cert);
  return (
    daysLeft(cert, now) > RENEW_DAYS &&
    certificate.verify(new X509Certificate(authority).publicKey) &&
    names.dns.every((name) => certificate.checkHost(name) !== undefined) &&
    names.ip.every((address) => certificate.checkIP(address) !== undefined)
  );
}

function daysLeft(cert: string, now: Date): number {
  return (new Date(new X509Certificate(cert).validTo).getTime() - now.getTime()) / DAY_MS;
}

function pemOf(key: KeyObject): string {
  return key.export({ type: 'pkcs8', format: 'pem' }).toString();
}

async function readPair(folder: string, name: string): Promise<Pair | undefined> {
  try {
    const [cert, key] = await Promise.all(
      ['crt', 'key'].map((end) => readFile(join(folder, `${name}.${end}`), 'utf8')),
    );
    return cert === undefined || key === undefined ? undefined : { cert, key };
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return undefined;
    throw error;
  }
}

/** The key first and each whole: a folder left half-written has no pair, and a new one is made. */
async function writePair(folder: string, name: string, pair: Pair): Promise<Pair> {
  for (const [end, text] of [
    ['key', pair.key],
    ['crt', pair.cert],
  ] as const) {
    const path = join(folder, `${name}.${end}`);
    await writeFile(`${path}.new`, text, { mode: 0o600 });
    await chmod(`${path}.new`, 0o600);
    await rename(`${path}.new`, path);
  }
  return pair;
}
