/** The table of threats names tests that are there, by file and the beginning of a title. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '../..');

it('[P4] every line of the table of threats names a test that shows it', () => {
  const text = readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8');
  const table = /## Threats[\s\S]*?\n## /.exec(text)?.[0] ?? '';
  const rows = table.split('\n').filter((line) => line.startsWith('| ') && !/^\| (who wants what|---)/.test(line));
  expect(rows.length).toBeGreaterThan(15);
  const missing = rows.flatMap((row) => {
    const shown = row.split(' | ').at(-1) ?? '';
    // `file`: part of a title; part of another title
    const named = [...shown.matchAll(/`([\w/-]+)`(?:: ([^`|]+))?/g)];
    if (named.length === 0) return [row];
    return named.flatMap(([, file = '', titles = '']) => {
      const path = join(ROOT, 'tests', `${file}.test.ts`);
      if (!existsSync(path)) return [file];
      const tests = readFileSync(path, 'utf8');
      const parts = titles.split(/[;.,] |[;.]$/).map((title) => title.trim());
      return parts.filter((title) => title !== '' && !tests.includes(title)).map((title) => `${file}: ${title}`);
    });
  });
  expect(missing).toEqual([]);
});
