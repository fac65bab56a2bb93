/** What the product stands on: every package that goes with it may be used so, and is the one that was looked at. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { z } from 'zod';

const ROOT = join(import.meta.dirname, '../..');

/** SPDX names. OFL is of a font, which it allows to be embedded. */
const FREE = [
  'MIT',
  'Apache-2.0',
  'ISC',
  'BSD-2-Clause',
  'BSD-3-Clause',
  '0BSD',
  'BlueOak-1.0.0',
  'Unlicense',
  'OFL-1.1',
];

/** Of the build alone: nothing of it is in what a browser loads or the server runs. */
const OF_THE_BUILD = /^node_modules\/lightningcss(-|$)/;

/** Says its licence in a file and not in its description. */
const BY_FILE: Readonly<Record<string, RegExp>> = {
  'node_modules/png-js': /MIT License|Permission is hereby granted, free of charge/,
};

const Package = z.object({
  dev: z.boolean().optional(),
  optional: z.boolean().optional(),
  integrity: z.string().optional(),
  resolved: z.string().optional(),
});
const Lock = z.object({ packages: z.record(z.string(), Package) });
const Described = z.object({ license: z.string().optional() });

const locked = Object.entries(
  Lock.parse(JSON.parse(readFileSync(join(ROOT, 'package-lock.json'), 'utf8'))).packages,
).filter(([path]) => path !== '');
const production = locked.filter(([, { dev }]) => dev !== true);

it('[P3] every package of the lock file is held to its check sum', () => {
  expect(production.length).toBeGreaterThan(50);
  expect(locked.filter(([, { integrity }]) => !/^sha512-/.test(integrity ?? '')).map(([path]) => path)).toEqual([]);
});

it('[P3] every package that goes with the product has a licence under which it may, read where it is installed', () => {
  const installed = production.filter(([path]) => existsSync(join(ROOT, path, 'package.json')));
  expect(installed.length).toBeGreaterThan(50);
  const others = installed.filter(([path]) => !OF_THE_BUILD.test(path) && !isFree(path)).map(([path]) => path);
  expect(others).toEqual([]);
});

function isFree(path: string): boolean {
  const { license } = Described.parse(JSON.parse(readFileSync(join(ROOT, path, 'package.json'), 'utf8')));
  const byFile = BY_FILE[path];
  if (byFile !== undefined)
    return ['LICENSE', 'LICENSE.md', 'LICENSE.txt'].some(
      (name) => existsSync(join(ROOT, path, name)) && byFile.test(readFileSync(join(ROOT, path, name), 'utf8')),
    );
  if (license === undefined) return false;
  // Of alternatives one is enough; of what is joined, all have to be.
  return license
    .replace(/[()]/g, '')
    .split(' OR ')
    .some((choice) => choice.split(' AND ').every((name) => FREE.includes(name.trim())));
}
