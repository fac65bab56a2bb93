/** What the server can be told: one list for its help, its README and what it reads. */
import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { OptionRefusal, readServerOptions } from '#api/server-options.ts';
import { helpText, SETTINGS, type Setting } from '#api/server-settings.ts';
import { startServerProcess } from '#tests/support/server-process.ts';

describe('settings', () => {
  it('[Y4] README.md lists each with its option, its variable and what it means', async () => {
    const readme = await readFile('README.md', 'utf8');
    const [, below = ''] = readme.split('| option | environment | meaning |\n| --- | --- | --- |\n');
    const code = (text: string | undefined) => (text === undefined ? '' : `\`${text}\``);
    const rows = SETTINGS.map(({ option, value, variable, meaning }: Setting) => {
      const spelled = option === undefined ? undefined : `--${[option, value].filter(Boolean).join(' ')}`;
      return `| ${code(spelled)} | ${code(variable)} | ${meaning} |`;
    });
    expect(below.split('\n\n')[0]?.split('\n')).toEqual(rows);
  });

  it('[Y4] the help lists each, and fits into a window', () => {
    const help = helpText();
    for (const { option, variable } of SETTINGS as readonly Setting[]) {
      if (option !== undefined) expect(help).toContain(`--${option}`);
      if (variable !== undefined) expect(help).toContain(variable);
    }
    for (const line of help.split('\n')) expect(line.length).toBeLessThan(130);
  });

  it('[Y4] every variable in the list is read: none of them takes nonsense or changes nothing', () => {
    const plain = readServerOptions([], {});
    const tried: Readonly<Record<string, Readonly<Record<string, string>>>> = {
      DATABASE_URL: { DATABASE_URL: 'postgres://a@b/c' },
      TAREBOOK_READ_DATABASE_URL: {
        DATABASE_URL: 'postgres://a@b/c',
        TAREBOOK_READ_DATABASE_URL: 'postgres://a@d/c',
      },
      TAREBOOK_HTTP_PORT: { TAREBOOK_TLS: 'local', TAREBOOK_HTTP_PORT: '1' },
      TAREBOOK_TLS: { TAREBOOK_TLS: 'local' },
      TAREBOOK_TLS_FOLDER: { TAREBOOK_TLS: 'local', TAREBOOK_TLS_FOLDER: 'kept' },
      TAREBOOK_TLS_CERT: { TAREBOOK_TLS_CERT: 'a', TAREBOOK_TLS_KEY: 'b' },
      TAREBOOK_TLS_KEY: { TAREBOOK_TLS_CERT: 'a', TAREBOOK_TLS_KEY: 'c' },
      TAREBOOK_PROXY: { TAREBOOK_PROXY: 'https' },
      TAREBOOK_LOG: { TAREBOOK_LOG: 'json' },
      TAREBOOK_METRICS_HOST: { TAREBOOK_METRICS_PORT: '1', TAREBOOK_METRICS_HOST: '::1' },
    };
    for (const { variable } of SETTINGS as readonly Setting[]) {
      // The language and its words are read before the options: `tests/api/words/chosen.test.ts`.
      if (variable === undefined || variable === 'TAREBOOK_LOCALE' || variable === 'TAREBOOK_WORDS') continue;
      const env = tried[variable] ?? { [variable]: '7' };
      expect({ variable, options: readServerOptions([], env) }).not.toEqual({ variable, options: plain });
    }
    expect(readServerOptions([], {})).toEqual(plain);
  });

  it('[Y4] values that make no sense are refused, by option and by variable', () => {
    for (const [variable, values] of Object.entries({
      TAREBOOK_LOG: ['loud', 'JSON'],
      TAREBOOK_METRICS_PORT: ['-1', '65536', 'any'],
      TAREBOOK_METRICS_HOST: ['0.0.0.0'],
      TAREBOOK_DRAIN_SECONDS: ['-1', '301', '1.5'],
      TAREBOOK_PORT: ['many'],
      TAREBOOK_TLS: ['yes'],
    }))
      for (const value of values)
        expect(() => readServerOptions([], { [variable]: value }), `${variable}=${value}`).toThrow(OptionRefusal);
    expect(readServerOptions(['--log', 'json', '--drain-seconds', '5', '--metrics-port', '0'], {})).toMatchObject({
      log: 'json',
      drainMs: 5_000,
      metrics: { host: '127.0.0.1', port: 0 },
    });
  });

  it('[Y4] a copy to read from goes with a PostgreSQL database, has its own URL, and that is never said', () => {
    const refusalOf = (env: Readonly<Record<string, string>>, args: readonly string[] = []) => {
      try {
        return readServerOptions(args, env);
      } catch (error) {
        expect(error).toBeInstanceOf(OptionRefusal);
        return String(error);
      }
    };
    const copy = { TAREBOOK_READ_DATABASE_URL: 'postgres://a:secret@d/c' };
    const both = { ...copy, DATABASE_URL: 'postgres://a@b/c' };
    expect(refusalOf(copy)).toContain('goes with DATABASE_URL');
    expect(refusalOf(both, ['--data', 'folder'])).toContain('goes with DATABASE_URL');
    for (const url of ['secret', 'http://a:secret@d/c']) {
      const refusal = refusalOf({ ...both, TAREBOOK_READ_DATABASE_URL: url });
      expect(refusal).toContain('is not a PostgreSQL URL');
      expect(refusal).not.toContain('secret');
    }
    expect(refusalOf(both)).toMatchObject({ copyUrl: 'postgres://a:secret@d/c' });
    expect(refusalOf({ ...both, TAREBOOK_READ_DATABASE_URL: '' })).toMatchObject({ copyUrl: undefined });
  });

  it('[Y4] a variable that means nothing is said at the start, with the one that was likely meant; in JSON where that was asked for', async () => {
    const env = {
      TAREBOOK_PROT: '8500',
      TAREBOOK_TEST_ANYTHING: '1',
      TAREBOOK_LOG: 'json',
      DATABASE_URL: 'postgres://127.0.0.1:1/none',
    };
    const server = startServerProcess(['--port', '0'], env);
    expect(await server.ended).toBe(2);
    const [first = '', ...rest] = server.said().split('\n');
    expect(JSON.parse(first)).toMatchObject({
      level: 'error',
      message: expect.stringContaining('is it TAREBOOK_PORT?'),
    });
    expect(rest.join('')).not.toContain('TAREBOOK_TEST_ANYTHING');
  });
});
