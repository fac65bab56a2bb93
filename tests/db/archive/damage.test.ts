/** Whatever happens to a file of a carried aircraft is found, and named by file and row (rule X2); what is forged is found as well. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entry } from '#shared/ledger/entry.ts';
import { everyKind } from '#tests/shared/archive/every-kind.ts';
import { weighingOf } from '#tests/shared/ledger/make-entries.ts';
import { bytesOf, filesOf, forged, foundIn, relisted, requestOf, textOf } from './carried.ts';

const FILES = filesOf(requestOf(everyKind().entries));
const CSV = [...FILES.keys()].filter((name) => name.endsWith('.csv'));

function changed(name: string, change: (text: string) => string): Map<string, Uint8Array> {
  const files = new Map(FILES);
  const before = textOf(FILES.get(name));
  const after = change(before);
  expect(after).not.toBe(before);
  files.set(name, bytesOf(after));
  return files;
}

const linesOf = (text: string) => text.split('\r\n');

describe('damage', () => {
  it('[X2] what nobody has touched is whole', () => {
    expect(foundIn(FILES)).toEqual([]);
  });

  it.each<[string, string, (text: string) => string, readonly string[]]>([
    [
      'a figure of the record',
      'weighing.csv',
      (t) => t.replace(',2.1,', ',2.2,'),
      ['weighing.csv:3:18 archive-changed cell'],
    ],
    [
      'words for people',
      'weighing.csv',
      (t) => t.replace('4.2 kg', '4.3 kg'),
      ['weighing.csv:2:6 archive-changed cell'],
    ],
    [
      'a number as a spreadsheet writes it',
      'estimate.csv',
      (t) => t.replace('1e-7', '1.00E-07'),
      ['estimate.csv:2:6 archive-changed cell'],
    ],
    [
      'a day as a spreadsheet writes it',
      'note.csv',
      (t) => t.replace('2026-05-01', '01/05/2026'),
      ['note.csv:2:2 archive-changed cell'],
    ],
    [
      'an apostrophe that was taken off',
      'part-added.csv',
      (t) => t.replace("'-5 is a name", '-5 is a name'),
      ['part-added.csv:2:7 archive-changed cell'],
    ],
    [
      'a cell that is one too many',
      'scale.csv',
      (t) => t.replace(/\r\n$/, ',\r\n'),
      ['scale.csv:2:0 archive-changed row'],
    ],
    ['a heading', 'scale.csv', (t) => t.replace('who', 'whom'), ['scale.csv:1:3 archive-changed headings']],
    [
      'a row that is missing',
      'weighing.csv',
      (t) => linesOf(t).toSpliced(1, 1).join('\r\n'),
      ['weighing.csv:2:0 archive-row-missing entry 4'],
    ],
    [
      'a last row that is missing',
      'weighing.csv',
      (t) => linesOf(t).toSpliced(2, 1).join('\r\n'),
      ['weighing.csv:0:0 archive-row-missing entry 11'],
    ],
    [
      'two rows that were swapped',
      'weighing.csv',
      (t) => {
        const [a = '', b = '', c = '', ...d] = linesOf(t);
        return [a, c, b, ...d].join('\r\n');
      },
      ['weighing.csv:3:0 archive-row-out-of-place entry 4'],
    ],
    [
      'a row that is there twice',
      'weighing.csv',
      (t) => {
        const [a = '', b = '', ...d] = linesOf(t);
        return [a, b, b, ...d].join('\r\n');
      },
      ['weighing.csv:3:0 archive-row-out-of-place entry 4'],
    ],
    [
      'a mark at the beginning that is gone',
      'note.csv',
      (t) => t.slice(1),
      ['note.csv:1:0 archive-saved-anew the mark at its beginning, by which its letters are known, is gone'],
    ],
    [
      'a second mark at the beginning',
      'note.csv',
      (t) => `\uFEFF${t}`,
      ['note.csv:1:0 archive-saved-anew there are two marks at its beginning'],
    ],
    [
      'other line ends',
      'scale.csv',
      (t) => t.replaceAll('\r\n', '\n'),
      ['scale.csv:1:0 archive-saved-anew its lines end otherwise'],
    ],
    [
      'semicolons',
      'scale.csv',
      (t) => t.replaceAll(',', ';'),
      ['scale.csv:1:0 archive-saved-anew its cells are parted by semicolons and no commas'],
    ],
    [
      'an end that was cut off',
      'scale.csv',
      (t) => t.slice(0, -8),
      ['scale.csv:2:0 archive-saved-anew the end of its last line is gone'],
    ],
    [
      'a quotation mark',
      'note.csv',
      (t) => t.replace('""quoted""', '"quoted'),
      ['note.csv:2:0 archive-changed quotation marks'],
    ],
    ['the text about it', 'about.txt', (t) => `${t} `, ['about.txt:0:0 archive-changed file']],
    [
      'an empty file',
      'scale.csv',
      () => '',
      ['scale.csv:1:0 archive-saved-anew the mark at its beginning, by which its letters are known, is gone'],
    ],
  ])('[X2] %s is found at its place', (_, name, change, expected) => {
    expect(foundIn(changed(name, change))).toEqual(expected);
  });

  it('[X2] letters of another kind of text are found', () => {
    const files = new Map(FILES);
    files.set('note.csv', Uint8Array.from([...(FILES.get('note.csv') ?? []).slice(0, 40), 0xe4, 0x20]));
    expect(foundIn(files)).toEqual(['note.csv:0:0 archive-saved-anew its letters are no UTF-8']);
  });

  it('[X2] a file that is missing, and one that is too many, are named', () => {
    const files = new Map(FILES);
    files.delete('weighing.csv');
    files.set('weighing-old.csv', bytesOf('x'));
    expect(foundIn(files)).toEqual([
      'weighing.csv:0:0 archive-file-missing',
      'weighing-old.csv:0:0 archive-file-strange',
    ]);
    files.delete('manifest.json');
    expect(foundIn(files)).toEqual(['manifest.json:0:0 archive-file-missing']);
  });

  it('[X2] everything is told at once', () => {
    const files = changed('weighing.csv', (text) => text.replace(',2.1,', ',2.2,').replace('4.2 kg', '4.3 kg'));
    files.set('scale.csv', bytesOf(textOf(FILES.get('scale.csv')).replace('Bench', 'bench')));
    expect(foundIn(files).toSorted()).toEqual(
      [
        'scale.csv:2:10 archive-changed cell',
        'weighing.csv:2:6 archive-changed cell',
        'weighing.csv:3:18 archive-changed cell',
      ].sort(),
    );
  });

  it.each<[string, (manifest: Record<string, unknown>) => void, string]>([
    ['a count', (m) => Object.assign(m, { entryCount: 3 }), 'archive-row-out-of-place'],
    ['the last hash', (m) => Object.assign(m, { headHash: 'a'.repeat(64) }), 'archive-chain-broken'],
    [
      'the id of the aircraft',
      (m) =>
        Object.assign(m, { aircraft: { ...(m['aircraft'] as object), id: '00000000-0000-4000-8000-000000000001' } }),
      'archive-chain-broken',
    ],
    ['the headline', (m) => Object.assign(m, { headlineHash: 'a'.repeat(64) }), 'archive-headline-differs'],
    ['a form to come', (m) => Object.assign(m, { format: 2 }), 'archive-newer'],
    [
      'a name of a file',
      (m) => Object.assign(m, { files: [{ name: '../../escape.csv', bytes: 1, sha256: 'a'.repeat(64) }] }),
      'archive-manifest-changed',
    ],
    ['a field that nobody knows', (m) => Object.assign(m, { more: 1 }), 'archive-manifest-changed'],
  ])('[X2] a list that was written anew with another %s does not pass', (_, change, code) => {
    expect(foundIn(relisted(FILES, change))[0]).toContain(code);
  });

  it('[X2] a list that was changed and not written anew does not fit its own check', () => {
    const files = changed('manifest.json', (text) => text.replace('"Dabchick study"', '"Dabchick other"'));
    expect(foundIn(files)).toEqual(['manifest.json:0:0 archive-manifest-changed it does not fit its own check']);
    expect(foundIn(changed('manifest.json', (text) => text.slice(0, 100)))[0]).toContain('cannot be read');
  });

  it('[X2] a figure that was changed with all its check digits breaks the chain, at the entry after it', () => {
    const own = requestOf(everyKind().entries);
    const chain = everyKind();
    const entries = chain.entries.map((recorded) =>
      recorded.seq === 11
        ? { ...recorded, entry: { ...recorded.entry, ...weighingOf(3, 2.2, { condition: 'trimmed' }) } as Entry }
        : recorded,
    );
    const other = requestOf(entries);
    const mixed = own.entries.map((entry, at) => ({ ...entry, content: other.entries[at]?.content ?? '' }));
    expect(() => filesOf({ ...own, entries: mixed })).toThrow('ledger-not-whole');
    // The rows of a chain of its own, put in the place of those that were carried out.
    const weighings = textOf(filesOf(other).get('weighing.csv'));
    expect(foundIn(forged(FILES, 'weighing.csv', () => weighings))).toEqual([
      'assembly-weighing.csv:2:0 archive-chain-broken 12',
    ]);
  });

  it('[X2] a chain that fits itself and that no ledger would have taken is refused at its row', () => {
    const other = everyKind();
    other.record(weighingOf(77, 3));
    const files = filesOf(requestOf(other.entries));
    expect(foundIn(files)).toEqual([
      expect.stringMatching(/^weighing\.csv:4:0 archive-row-refused no part has the number/),
    ]);
  });

  it('[X2] any one byte that is changed in any file is found', () => {
    const names = [...FILES.keys()];
    fc.assert(
      fc.property(fc.nat(), fc.nat(), fc.integer({ min: 1, max: 255 }), (which, where, by) => {
        const name = names[which % names.length] ?? '';
        const bytes = Uint8Array.from(FILES.get(name) ?? []);
        const at = where % bytes.length;
        bytes[at] = ((bytes[at] ?? 0) + by) % 256;
        const found = foundIn(new Map(FILES).set(name, bytes));
        // A blank or a line end between the fields of the list means nothing; all else is found, in the file that has it.
        const meansTheSame =
          name === 'manifest.json' && JSON.stringify(parsed(bytes)) === JSON.stringify(parsed(FILES.get(name)));
        if (meansTheSame) expect(found).toEqual([]);
        else expect(found.some((one) => one.startsWith(name))).toBe(true);
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it('[X2] any two cells of a column that were swapped are found', () => {
    for (const name of CSV) {
      const [heading = '', ...rows] = linesOf(textOf(FILES.get(name)));
      if (rows.length < 3 || rows.some((row) => row.includes('"'))) continue;
      const cells = rows.slice(0, 2).map((row) => row.split(','));
      const [first = [], second = []] = cells;
      for (let column = 0; column < first.length; column += 1) {
        if (first[column] === second[column]) continue;
        const a = first.with(column, second[column] ?? '');
        const b = second.with(column, first[column] ?? '');
        const text = [heading, a.join(','), b.join(','), ...rows.slice(2)].join('\r\n');
        expect(foundIn(new Map(FILES).set(name, bytesOf(text))).every((one) => one.startsWith(name))).toBe(true);
      }
    }
  });
});

function parsed(bytes: Uint8Array | undefined): unknown {
  try {
    return JSON.parse(textOf(bytes));
  } catch {
    return undefined;
  }
}
