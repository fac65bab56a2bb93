/** The problem registry (rule I2): every way of saying no has words, a remedy, and a way that leads to it. */
import { describe, expect, it } from 'vitest';
import { explain, REGISTRY, type RefusalCode } from '#shared/problem/registry.ts';
import { ELSEWHERE, REACH } from './reach.ts';

const CODES = Object.keys(REGISTRY) as RefusalCode[];
const reached = CODES.flatMap((code) => {
  const refusal = REACH[code]?.().find((one) => one.code === code);
  return refusal === undefined ? [] : [[code, refusal] as const];
});

describe('registry', () => {
  it('[I2] every code is reached through the rules, or is known to belong to the store or the command', () => {
    const known = [...reached.map(([code]) => code), ...ELSEWHERE];
    expect(CODES.filter((code) => !known.includes(code))).toEqual([]);
    expect(ELSEWHERE.filter((code) => !CODES.includes(code) || code in REACH)).toEqual([]);
  });

  it.each(Object.keys(REACH) as RefusalCode[])('[I2] %s is what its example leads to', (code) => {
    expect(REACH[code]?.().map((refusal) => refusal.code)).toContain(code);
  });

  it.each(reached)('[I2] %s says what is wrong and what to do, in whole sentences', (_, refusal) => {
    const { words, remedy } = explain(refusal);
    for (const text of [words, remedy]) {
      expect(text).toMatch(/^[A-Z“].*[.?]$/s);
      expect(text).not.toMatch(/undefined|NaN|\[object|null| {2}/);
    }
    expect(words).not.toBe(remedy);
  });

  it('[I2] every code of the store and the command has words and a remedy as well', () => {
    const facts = {
      file: 'brief.pdf',
      why: 'no',
      most: '8 MB',
      seq: 3,
      last: 2,
      from: '5',
      to: '2',
      fields: ['by'],
      name: 'Bird',
      known: ['Duck'],
      folder: 'f',
      revision: 2,
      by: 'AB',
      state: 'issued',
      text: '7',
      what: 'cell',
      sign: 'its lines end otherwise',
      row: 'entry 3',
      place: 'f',
      format: 2,
      label: 'hash',
      found: 'A1B2',
      wanted: 'C3D4',
      says: 'Bird',
      asked: 'Duck',
      id: 'the id',
    };
    for (const code of ELSEWHERE) {
      const { words, remedy } = explain({ code, ...facts } as never);
      expect(`${words} ${remedy}`).not.toMatch(/undefined|NaN|\[object/);
      expect(words.length * remedy.length).toBeGreaterThan(0);
    }
  });

  it('[I2] a long cell is quoted short and on one line', () => {
    const { words } = explain({ code: 'not-a-number', text: `4\n kg ${'x'.repeat(100)}` });
    expect(words).toContain('“4 kg x');
    expect(words.length).toBeLessThan(70);
  });

  it('[I2] a remedy names what was probably meant where that is known', () => {
    expect(explain({ code: 'unknown-part', part: 'RIB-l', near: 'RIB-1' }).remedy).toContain('RIB-1');
    expect(explain({ code: 'unknown-part', part: 'RIB-l', near: undefined }).remedy).toContain('add the part');
    expect(explain({ code: 'unknown-assembly', assembly: 'A', near: 'B' }).remedy).toContain('B');
    expect(explain({ code: 'no-such-piece', piece: 2, part: 'P', quantity: 1 }).words).toContain('one piece');
    expect(explain({ code: 'aircraft-unknown', name: '', known: [] }).words).toContain('not said');
  });
});
