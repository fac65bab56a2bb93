/** Rules and tests name each other (rule P2), and no file tells where or by whom it was made. */
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { idleTestsOf, titlesOf } from './test-titles.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

const RULES = [...readFileSync(join(ROOT, 'shared', 'RULES.md'), 'utf8').matchAll(/^- \*\*([A-Z]\d+)\*\* \S/gm)].map(
  ([, id]) => id ?? '',
);

const FILES = readdirSync(join(ROOT, 'tests'), { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.test\.tsx?$/.test(name))
  .map((name) => ({ name, text: readFileSync(join(ROOT, 'tests', name), 'utf8') }));

const TITLES = FILES.flatMap(({ name, text }) =>
  titlesOf(text).map(({ title, line }) => ({
    where: `${name}:${line}`,
    id: /^\[([A-Z]\d+)\] \S/.exec(title)?.[1],
    title,
  })),
);

describe('rules', () => {
  it('[P2] the list of rules names each id once', () => {
    expect(RULES.length).toBeGreaterThan(30);
    expect(RULES.filter((id, at) => RULES.indexOf(id) !== at)).toEqual([]);
  });

  it('[P2] every rule has a test', () => {
    const tested = new Set(TITLES.map(({ id }) => id));
    expect(RULES.filter((id) => !tested.has(id))).toEqual([]);
  });

  it('[P2] every test begins with the id of a rule that is in the list', () => {
    const strange = TITLES.filter(({ id }) => id === undefined || !RULES.includes(id));
    expect(strange.map(({ where, title }) => `${where} ${title}`)).toEqual([]);
  });

  it('[P2] every test file has titles that can be read, and none leaves a test idle', () => {
    const untitled = FILES.filter(({ text }) => titlesOf(text).length === 0);
    const idle = FILES.filter(({ text }) => idleTestsOf(text) > 0);
    expect([untitled, idle].map((files) => files.map(({ name }) => name))).toEqual([[], []]);
  });
});

describe('titles', () => {
  it('[P2] titles are read in every form in which tests are written', () => {
    const [it_, test_] = ['it', 'test'];
    const text = [
      `${it_}('[A1] one', () => {});`,
      `${it_}.each(['(', ")"])("[A2] two", () => {});`,
      `${it_}.each([/[)]/, 1 / 2])(\n  '[A3] it\\'s three',\n  () => {},\n);`,
      `${it_}.each<[string, number]>([['x', f(1)]])(\`[A4] four\`, g);`,
      `${test_}.concurrent('[A5] five', () => expect(emit('no title')));`,
      `await commit('no title'); limit('no title'); x.test('no title');`,
    ].join('\n');
    expect(titlesOf(text).map(({ title }) => title)).toEqual([
      '[A1] one',
      '[A2] two',
      "[A3] it's three",
      '[A4] four',
      '[A5] five',
    ]);
    expect(titlesOf(text).map(({ line }) => line)).toEqual([1, 2, 3, 7, 8]);
  });

  it('[P2] tests that do not run are seen', () => {
    const idle = ['skip', 'only', 'todo', 'skipIf'].map((word) => `it.${word}('x')`);
    expect(idle.map(idleTestsOf)).toEqual([1, 1, 1, 1]);
    expect(idleTestsOf(`${'it'}.each([])('x'); describe('x')`)).toBe(0);
  });
});

describe('files', () => {
  it('[P2] no file names a folder of one machine or the host of a package registry', () => {
    const machine = ['work', 'home', 'root', 'Users'].map((name) => `(?<![\\w.*#-])/${name}/\\w`).join('|');
    const hosts = ['npmjs', 'yarnpkg', 'npmmirror'].map((name) => `\\b${name}\\.(?:org|com)`).join('|');
    const told = new RegExp(`${machine}|${hosts}|\\bregistry\\.[a-z-]+\\.[a-z]{2,}\\b`);
    const files = execFileSync('git', ['ls-files', '-co', '--exclude-standard', '-z'], { cwd: ROOT, encoding: 'utf8' })
      .split('\0')
      .filter((name) => name !== '');
    expect(files.length).toBeGreaterThan(50);
    const telling = files.flatMap((name) => {
      const line = textOf(name)
        .split('\n')
        .findIndex((one) => told.test(one));
      return line < 0 ? [] : [`${name}:${line + 1}`];
    });
    expect(telling).toEqual([]);
    expect(told.test(`see ${['', 'home', 'ann', 'x'].join('/')}`)).toBe(true);
    expect(told.test(`https://registry.${['npmjs', 'org'].join('.')}/x`)).toBe(true);
    expect(told.test("from '#shared/problem/registry.ts' and work/hours")).toBe(false);
  });
});

/** A file that another process has just taken away has no text. */
function textOf(name: string): string {
  try {
    return readFileSync(join(ROOT, name), 'utf8');
  } catch {
    return '';
  }
}
