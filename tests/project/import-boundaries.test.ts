/**
 * The lint's own test (rule P1): a second override for a folder would quietly replace the first, so every boundary is crossed here on
 * purpose, in a copy of the folders outside the repository, and each crossing must be reported.
 */
import { execFile } from 'node:child_process';
import { cp, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const IMPORTS = 'lint/style/noRestrictedImports';
const GLOBALS = 'lint/style/noRestrictedGlobals';

type Crossing = readonly [file: string, code: string, rule: string];

const CROSSINGS: readonly Crossing[] = [
  ...[
    '#db/database.ts',
    '#api/x.ts',
    '#client/x.ts',
    '#tests/x.ts',
    '../db/x.ts',
    '../../api/x.ts',
    '../client/x.ts',
    '../tests/x.ts',
  ].map((from): Crossing => ['shared/x.ts', imported(from), IMPORTS]),
  ...[
    'node:fs',
    'node:crypto',
    'fs',
    'path',
    'crypto',
    'pg',
    'kysely',
    'hono',
    'hono/client',
    '@electric-sql/pglite',
  ].map((from): Crossing => ['shared/deep/x.ts', imported(from), IMPORTS]),
  ['shared/x.ts', "import type { Database } from '#db/database.ts';\nexport type D = Database;", IMPORTS],
  ['shared/x.ts', "export { openStore } from '#db/engine/open-store.ts';", IMPORTS],
  ['shared/x.ts', "export const later = () => import('#db/database.ts');", IMPORTS],
  ...['process', 'Buffer', 'crypto', 'fetch', 'setTimeout', 'performance', 'document', 'window', 'localStorage'].map(
    (name): Crossing => ['shared/x.ts', `export const used = [${name}];`, GLOBALS],
  ),
  ...[
    '#api/x.ts',
    '#client/x.ts',
    '#tests/x.ts',
    '../api/x.ts',
    '../../client/x.ts',
    'hono',
    'hono/streaming',
    '@hono/zod-openapi',
  ].map((from): Crossing => ['db/x.ts', imported(from), IMPORTS]),
  ['db/x.ts', "import type { App } from '#api/app.ts';\nexport type A = App;", IMPORTS],
  ...['#client/x.tsx', '#tests/x.ts', '../client/x.ts', '../../tests/x.ts'].map(
    (from): Crossing => ['api/x.ts', imported(from), IMPORTS],
  ),
  ['api/x.js', imported('#client/x.tsx'), IMPORTS],
  ...[
    '#db/database.ts',
    '#api/x.ts',
    '#tests/x.ts',
    '../db/x.ts',
    '../../api/x.ts',
    'node:fs',
    'pg',
    'kysely',
    'hono',
  ].map((from): Crossing => ['client/x.ts', imported(from), IMPORTS]),
  ['client/x.tsx', "import type { App } from '#api/app.ts';\nexport type A = App;", IMPORTS],
  ['client/x.ts', "import type { Database } from '#db/database.ts';\nexport type D = Database;", IMPORTS],
  ...['shared', 'db', 'api', 'client'].flatMap((folder): Crossing[] => [
    [`${folder}/x.ts`, "console.log('x');", 'lint/suspicious/noConsole'],
    [`${folder}/x.ts`, 'const x = 1;\nexport default x;', 'lint/style/noDefaultExport'],
    [`${folder}/x.ts`, 'export const x = (a: any) => a;', 'lint/suspicious/noExplicitAny'],
    [`${folder}/x.ts`, 'export const x = (a: string | undefined) => a!;', 'lint/style/noNonNullAssertion'],
    [`${folder}/x.ts`, "export * from './y.ts';", 'lint/performance/noReExportAll'],
  ]),
];

/** What each folder may do; nothing of it may be reported. */
const PERMITTED: readonly (readonly [file: string, code: string])[] = [
  ['shared/x.ts', `${imported('#shared/result.ts')}\nexport { z } from 'zod';`],
  [
    'db/x.ts',
    `${imported('#shared/result.ts')}\nexport { readFile } from 'node:fs/promises';\nexport { sql } from 'kysely';`,
  ],
  ['api/x.ts', `${imported('#shared/result.ts')}\nexport { openStore } from '#db/engine/open-store.ts';`],
  ['client/x.ts', imported('#shared/result.ts')],
  ['tests/x.ts', `${imported('#shared/result.ts')}\nexport { y } from '#db/x.ts';\nexport { z } from '#api/x.ts';`],
];

function imported(from: string): string {
  return `import { thing } from '${from}';\nexport const used = thing;`;
}

const Report = z.object({
  diagnostics: z.array(z.object({ category: z.string(), location: z.object({ path: z.string() }) })),
});

let folder = '';
/** The rules that reported each file. */
const reported = new Map<string, string[]>();

/** `shared/deep/x.ts` as its own file for each case: `shared/deep/case-7-x.ts`. */
function placeOf(file: string, at: number, kind: 'crossing' | 'permitted'): string {
  return join(dirname(file), `${kind}-${at}-${file.split('/').at(-1)}`);
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tarebook-lint-'));
  await cp(join(ROOT, 'biome.json'), join(folder, 'biome.json'));
  const cases = [
    ...CROSSINGS.map(([file, code], at) => [placeOf(file, at, 'crossing'), code] as const),
    ...PERMITTED.map(([file, code], at) => [placeOf(file, at, 'permitted'), code] as const),
  ];
  for (const [place, code] of cases) {
    await mkdir(join(folder, dirname(place)), { recursive: true });
    await writeFile(join(folder, place), `${code}\n`);
  }
  for (const { category, location } of await lint(folder))
    reported.set(location.path, [...(reported.get(location.path) ?? []), category]);
});

