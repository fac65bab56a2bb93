/**
 * A data folder as a first start leaves it. Making one takes five seconds of a processor, a copy less than one, and more than a hundred test
 * files want one: so the first that asks makes it, for the whole run. Tests of the first start itself take `makeFolder` of `engines.ts`.
 */
import { existsSync } from 'node:fs';
import { cp, mkdtemp, rename, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inject } from 'vitest';
import type { TestProject } from 'vitest/node';
import { openStore } from '#db/engine/open-store.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the run keeps what `readyFolder` copies. */
    readyPlace: string;
  }
}

export async function setup(project: TestProject): Promise<() => Promise<void>> {
  const place = await mkdtemp(join(tmpdir(), 'tarebook-ready-'));
  project.provide('readyPlace', place);
  return () => rm(place, { recursive: true, force: true });
}

/** Makes the folder `path`, which must not be there, into one that has been started once and shut down; outside of a test run it is left to its first start. */
export async function readyFolder(path: string): Promise<string> {
  if (process.env['VITEST'] === undefined) return path;
  await cp(await first(), path, { recursive: true });
  return path;
}

async function first(): Promise<string> {
  const ready = join(inject('readyPlace'), 'data');
  if (existsSync(ready)) return ready;
  const making = join(await mkdtemp(`${ready}-`), 'data');
  const store = await openStore({ kind: 'folder', path: making });
  await store.close();
  // Where another was quicker, that one serves.
  await rename(making, ready).catch((error: unknown) => {
    if (!existsSync(ready)) throw error;
  });
  return ready;
}
