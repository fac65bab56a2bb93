/**
 * README.md shows a command, its output and a file of entries: they are run as written, so that a reader is never told what
 * the product no longer says.
 */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runCommand } from '#api/command/run-command.ts';
import { CORRECTION_FIELDS as ROW_FIELDS } from '#shared/aircraft-weighing/correction-from-words.ts';
import {
  CHECK_FIELDS,
  READING_FIELDS,
  RUN_FIELDS,
  SUPPORT_FIELDS,
  WEIGHED_FIELDS,
} from '#shared/aircraft-weighing/from-words.ts';
import { LAMINATE_FIELDS, REGION_FIELDS } from '#shared/layup/from-words.ts';
import { lineFieldsOf } from '#shared/layup/line-words.ts';
import { LINE_KINDS } from '#shared/layup/schedule.ts';
import {
  ARM_ROW_FIELDS,
  BURN_FIELDS,
  CASE_FIELDS,
  CORNER_FIELDS,
  LIMIT_FIELDS,
  LOAD_FIELDS,
  STATION_FIELDS,
} from '#shared/loading/from-words.ts';
import { PARTS_COLUMNS } from '#shared/table/parts-file.ts';
import { WEIGHINGS_COLUMNS } from '#shared/table/weighings-file.ts';
import { CORRECTION_FIELDS, FIELDS } from '#shared/words/fields.ts';

