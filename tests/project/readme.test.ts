/**
 * README.md shows a command, its output and a file of entries: they are run as written, so that a reader is never told what
 * the product no longer says.
 */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runCommand } from '#api/command/run-command.ts';

const readme = await readFile('README.md', 'utf8');
const folder = await mkdtemp(join(tmpdir(), 'tarebook-readme-'));
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('README.md', () => {
  it('[C1] its example prints what it shows, and its entries can be recorded after it', {
    timeout: 60_000,
  }, async () => {
    const command = block('sh', 'tarebook -- import');
    const data = join(folder, 'data');
    const imported = await run([...wordsOf(command), '--data', data]);
    expect(imported.exit).toBe(0);
    expect(imported.out).toBe(block('text', 'Predicted empty weight'));

    const file = join(folder, 'entries.json');
    await writeFile(file, block('json', '"kind": "correction"'));
    const recorded = await run(['record', file, '--data', data]);
    expect(recorded.err).toBe('');
    expect(recorded.out).toContain('2 of 2 entries recorded.');
    expect(recorded.out).toContain('correction of 25');
  });

  it('[C1] its first command is the example it shows', async () => {
    const { scripts } = JSON.parse(await readFile('package.json', 'utf8')) as { scripts: Record<string, string> };
    const script = (scripts['example'] ?? '').replace('node api/command/tarebook.js', '');
    expect(splitWords(script)).toEqual(wordsOf(block('sh', 'tarebook -- import')));
  });
});

/** The fenced block of a language that holds a text. */
function block(language: string, holding: string): string {
  const blocks = [...readme.matchAll(new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``, 'g'))].map(
    (match) => match[1],
  );
  const found = blocks.find((text) => text?.includes(holding));
  if (found === undefined) throw new Error(`README.md has no ${language} block that holds ${holding}`);
  return found;
}

/** What a shell would hand to the command behind `--`. */
function wordsOf(command: string): readonly string[] {
  const words = splitWords(command.replaceAll('\\\n', ' '));
  return words.slice(words.indexOf('--') + 1);
}

function splitWords(line: string): readonly string[] {
  return [...line.matchAll(/"([^"]*)"|(\S+)/g)].map((match) => match[1] ?? match[2] ?? '');
}

async function run(words: readonly string[]) {
  const told = { out: '', err: '' };
  const exit = await runCommand(words, {
    out: { write: (text) => (told.out += text) },
    err: { write: (text) => (told.err += text.startsWith('Preparing') ? '' : text) },
    env: {},
    now: () => new Date('2026-06-01T12:00:00'),
    user: () => 'JM',
  });
  return { exit, ...told };
}
