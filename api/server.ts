/** Listens. What it listens with is made in `start-server.ts`. */
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { OptionRefusal, readServerOptions } from './server-options.ts';
import { helpText } from './server-settings.ts';
import { startServer } from './start-server.ts';

/** More than the last requests get, and a store needs to close. */
const MOST_STOPPING_MS = 15_000;

try {
  const options = readServerOptions(process.argv.slice(2), process.env);
  if (options === undefined) process.stdout.write(helpText());
  else {
    const starting = startServer(options, { out: process.stdout, err: process.stderr });
    // Heard from the first moment: a signal during the start stops what the start has made, and is no torn end.
    for (const signal of ['SIGINT', 'SIGTERM'] as const)
      process.once(signal, () => {
        // A second signal ends the process as it stands: nothing acknowledged is lost by that.
        for (const again of ['SIGINT', 'SIGTERM'] as const) process.once(again, () => process.exit(1));
        // A start that fails is told below.
        const stopped = starting.then((server) => server.stop());
        // Whatever does not end: what was acknowledged is in the database, and a supervisor must not wait for ever.
        void starting.then(
          () => setTimeout(() => process.exit(1), (options.drainMs ?? 0) + MOST_STOPPING_MS).unref(),
          () => undefined,
        );
        void stopped.then(
          () => process.exit(0),
          () => undefined,
        );
      });
    await starting;
  }
} catch (error) {
  if (!(error instanceof StoreRefusal || error instanceof OptionRefusal)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
}
