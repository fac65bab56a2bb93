/** The language that a shop asks for, by real processes: what it reads, and what it is told where that cannot be had. */
import { spawnSync } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

describe('the language of the shop', () => {
  let folder: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tarebook-words-'));
    await writeFile(
      join(folder, 'pl.json'),
      JSON.stringify({
        '{0} of {1} parts': '{1}: z nich {0}',
        'row|rows': { one: '{0} wiersz', few: '{0} wiersze', many: '{0} wierszy', other: '{0} wiersza' },
        'as released': 'po wyjęciu',
      }),
    );
    await writeFile(join(folder, 'it.json'), '{ "Weigh": ');
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  const run = (locale: string, ...words: readonly string[]) =>
    spawnSync(process.execPath, words, {
      encoding: 'utf8',
      env: { ...process.env, TAREBOOK_LOCALE: locale, TAREBOOK_WORDS: folder },
    });
  const said = (locale: string, code: string): unknown => {
    const program = `import { say, counted, term } from './shared/words/say.ts';
      import { showFixed } from './shared/quantity/show.ts';
      import { dayWords, monthWords, momentWords } from './shared/words/day.ts';
      import { readMass } from './shared/quantity/typed.ts';
      process.stdout.write(JSON.stringify(${code}))`;
    const { stdout, stderr } = run(locale, '--input-type=module', '--eval', program);
    return stdout === '' ? stderr : JSON.parse(stdout);
  };

  it('[N16] places stand in the order of the language, counted words have its forms, values of the rules its names', () => {
    expect(said('pl-PL', `say\`\${3} of \${8} parts\``)).toBe('8: z nich 3');
    expect(said('pl', `[1, 3, 5, 22].map((count) => counted(count, 'row', 'rows'))`)).toEqual([
      '1 wiersz',
      '3 wiersze',
      '5 wierszy',
      '22 wiersze',
    ]);
    expect(said('pl', `[term('as released'), term('trimmed'), term(undefined) ?? 'nothing', say\`Weigh\`]`)).toEqual([
      'po wyjęciu',
      'trimmed',
      'nothing',
      'Weigh',
    ]);
  });

  it('[N16] days are written as the place writes them, and as ISO 8601 where none is named', () => {
    const code = `[dayWords('2026-06-05'), dayWords('2026-06-05T23:30:00.000Z'), monthWords('2026-06-05'), momentWords('2026-06-05T23:30:00.000Z'), dayWords('soon')]`;
    const dayOf = (locale: string) => (said(locale, code) as readonly string[])[0];
    expect(said('', code)).toEqual(['2026-06-05', '2026-06-05', '2026-06', '2026-06-05 23:30 UTC', 'soon']);
    expect(said('de-AT', code)).toEqual(['05.06.2026', '05.06.2026', 'Juni 2026', '05.06.2026 23:30 UTC', 'soon']);
    expect(['en-GB', 'en-US', 'fr-FR', 'sv-SE'].map(dayOf)).toEqual([
      ...['5 Jun 2026', 'Jun 5, 2026', '5 juin 2026', '5 juni 2026'],
    ]);
  });

  it('[N16] figures are written and read as the place does; a comma that can be read two ways is asked about elsewhere', () => {
    const code = `[showFixed(1234.5, 2), readMass('1,234 kg')]`;
    expect(said('de-DE', code)).toMatchObject(['1\u00a0234,50', { ok: true, value: { si: 1.234 } }]);
    expect(said('en-AT', code)).toMatchObject(['1\u00a0234,50', { ok: true, value: { si: 1.234 } }]);
    expect(said('fr-FR', '[showFixed(1234.5, 2)]')).toEqual(['1\u00a0234,50']);
    expect(said('en-US', code)).toMatchObject(['1,234.50', { ok: false, refusal: { code: 'ambiguous-comma' } }]);
    expect(said('', code)).toMatchObject(['1,234.50', { ok: false, refusal: { code: 'ambiguous-comma' } }]);
  });

  it('[N16] server and command say what is wrong with what was asked for, and do nothing', () => {
    for (const program of ['api/server.ts', 'api/command/tarebook.js']) {
      for (const locale of ['de_AT', '../../etc']) {
        const answer = run(locale, program, '--data', join(folder, 'data'));
        expect([answer.status, answer.stdout], `${program} in ${locale}`).toEqual([2, '']);
        expect(answer.stderr).toContain(`TAREBOOK_LOCALE is “${locale}”`);
        expect(answer.stderr).toContain('such as en-GB');
      }
      const broken = run('it-CH', program, '--data', join(folder, 'data'));
      expect([broken.status, broken.stdout]).toEqual([2, '']);
      expect(broken.stderr).toMatch(/it\.json cannot be read: .+Put it right/);
    }
  });
});