afterAll(() => rm(folder, { recursive: true, force: true }));

/** Biome answers with exit status 1 where it reports something; what it says is read all the same. */
function lint(cwd: string): Promise<z.infer<typeof Report>['diagnostics']> {
  const options = ['lint', '--vcs-enabled=false', '--reporter=json', '--max-diagnostics=none', '.'];
  const biome = join(ROOT, 'node_modules', '@biomejs', 'biome', 'bin', 'biome');
  return new Promise((resolve, reject) => {
    execFile(process.execPath, [biome, ...options], { cwd, maxBuffer: 1 << 26 }, (error, stdout) => {
      const read = Report.safeParse(stdout === '' ? undefined : JSON.parse(stdout));
      if (read.success) resolve(read.data.diagnostics);
      else reject(error ?? read.error);
    });
  });
}

describe('boundaries', () => {
  it.each(CROSSINGS.map((crossing, at) => [...crossing, at] as const))(
    '[P1] in %s, %j is reported by %s',
    (file, _, rule, at) => {
      expect(reported.get(placeOf(file, at, 'crossing')) ?? []).toContain(rule);
    },
  );

  it.each(PERMITTED.map((one, at) => [...one, at] as const))('[P1] in %s, %j is permitted', (file, _, at) => {
    const rules = (reported.get(placeOf(file, at, 'permitted')) ?? []).filter((rule) =>
      [IMPORTS, GLOBALS].includes(rule),
    );
    expect(rules).toEqual([]);
  });

  it('[P1] shared has no clock and no chance of its own, and turns no lint rule off', async () => {
    const files = await readdir(join(ROOT, 'shared'), { recursive: true });
    const offenders: string[] = [];
    for (const file of files.filter((name) => name.endsWith('.ts'))) {
      const text = await readFile(join(ROOT, 'shared', file), 'utf8');
      if (
        /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\bbiome-ignore\b|@ts-(?:ignore|expect-error|nocheck)/.test(text)
      )
        offenders.push(file);
    }
    expect(files.length).toBeGreaterThan(20);
    expect(offenders).toEqual([]);
  });
});
