/** Opens the store and listens; answers how to stop. Prints where Tarebook is, for the person who started it. */
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import type { Server } from 'node:http';
import { createServer as createTlsServer, type Server as TlsServer } from 'node:https';
import { type AddressInfo, isIPv6 } from 'node:net';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { createSecureContext } from 'node:tls';
import { createAdaptorServer } from '@hono/node-server';
import { closest } from 'fastest-levenshtein';
import { Hono } from 'hono';
import { createDemonstration } from '#db/demo/create-demonstration.ts';
import { openStore, type StorePlace } from '#db/engine/open-store.ts';
import { isFirstRun } from '#db/people/change-people.ts';
import { LOCALE, say } from '#shared/words/say.ts';
import { makeApp } from './app.ts';
import { movedForward } from './command/with-store.ts';
import type { DoorEnv } from './door.ts';
import { type Log, makeLog, type Streams } from './log/log.ts';
import { Metrics } from './metrics/metrics.ts';
import { metricsApp } from './metrics/metrics-app.ts';
import { OptionRefusal, type ServerOptions, type TlsOptions } from './server-options.ts';
import { SETTINGS } from './server-settings.ts';
import { makeServices, type Services } from './services.ts';
import { networkAddresses, placeOfThisMachine } from './tls/addresses.ts';
import { type LocalTls, localTls, type Pair } from './tls/local-authority.ts';
import { fingerprintOf, trustPages } from './tls/trust-pages.ts';
import { securityHeaders } from './web/security-headers.ts';

export type RunningServer = { readonly port: number; readonly httpPort: number | undefined; stop(): Promise<void> };

const CLIENT_FOLDER = join(import.meta.dirname, '../client/dist', LOCALE);
/** Requests under way get this long to end when the server stops. */
const LAST_REQUESTS_MS = 7_000;
/** How often it is looked up whether the machine has moved to other addresses, or the certificate nears its end. */
const RENEWAL_CHECK_MS = 60 * 60 * 1000;

export async function startServer(options: ServerOptions, given: Streams): Promise<RunningServer> {
  const log = makeLog(options.log ?? 'plain', given, () => new Date());
  for (const stranger of options.strangers ?? []) log.err.write(strangerWords(stranger));
  return startWith(options, log);
}

async function startWith(options: ServerOptions, log: Log): Promise<RunningServer> {
  const { place, tls } = options;
  const given = tls.kind === 'given' ? await givenPair(tls) : undefined;
  if (isNewFolder(place)) log.out.write(`${say`Preparing a new data folder: this takes a few seconds.`}\n`);
  const store = await openStore(place, {
    backups: options.backups.folder,
    copy:
      options.copyUrl === undefined
        ? undefined
        : { url: options.copyUrl, tell: (words) => log.err.write(`${words}\n`) },
  });
  if (store.backedUpTo !== undefined) log.out.write(movedForward(store.backedUpTo));
  // What has been opened, to be closed in the opposite order: at the end, or where the start fails half-way.
  const closers: (() => unknown)[] = [() => store.close()];
  const stop = async () => {
    for (const close of closers.splice(0).reverse()) await close();
  };
  try {
    const made = given === undefined ? await madeHere(tls) : { server: given, authority: undefined };
    const metrics = options.metrics === undefined ? undefined : new Metrics();
    const services = makeServices({
      store,
      now: () => new Date(),
      out: log.out,
      err: log.err,
      isSecure: made !== undefined || options.isBehindProxy === true,
      isBehindProxy: options.isBehindProxy === true,
      // Not with the shop's own authority: a device fetches that from this host over plain http.
      isHttpsAlone: tls.kind === 'given' || options.isBehindProxy === true,
      clientFolder: CLIENT_FOLDER,
      createDemonstration,
      backupPlan: options.backups,
      trust: made?.authority,
      checkpointKeyFile: options.checkpointKeyFile,
      watch: {
        request: (facts) => {
          log.request(facts);
          metrics?.request(facts);
        },
        recorded: (entries) => metrics?.recorded(entries),
      },
    });
    const server = serverFor(makeApp(services).fetch, made, options.patience);
    // Requests under way need these until they end.
    closers.push(services.stop);
    closers.push(() => closed(server));
    const port = await listen(server, options.host, options.port);
    const trust = await listenForTrust(options, made?.authority);
    if (trust !== undefined) closers.push(() => closed(trust.server));
    if (options.metrics !== undefined && metrics !== undefined) {
      metrics.measure({ ...services, poolUse: store.poolUse });
      const figures = createAdaptorServer({ fetch: metricsApp(metrics).fetch }) as Server;
      const { host } = options.metrics;
      const at = await listen(figures, host, options.metrics.port, '--metrics-port');
      closers.push(() => closed(figures));
      log.out.write(`${say`Figures for a monitor are at ${`http://${bracketed(host)}:${at}/metrics`}`}\n`);
    }
    closers.push(renewing(tls, server, log));
    closers.push(() => leave(services, options.drainMs ?? 0));
    tellAddresses(options, port, trust?.port, made?.authority, log);
    if (await isFirstRun(store.db)) services.firstRunCode.show();
    services.backups.keepSchedule();
    return { port, httpPort: trust?.port, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

/** Most likely one that is spelled wrong: what it was to say is not heard. */
function strangerWords(variable: string): string {
  const known = SETTINGS.flatMap((setting) => ('variable' in setting ? [setting.variable] : []));
  return `${say`${variable} is set and means nothing to the server: is it ${closest(variable, known)}? Option --help lists all of them.`}\n`;
}

/** Says that this server stops, serves on for as long as was asked, then sends the pages elsewhere. */
async function leave({ standing, lines }: Services, drainMs: number): Promise<void> {
  standing.isStopping = true;
  if (drainMs > 0) await sleep(drainMs);
  lines.leave();
}

function serverFor(fetch: FetchCallback, made: Certificate | undefined, patience = PATIENCE): Server | TlsServer {
  const times = {
    headersTimeout: patience.headersMs,
    requestTimeout: patience.requestMs,
    connectionsCheckingInterval: Math.min(patience.headersMs, 5_000),
  };
  if (made === undefined) return createAdaptorServer({ fetch, serverOptions: times }) as Server;
  const serverOptions = { ...times, ...made.server };
  return createAdaptorServer({ fetch, createServer: createTlsServer, serverOptions }) as TlsServer;
}

/** A request that drips in is given up: its headers soon, its body once the largest one could be here over a slow network. */
const PATIENCE = { headersMs: 20_000, requestMs: 300_000 };

type FetchCallback = Parameters<typeof createAdaptorServer>[0]['fetch'];

function isNewFolder(place: StorePlace): boolean {
  return place.kind === 'folder' && !existsSync(join(place.path, 'pgdata'));
}

type Certificate = { readonly server: Pair; readonly authority: string | undefined };

/** A certificate that was given and its key, read and tried before anything else is done. */
async function givenPair(tls: Extract<TlsOptions, { kind: 'given' }>): Promise<Pair> {
  const pair = { cert: await readPem(tls.cert), key: await readPem(tls.key) };
  try {
    createSecureContext(pair);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new OptionRefusal(say`The certificate and its key cannot be used: ${why}.`);
  }
  return pair;
}

/** Made once the data folder is this process's own: the keys may lie in it. */
async function madeHere(tls: TlsOptions): Promise<Certificate | undefined> {
  return tls.kind === 'local' ? localTls(tls.folder, placeOfThisMachine(), new Date()) : undefined;
}

async function readPem(path: string): Promise<string> {
  try {
    return await readFile(path, 'utf8');
  } catch (error) {
    throw new OptionRefusal(say`${path} cannot be read: ${error instanceof Error ? error.message : String(error)}`);
  }
}

/** A tablet that does not know the authority yet fetches it here; nothing else is said over plain http. */
async function listenForTrust(
  { host, tls }: ServerOptions,
  authority: string | undefined,
): Promise<{ server: Server; port: number } | undefined> {
  if (tls.kind !== 'local' || tls.httpPort === undefined || authority === undefined) return undefined;
  const app = new Hono<DoorEnv>();
  app.use(securityHeaders);
  trustPages(app, authority);
  app.notFound((c) => c.text(`${say`Only /trust is served here; Tarebook itself is at its https address.`}\n`, 404));
  const server = createAdaptorServer({ fetch: app.fetch }) as Server;
  return { server, port: await listen(server, host, tls.httpPort) };
}

function listen(server: Server | TlsServer, host: string, port: number, option = '--port'): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', (error) =>
      reject(
        new OptionRefusal(
          say`Cannot listen at ${host}, port ${port}: ${error.message}. Choose another with ${option}.`,
        ),
      ),
    );
    server.listen(port, host, () => resolve((server.address() as AddressInfo).port));
  });
}

