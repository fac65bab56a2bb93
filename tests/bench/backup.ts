/**
 * A backup of 200,000 entries of one aircraft, and its restoring, on the embedded engine in a folder: time, size, and the largest heap and resident
 * size of the process while it went on. Each part is a process of its own, so that one does not measure what another has left behind.
 * `TAREBOOK_BENCH_DATABASE_URL`: an empty PostgreSQL database to back up from instead.
 */
import { execFileSync } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { makeBackup } from '#db/backup/make-backup.ts';
import { checkBackup, restoreBackup } from '#db/backup/restore-backup.ts';
import { openStore, type StorePlace } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { createAircraft } from '#db/ledger/create-aircraft.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import { makeEntries } from './make-chain.ts';

const PARTS = 50_000;
const WEIGHINGS = 100_000;

export async function benchBackup(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'tarebook-bench-'));
  try {
    const url = process.env['TAREBOOK_BENCH_DATABASE_URL'];
    const said = ['fill', 'make', 'check', 'restore'].map((step) =>
      execFileSync(process.execPath, ['--expose-gc', import.meta.filename, step, folder, url ?? ''], {
        encoding: 'utf8',
      }),
    );
    const { size } = await stat(join(folder, 'backup.tar'));
    const what = `Backup of ${(2 * PARTS + WEIGHINGS).toLocaleString('en-GB')} entries, ${url === undefined ? 'embedded engine' : 'PostgreSQL'}`;
    return `${what}\n${said.join('')}  file ${(size / 1_048_576).toFixed(1)} MB\n`;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

const STEPS: Readonly<Record<string, (folder: string, from: StorePlace) => Promise<unknown>>> = {
  async fill(_, from) {
    const store = await openStore(from);
    const aircraftId = randomUUID();
    await createAircraft(store.db, { id: aircraftId, name: 'Bench (invented)' });
    await appendEntries(store.db, { aircraftId, contents: makeEntries(PARTS, WEIGHINGS).map(entryText) });
    await store.close();
  },
  async make(folder, from) {
    const store = await openStore(from);
    const started = performance.now();
    await makeBackup(store.db, join(folder, 'backup.tar'), new Date());
    const tookMs = performance.now() - started;
    await store.close();
    return tookMs;
  },
  check: async (folder) => checkBackup(join(folder, 'backup.tar')),
  restore: (folder) => restoreBackup({ kind: 'folder', path: join(folder, 'restored') }, join(folder, 'backup.tar')),
};

/** The child process of a step. */
async function measured(step: string, folder: string, url: string): Promise<string> {
  let [heap, resident] = [0, 0];
  const look = () => {
    const { heapUsed, rss } = process.memoryUsage();
    [heap, resident] = [Math.max(heap, heapUsed), Math.max(resident, rss)];
  };
  const timer = setInterval(look, 20);
  const started = performance.now();
  const from: StorePlace = url === '' ? { kind: 'folder', path: join(folder, 'data') } : { kind: 'postgres', url };
  const own = await STEPS[step]?.(folder, from);
  const tookMs = typeof own === 'number' ? own : performance.now() - started;
  look();
  clearInterval(timer);
  const most = `most heap ${Math.round(heap / 1_048_576)} MB, resident ${Math.round(process.resourceUsage().maxRSS / 1024)} MB`;
  return `  ${step.padEnd(8)} ${(tookMs / 1000).toFixed(1)} s   ${most}\n`;
}

const [, file = '', step, folder = '', url = ''] = process.argv;
if (file === import.meta.filename && step !== undefined) process.stdout.write(await measured(step, folder, url));
