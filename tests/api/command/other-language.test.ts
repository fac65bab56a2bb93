/**
 * In a language made up for the test, which puts the words of every message between ⟦ and ⟧, no English is left in what the command says: what stands
 * outside is the shop's own, or a name that is typed to the command.
 */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it, vi } from 'vitest';
import { englishIn, markedWords, ownWords } from '#tests/support/made-up-language.ts';

const folder = await mkdtemp(join(tmpdir(), 'tarebook-words-'));
afterAll(() => rm(folder, { recursive: true, force: true }));
await writeFile(join(folder, 'de.json'), JSON.stringify(markedWords('words')));
Object.assign(process.env, { TAREBOOK_LOCALE: 'de-AT', TAREBOOK_WORDS: folder });
// The language is read once, and the words above were collected in English.
vi.resetModules();
const { describeInShop } = await import('./shop.ts');
const { readServerOptions } = await import('#api/server-options.ts');
const { helpText } = await import('#api/server-settings.ts');
const { startServer } = await import('#api/start-server.ts');
const { everything, NAMES, TYPED } = await import('./everything.ts');

describeInShop('the command in another language', 'postgres', (shop) => {
  it('[N16] says nothing in English, with help, reports and refusals of every kind', { timeout: 300_000 }, async () => {
    const all = await everything(shop, folder);
    const jsonOf = async (...words: readonly string[]) => JSON.parse((await shop.run([...words, '--json'])).out);
    const entriesOf = async (name: string) => (await jsonOf('show', 'entries', '--aircraft', name)).entries;
    const besideOf = async (...brief: readonly string[]) => {
      const { remarks, content } = await jsonOf('brief', ...brief, '--aircraft', 'Dabchick');
      return [remarks, content.proposals.rows];
    };
    // Its page is signed, and stays as it was written.
    const page = (await readFile(join(folder, 'page.txt'), 'utf8')).matchAll(/^[a-zA-Z ]+: +(.*?) +\[/gm);
    const own = ownWords([
      ...[await entriesOf('Dabchick'), await entriesOf('Small'), [...page].map(([, value]) => value)],
      ...[await besideOf('show', '1'), await besideOf('make', '--as-known-at', '500'), await besideOf('make')],
    ]);
    const left: Record<string, readonly string[]> = {};
    for (const { words, out, err } of all) {
      const said = `${out}\n${err}`.replaceAll(folder, ' ');
      // A refusal names what may be written into a list or a file, and what was typed to the command.
      const typed = err === '' ? [] : [...TYPED, ...words.flatMap((word) => word.split(/\P{L}+/u))];
      const english = englishIn(outside(said), [...own, ...NAMES, ...typed]);
      if (english.length > 0) left[words.join(' ').replaceAll(folder, '…')] = english;
    }
    expect(JSON.stringify(left, null, 1)).toBe('{}');
  });

  it('[N16] nor does the server when it is started, asked for help, or told what it cannot do', async () => {
    const place = shop.place();
    const env = { DATABASE_URL: place.kind === 'postgres' ? place.url : '', TAREBOOK_TSL: 'local' };
    const local = ['--tls', 'local', '--tls-folder', join(folder, 'tls'), '--http-port', '0'];
    let said = helpText();
    const options = readServerOptions(['--port', '0', '--host', '0.0.0.0', '--metrics-port', '0', ...local], env);
    const stream = { write: (text: string) => (said += text) };
    if (options === undefined) throw new Error('no help was asked for');
    const server = await startServer(options, { out: stream, err: stream });
    await server.stop();
    expect(said.match(/https?:\/\//g)?.length).toBeGreaterThan(3);
    for (const args of REFUSED)
      expect(() => readServerOptions(args, env), args.join(' ')).toThrow(
        expect.objectContaining({ message: expect.stringContaining('⟧') }),
      );
    const names =
      said.match(/\b(https?:\/\/\S+|TAREBOOK_[A-Z_]+|DATABASE_URL|[A-Z0-9]{4}-[A-Z0-9]{4}|node \S+\.ts)\b/g) ?? [];
    expect(englishIn(outside(said), [...names, 'local'])).toEqual([]);
  });
});

const REFUSED = [
  ['--metrics-host', 'x'],
  ['--tls', 'x'],
  ['--tls', 'local'],
  ['--tls', 'local', '--tls-cert', 'x'],
  ['--tls-key', 'x'],
  ['--http-port', '1'],
  ['--tls-cert', 'x', '--tls-key', 'x', '--behind-https-proxy'],
  ['--port', 'x'],
  ['--backup-keep', '0'],
  ['--log', 'x'],
  ['--fly'],
];

/** What stands outside of the marks, a day in the form of another place, and no name: each of them is struck out by a line. */
function outside(said: string): readonly string[] {
  const NO_WORDS = [
    /⟦[^⟧]*⟧/g,
    // Options, and places in <> and [].
    /--[a-z-]+|<[^<>]+>|\[[a-z.]+\]/g,
    // Files, places in them, and what was written there.
    /\S+\.(csv|json|txt|zip|tar|pdf|pem|stl)\b|tarebook-data| \/[^:\s]*:|“[^”]*”/g,
    // Hashes and fingerprints; moments as the page of a checkpoint has them.
    /\b[0-9a-f]{8,64}\b|\b([0-9a-f]{4} ){7}[0-9a-f]{4}\b|\b([0-9A-F]{2}:){31}[0-9A-F]{2}\b|\b\d{4}-\d{2}-\d{2}T\S+Z/g,
    // What Node says of files and hosts.
    /(Expected property name|Unexpected token|invalid zip data).*|\b(ENOENT|ECONNREFUSED)\b/g,
  ];
  return NO_WORDS.reduce((rest, one) => rest.replaceAll(one, ' '), said)
    .split('\n')
    .flatMap((line) => [line.trim(), ...(line.match(/\d{4}-\d{2}-\d{2}/g) ?? []).map((day) => `day ${day}`)]);
}