function renewing(tls: TlsOptions, server: Server | TlsServer, { out, err }: Streams): () => void {
  if (tls.kind !== 'local' || !('setSecureContext' in server)) return () => undefined;
  const renew = async () => {
    const made: LocalTls = await localTls(tls.folder, placeOfThisMachine(), new Date());
    if (!made.isNew) return;
    server.setSecureContext(made.server);
    out.write(`${say`The certificate has been made anew.`}\n`);
  };
  const timer = setInterval(() => {
    renew().catch((error: unknown) => err.write(`${say`The certificate could not be renewed: ${String(error)}`}\n`));
  }, RENEWAL_CHECK_MS);
  timer.unref();
  return () => clearInterval(timer);
}

function tellAddresses(
  { host, tls, isBehindProxy }: ServerOptions,
  port: number,
  httpPort: number | undefined,
  authority: string | undefined,
  { out }: Streams,
): void {
  const scheme = tls.kind === 'none' ? 'http' : 'https';
  const isEverywhere = host === '0.0.0.0' || host === '::';
  const first = isEverywhere ? 'localhost' : host;
  out.write(`${say`Tarebook is at ${`${scheme}://${bracketed(first)}:${port}/`}`}\n`);
  const others = isEverywhere ? networkAddresses() : [];
  for (const address of others)
    out.write(`  ${say`in the shop's network: ${`${scheme}://${bracketed(address)}:${port}/`}`}\n`);
  if (tls.kind === 'none' && isBehindProxy !== true && others.length > 0)
    out.write(`  ${say`Over plain http passwords can be read on the network: --tls local serves https.`}\n`);
  if (authority === undefined) return;
  const trustAt = httpPort === undefined ? `${scheme}://${bracketed(others[0] ?? first)}:${port}` : undefined;
  out.write(
    `${say`A device learns to trust this server at ${`${trustAt ?? `http://${bracketed(others[0] ?? first)}:${httpPort}`}/trust`}`}\n`,
  );
  out.write(`  ${say`Fingerprint of the authority (SHA-256): ${fingerprintOf(authority)}`}\n`);
}

function bracketed(address: string): string {
  return isIPv6(address) ? `[${address}]` : address;
}

function closed(server: Server | TlsServer): Promise<void> {
  return new Promise((resolve) => {
    const late = setTimeout(() => server.closeAllConnections(), LAST_REQUESTS_MS);
    server.close(() => {
      clearTimeout(late);
      resolve();
    });
    server.closeIdleConnections();
  });
}
