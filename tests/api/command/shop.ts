/**
 * A shop to run the command in: a store of its own, on either engine, and a folder for the files it imports. `describeInShops` runs a
 * block once with a data folder (`--data`) and once with PostgreSQL (`DATABASE_URL`).
 */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect } from 'vitest';
import type { StorePlace } from '#db/engine/open-store.ts';
import { makeDatabase, removePlace, startedFolder } from '#tests/support/engines.ts';
import { AircraftList, type Report } from './report-shape.ts';
import { jsonOf, placesOf, type RunOptions, reportOf, run, type Said } from './run.ts';

export type ShopKind = 'folder' | 'postgres';

export type Shop = {
  readonly kind: ShopKind;
  place(): StorePlace;
  /** Runs the command on this shop's store. */
  run(words: readonly string[], options?: RunOptions): Promise<Said>;
  /** Runs it with `--json` and answers the report; the exit status must be 0 or 1. */
  report(words: readonly string[], options?: RunOptions): Promise<Report>;
  /** Runs it with `--json`, expects a refusal that leaves the store as it was, and answers where and why. */
  refusal(words: readonly string[], options?: RunOptions): Promise<string[]>;
  /** Writes a file and answers its path. */
  file(name: string, content: string | Uint8Array): Promise<string>;
  /** Names and numbers of last entries of all aircraft. */
  aircraft(): Promise<string[]>;
  entryCount(aircraft: string): Promise<number>;
};

export function describeInShops(name: string, body: (shop: Shop) => void): void {
  for (const kind of ['folder', 'postgres'] as const) describeInShop(name, kind, body);
}

export function describeInShop(name: string, kind: ShopKind, body: (shop: Shop) => void): void {
  describe(`${name} (${kind})`, () => {
    let place: StorePlace | undefined;
    let files = '';
    beforeAll(async () => {
      place = kind === 'folder' ? { kind, path: await startedFolder() } : { kind, url: await makeDatabase() };
      files = await mkdtemp(join(tmpdir(), 'tarebook-files-'));
    });
    afterAll(async () => {
      if (place !== undefined) await removePlace(place);
      await rm(files, { recursive: true, force: true });
    });
    body(openShop(kind, () => ({ place: given(place), files })));
  });
}

/** Which words and environment lead the command to a store. */
export function wayTo(place: StorePlace): { words: readonly string[]; env: Readonly<Record<string, string>> } {
  switch (place.kind) {
    case 'folder':
      return { words: ['--data', place.path], env: {} };
    case 'postgres':
      return { words: [], env: { DATABASE_URL: place.url } };
    case 'memory':
      return { words: ['--memory'], env: {} };
  }
}

function openShop(kind: ShopKind, opened: () => { place: StorePlace; files: string }): Shop {
  const runHere = (words: readonly string[], options: RunOptions = {}) => {
    const way = wayTo(opened().place);
    return run([...words, ...way.words], { ...options, env: { ...way.env, ...options.env } });
  };
  const list = async () => jsonOf(await runHere(['aircraft', '--json']), AircraftList).aircraft;
  const aircraft = async () => (await list()).map((one) => `${one.name} ${one.headSeq}`);
  return {
    kind,
    place: () => opened().place,
    run: runHere,
    report: async (words, options) => reportOf(await runHere([...words, '--json'], options)),
    async refusal(words, options) {
      const before = await aircraft();
      const places = placesOf(await runHere([...words, '--json'], options));
      expect(await aircraft()).toEqual(before);
      return places;
    },
    async file(name, content) {
      const path = join(opened().files, name);
      await writeFile(path, content);
      return path;
    },
    aircraft,
    entryCount: async (name) => (await list()).find((one) => one.name === name)?.headSeq ?? 0,
  };
}

/** What must be there, or the test is told so. */
export function given<Value>(value: Value | undefined): Value {
  if (value === undefined) throw new Error('It is not there.');
  return value;
}

/** The lines of a file, each with a line feed. */
export function lines(...all: readonly string[]): string {
  return all.map((line) => `${line}\n`).join('');
}
