/** Listens. Everything else is in `app.ts` and what it is made of. */
import { readFileSync } from 'node:fs';
import { createServer as createTlsServer } from 'node:https';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { type ServerType, serve } from '@hono/node-server';
import { createDemonstration } from '#db/demo/create-demonstration.ts';
import { openStore } from '#db/engine/open-store.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { isFirstRun } from '#db/people/change-people.ts';
import { makeApp } from './app.ts';
import { placeOf } from './command/with-store.ts';
import { refusedInput } from './problem/problem.ts';
import { makeServices } from './services.ts';

const HELP = `Serves Tarebook to the browsers of the shop.

  --data <folder>     data folder of the embedded database (default: tarebook-data, or DATABASE_URL)
  --host <address>    address to listen at (default: 127.0.0.1, this machine only; 0.0.0.0 for the shop's network)
  --port <number>     port to listen at (default: 8420; 0 for any free one)
  --tls-cert <file>   certificate (PEM), with --tls-key: serve https
  --tls-key <file>    its private key (PEM)
`;

const { values: options } = parseArgs({
  options: {
    data: { type: 'string' },
    host: { type: 'string', default: '127.0.0.1' },
    port: { type: 'string', default: '8420' },
    'tls-cert': { type: 'string' },
    'tls-key': { type: 'string' },
    help: { type: 'boolean', default: false },
  },
});

if (options.help) process.stdout.write(HELP);
else
  try {
    await start();
  } catch (error) {
    if (!(error instanceof StoreRefusal)) throw error;
    process.stderr.write(`${error.message}\n`);
    process.exitCode = 2;
  }

async function start(): Promise<void> {
  const tls = tlsFiles();
  process.stdout.write('Opening the data: at the first start this takes a few seconds.\n');
  const store = await openStore(placeOf(options.data === undefined ? {} : { data: options.data }, process.env));
  const services = makeServices({
    store,
    now: () => new Date(),
    out: process.stdout,
    err: process.stderr,
    isSecure: tls !== undefined,
    clientFolder: join(import.meta.dirname, '..', 'client', 'dist'),
    createDemonstration: async (db, stamp) => {
      const answer = await createDemonstration(db, stamp);
      if (!answer.ok) throw refusedInput([{ path: [], refusal: answer.refusal }]);
      return { aircraftId: answer.aircraftId };
    },
  });
  const needsFirst = await isFirstRun(store.db);
  const server = serve(
    {
      fetch: makeApp(services).fetch,
      hostname: options.host,
      port: Number(options.port),
      ...(tls === undefined ? {} : { createServer: createTlsServer, serverOptions: tls }),
    },
    ({ port }) => {
      const host = options.host === '0.0.0.0' ? 'localhost' : options.host;
      process.stdout.write(`Tarebook is at ${tls === undefined ? 'http' : 'https'}://${host}:${port}/\n`);
      if (needsFirst) services.firstRunCode.show();
    },
  );
  server.once('error', (error) => {
    process.stderr.write(`Cannot listen at ${options.host}, port ${options.port}: ${error.message}\n`);
    process.exitCode = 2;
    void store.close();
  });
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => void stop(server));

  async function stop(running: ServerType): Promise<void> {
    services.stop();
    await new Promise((resolve) => running.close(resolve));
    await store.close();
    process.exit();
  }
}

function tlsFiles(): { cert: string; key: string } | undefined {
  const [cert, key] = [options['tls-cert'], options['tls-key']];
  if (cert === undefined && key === undefined) return undefined;
  if (cert === undefined || key === undefined)
    throw new Error('Only one of --tls-cert and --tls-key is given: give both.');
  return { cert: readFileSync(cert, 'utf8'), key: readFileSync(key, 'utf8') };
}
