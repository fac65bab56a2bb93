/** The page of a checkpoint: it comes back as it was printed, a slip is told with its line, and nothing on it can be changed (rule L10). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isGenuine } from '#db/checkpoint/checkpoint.ts';
import { pageText, readPage } from '#db/checkpoint/page.ts';
import { FIELDS, type Field, onOneLine } from '#db/checkpoint/statement.ts';
import { newKey, pageRead, STATEMENT, signedPage } from './make-checkpoint.ts';

const KEY = newKey();
const PAGE = signedPage(STATEMENT, KEY);
const SEED = { seed: 20260615 } as const;
const lineOf = (label: string) => PAGE.split('\n').findIndex((line) => line.startsWith(`${label}:`)) + 1;

describe('the page of a checkpoint', () => {
  it('[L10] comes back as it was printed, and is genuine', () => {
    const read = pageRead(PAGE);
    expect(read.statement).toEqual(STATEMENT);
    expect(read).toMatchObject({ aircraftId: STATEMENT['aircraft id'], seq: 25, fingerprint: KEY.fingerprint });
    expect(isGenuine(read)).toBe(true);
  });

  it('[L10] fits on one sheet: at most 60 lines of 80 characters', () => {
    expect(PAGE.split('\n').length).toBeLessThanOrEqual(60);
    expect(Math.max(...PAGE.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
    expect(PAGE).toContain('No flight on them.');
  });

  it('[L10] whatever an aircraft is called, and whoever makes the page, it comes back', () => {
    const texts = fc
      .string({ minLength: 1, maxLength: 200, unit: 'grapheme' })
      .map(onOneLine)
      .filter((text) => text !== '');
    fc.assert(
      fc.property(texts, texts, (aircraft, by) => {
        const read = pageRead(signedPage({ ...STATEMENT, aircraft, by }, KEY));
        expect(read.statement).toEqual({ ...STATEMENT, aircraft, by });
        expect(isGenuine(read)).toBe(true);
      }),
      { ...SEED, numRuns: 300 },
    );
  });

  it('[L10] typed off paper: blanks, blank lines, other line ends, capitals of digits, o for 0 and +- for ± do not matter', () => {
    const typed = PAGE.split('\n')
      .filter((line) => line.includes('['))
      .map((line) => (/^(hash|key|signature|fingerprint)/.test(line) ? line.toUpperCase().replaceAll('0', 'o') : line))
      .map(
        (line) =>
          `  ${line
            .replaceAll('±', '+-')
            .replaceAll(/ +/g, '  ')
            .replace(/\[(.{4})\]/, ' [ $1 ] ')}`,
      )
      .join('\r\n\r\n');
    expect(pageRead(typed)).toEqual(pageRead(PAGE));
  });

  it('[L10] one character typed otherwise is told with its line, or is none that counts', () => {
    let told = 0;
    const other = fc.constantFrom(...'0123456789abcdefgXYZ .,:[]-±');
    fc.assert(
      fc.property(fc.nat(PAGE.length - 1), other, (at, character) => {
        const slip = PAGE.slice(0, at) + character + PAGE.slice(at + 1);
        const line = PAGE.slice(0, at).split('\n').length;
        const read = readPage(slip);
        if (read.ok) {
          expect(read.checkpoint).toEqual(pageRead(PAGE));
          return;
        }
        told += 1;
        // Of a line whose name is not known any more it is said that it is missing; one that took another's name makes that one the second.
        const slips = read.problems.filter(
          ({ refusal }) => refusal.code === 'checkpoint-line' && refusal.why !== 'twice',
        );
        for (const problem of slips) expect(problem.line).toBe(line);
        if (slips.length === 0)
          expect(read.problems.map(({ refusal }) => refusal.code)).toContain('checkpoint-line-missing');
      }),
      { ...SEED, numRuns: 3_000 },
    );
    expect(told).toBeGreaterThan(800);
  });

  it('[L10] two characters that have changed places are told with their line', () => {
    const at = PAGE.indexOf('4055') + 1;
    const slip = `${PAGE.slice(0, at)}${PAGE[at + 1]}${PAGE[at]}${PAGE.slice(at + 2)}`;
    expect(readPage(slip)).toEqual({
      ok: false,
      problems: [{ line: lineOf('hash 1'), refusal: { code: 'checkpoint-line', label: 'hash 1', why: 'slip' } }],
    });
  });

  it('[L10] every slip is told at once, with lines that are missing, twice or without their check', () => {
    const lines = PAGE.split('\n');
    const without = lines.filter((line) => !line.startsWith('by:'));
    const twice = [...without, lines[lineOf('entry') - 1]].join('\n');
    const slip = twice.replace('43.97', '43.79').replace(/(made:.*)\[.*\]/, '$1');
    const read = readPage(slip);
    expect(read.ok ? [] : read.problems.map(({ line, refusal }) => [line, JSON.stringify(refusal)])).toEqual([
      [lineOf('empty weight'), '{"code":"checkpoint-line","label":"empty weight","why":"slip"}'],
      [lineOf('made'), '{"code":"checkpoint-line","label":"made","why":"form"}'],
      [lines.length, '{"code":"checkpoint-line","label":"entry","why":"twice"}'],
      [0, '{"code":"checkpoint-line-missing","label":"by"}'],
    ]);
    expect(readPage('')).toEqual({ ok: false, problems: [{ line: 0, refusal: { code: 'checkpoint-not-one' } }] });
  });

  const OTHER: Readonly<Record<Field, string>> = {
    aircraft: 'Dabchick study',
    'aircraft id': '6f1c2f0e-0c0f-4a53-9a8e-0d2a4a1f9b12',
    entry: '26',
    recorded: '2026-06-15T10:11:12.132Z',
    hash: STATEMENT.hash.replace('4', '5'),
    'empty weight': 'predicted 43.79 ± 0.51 kg',
    'empty CG': 'not known',
    made: '2026-06-16T12:00:00.000Z',
    by: 'JN',
  };
  it.each(Object.keys(FIELDS) as Field[])(
    '[L10] a page whose %s was changed, checks and all, is not genuine',
    (field) => {
      const { publicKey, signature } = pageRead(PAGE);
      const forged = pageRead(pageText({ statement: { ...STATEMENT, [field]: OTHER[field] }, publicKey, signature }));
      expect(forged.statement[field]).toBe(OTHER[field]);
      expect(isGenuine(forged)).toBe(false);
    },
  );

  it('[L10] a page with the key of another shop in it is not genuine, and one that the other signed has its fingerprint', () => {
    const other = newKey();
    const { signature } = pageRead(PAGE);
    expect(isGenuine(pageRead(pageText({ statement: STATEMENT, publicKey: other.publicKey, signature })))).toBe(false);
    const signedThere = pageRead(signedPage(STATEMENT, other));
    expect(isGenuine(signedThere)).toBe(true);
    expect(signedThere.fingerprint).not.toBe(KEY.fingerprint);
  });

  it('[L10] the fingerprint of the shop over the key of another is refused, though its check fits', () => {
    const own = PAGE.split('\n')[lineOf('fingerprint') - 1] ?? '';
    const forged = signedPage(STATEMENT, newKey()).replace(/^fingerprint:.*$/m, own);
    const form = { code: 'checkpoint-line', label: 'fingerprint', why: 'form' };
    expect(readPage(forged)).toEqual({ ok: false, problems: [{ line: 0, refusal: form }] });
  });
});