const readme = await readFile('README.md', 'utf8');
const folder = await mkdtemp(join(tmpdir(), 'tarebook-readme-'));
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('README.md', () => {
  it('[K1] its example prints what it shows, and its entries can be recorded after it', {
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

    await writeFile(file, block('json', '"limits"'));
    const limits = await run(['record', file, '--data', data]);
    expect(limits.err).toBe('');
    expect(limits.out).toContain(
      'loading limits: maximum weight 480.000 kg, 3 stations, envelope of 4 corners by station',
    );

    await writeFile(file, block('json', '"layUp"'));
    const laidUp = await run(['record', file, '--data', data]);
    expect(laidUp.err).toBe('');
    expect(laidUp.out).toContain('by lay-up');

    await writeFile(file, block('json', '"aircraft weighing"'));
    const weighed = await run(['record', file, '--data', data]);
    expect(weighed.err).toBe('');
    expect(weighed.out).toContain('signed by A. Signer');
    const shown = await run(['show', 'aircraft-weighing', '--data', data]);
    expect(shown.err).toBe('');
    for (const words of [
      'Empty weight  ',
      'signed by A. Signer (weighing authority 12)',
      'Unusable fuel',
      'Against parts',
    ])
      expect(shown.out).toContain(words);
  });

  it('[K1] it lists every kind of entry with every field that is read, and no other', () => {
    const told = tableBelow('holds this list against the fields that are read -->').map(([kind, fields]) => [
      kind,
      ofEachProcess(fields)
        .replace(/; (?:or by two supports|or on a bar|from the bench): /g, ', ')
        .split(', ')
        .sort(),
    ]);
    const read = [...Object.entries(FIELDS), ['correction', CORRECTION_FIELDS] as const];
    expect(Object.fromEntries(told)).toEqual(
      Object.fromEntries(read.map(([kind, fields]) => [kind, [...fields].sort()])),
    );
  });

  it('[E3] it lists every field of a lay-up schedule, and no other', () => {
    const [, below = ''] = readme.split('| in a schedule | fields |\n');
    const rows = (below.split('\n\n')[0] ?? '').split('\n').slice(1);
    const told = rows.map((row) => row.split('|').map((cell) => cell.trim().replaceAll('`', '')));
    const fieldsOf = (name: string) =>
      told
        .filter(([, first = '']) => first.split(', ').includes(name))
        .flatMap(([, , fields = '']) => fields.replaceAll(/ \([^)]*\)/g, '').split(/, | or /));
    expect(fieldsOf('all of it')).toEqual(LAMINATE_FIELDS);
    expect(fieldsOf('a region')).toEqual(REGION_FIELDS);
    for (const is of LINE_KINDS)
      expect([...fieldsOf('every line'), ...fieldsOf(is)].sort()).toEqual([...lineFieldsOf({ is })].sort());
  });

  it('[C1] it lists every field of loading limits, and no other', () => {
    const [, below = ''] = readme.split('| in loading limits | fields |\n');
    const rows = (below.split('\n\n')[0] ?? '').split('\n').slice(1);
    const told = rows.map((row) => {
      const [, name = '', fields = ''] = row.split('|').map((cell) => cell.trim().replaceAll('`', ''));
      return [name, fields.replaceAll(/ \([^)]*\)|; or instead .*|, and lists .*/g, '').split(', ')];
    });
    expect(Object.fromEntries(told)).toEqual({
      'all of it': [...LIMIT_FIELDS],
      ...STATION_FIELDS,
      'a row of arms': ARM_ROW_FIELDS,
      'a corner': CORNER_FIELDS,
      'a case': CASE_FIELDS,
      'a load': LOAD_FIELDS,
      'a burn': BURN_FIELDS,
    });
  });

  it('[A1] it lists every field of a weighing of the aircraft, and no other', () => {
    const [, below = ''] = readme.split('| in `weighed` | fields |\n');
    const rows = (below.split('\n\n')[0] ?? '').split('\n').slice(1);
    const told = rows.map((row) => row.split('|').map((cell) => cell.trim().replaceAll('`', '')));
    const fieldsOf = (name: string) =>
      told
        .filter(([, first = '']) => first.includes(name))
        .flatMap(([, , fields = '']) => fields.replaceAll(/ \([^)]*\)/g, '').split(', '));
    expect(fieldsOf('all of it')).toEqual(WEIGHED_FIELDS);
    expect(fieldsOf('supports')).toEqual(SUPPORT_FIELDS);
    expect(fieldsOf('level')).toEqual(RUN_FIELDS);
    expect(fieldsOf('readings')).toEqual(READING_FIELDS);
    expect(fieldsOf('corrections')).toEqual(ROW_FIELDS);
    expect(fieldsOf('checklist')).toEqual(CHECK_FIELDS);
  });

  it('[I1] it lists every column of the two lists, and no other', () => {
    const [, table = ''] = readme.split('| parts list | | weighings | |\n| --- | --- | --- | --- |\n');
    const rows = (table.split('\n\n')[0] ?? '').split('\n').map((row) => row.split('|').map((cell) => cell.trim()));
    const told = (at: number) => [...new Set(rows.flatMap((cells) => (cells[at] ?? '').split(', ')).filter(Boolean))];
    for (const [at, columns] of [
      [1, PARTS_COLUMNS],
      [3, WEIGHINGS_COLUMNS],
    ] as const)
      expect(told(at).sort()).toEqual(columns.map(({ field }) => field).sort());
  });

  it('[K1] its first command is the example it shows', async () => {
    const { scripts } = JSON.parse(await readFile('package.json', 'utf8')) as { scripts: Record<string, string> };
    const script = (scripts['example'] ?? '').replace('node api/command/tarebook.js', '');
    expect(splitWords(script)).toEqual(wordsOf(block('sh', 'tarebook -- import')));
  });
});

/** The first two cells of each row of the table below a comment, without what stands in brackets. */
function tableBelow(comment: string): readonly (readonly [string, string])[] {
  const [, below] = readme.split(comment);
  const rows = (below ?? '').split('\n\n')[0]?.split('\n').slice(3) ?? [];
  return rows.map((row) => {
    const [, first = '', second = ''] = row.split('|').map((cell) => cell.trim().replaceAll('`', ''));
    return [first, second.replaceAll(/ \([^)]*\)/g, '')];
  });
}

/** The processes of the allowances stand for two fields each: `prepreg estimated`, `prepreg calculated`. */
function ofEachProcess(fields: string): string {
  const [others = '', processes] = fields.split('; and for each process, estimated and calculated: ');
  if (processes === undefined) return fields;
  const both = processes.split(', ').flatMap((process) => [`${process} estimated`, `${process} calculated`]);
  return [others, ...both].join(', ');
}

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
