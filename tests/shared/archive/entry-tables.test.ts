/** Entries through tables and back, character by character (rule X1). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { COLUMNS, ENTRY_KINDS, fileOfKind } from '#shared/archive/columns.ts';
import { type ChainedText, entriesOfRows, entryTables, headingsOf } from '#shared/archive/entry-tables.ts';
import { ARCHIVE_NAME } from '#shared/archive/manifest.ts';
import { readTable, tableText } from '#shared/archive/table.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import { chainFrom, randomSteps } from '../ledger/random-chain.ts';
import { everyKind } from './every-kind.ts';

function textsOf(entries: readonly RecordedEntry[]): readonly ChainedText[] {
  return entries.map(({ seq, recordedAt, entry }) => ({
    seq,
    recordedAt,
    hash: seq.toString(16).padStart(64, '0'),
    content: entryText(entry),
  }));
}

/** Out into the texts of files, and back from them. */
function thereAndBack(entries: readonly ChainedText[]): readonly ChainedText[] {
  return [...entryTables(entries)]
    .flatMap(([kind, table]) => {
      const read = readTable(tableText(table), headingsOf(kind));
      const back = entriesOfRows(kind, read.rows);
      expect([...read.problems, ...back.problems]).toEqual([]);
      return back.entries.map(({ chained }) => chained);
    })
    .sort((a, b) => a.seq - b.seq);
}

describe('entry tables', () => {
  it('[X1] an entry of every kind comes back character by character', () => {
    const entries = textsOf(everyKind().entries);
    expect(new Set(entries.map(({ content }) => JSON.parse(content).kind))).toEqual(new Set(ENTRY_KINDS));
    expect(thereAndBack(entries)).toEqual(entries);
  });

  it('[X1] random chains come back character by character', () => {
    fc.assert(
      fc.property(randomSteps(60), (drawn) => {
        const entries = textsOf(chainFrom(drawn).entries);
        expect(thereAndBack(entries)).toEqual(entries);
      }),
      { seed: 11, numRuns: 150 },
    );
  });

  it('[X1] a row says first what a person looks for, in the words in which it was stated', () => {
    const table = entryTables(textsOf(everyKind().entries)).get('weighing');
    const row = Object.fromEntries((table?.headings ?? []).map((heading, at) => [heading, table?.rows[0]?.[at]]));
    expect(row).toMatchObject({ day: '2026-05-01', who: 'Ann', part: 'P-1', gross: '4.2 kg', netKg: '4.2' });
    expect(table?.headings.slice(0, 4)).toEqual(['entry', 'day', 'who', 'part']);
  });

  it('[X1] a correction names the entry that it corrects, and what it says', () => {
    const table = entryTables(textsOf(everyKind().entries)).get('correction');
    const at = (heading: string) => table?.headings.indexOf(heading) ?? -1;
    const told = table?.rows.map((row) => ['corrects', 'part', 'says'].map((heading) => row[at(heading)]));
    expect(told).toEqual([
      ['4', 'P-1', expect.stringContaining('gross 4.1 kg')],
      ['6', '', 'should never have been made'],
    ]);
  });

  it('[X1] no two columns of a table have one heading, and every file has a name that may stand in a ZIP', () => {
    for (const [kind, columns] of COLUMNS) {
      const headings = columns.map(({ heading }) => heading);
      expect(new Set(headings).size).toBe(headings.length);
      expect(fileOfKind(kind)).toMatch(ARCHIVE_NAME);
    }
  });
});
