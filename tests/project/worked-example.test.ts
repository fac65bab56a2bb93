/**
 * DEVELOPERS.md takes one part from its first estimate to the finished assembly. Its table is read from there, the entries are recorded as
 * they stand in it, and every figure must be what the ledger says.
 */
import { readFile } from 'node:fs/promises';
import { expect, it } from 'vitest';
import { objectionsTo } from '#shared/ledger/admit.ts';
import type { Entry } from '#shared/ledger/entry.ts';
import { applyEntry, openLedger } from '#shared/ledger/fold.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { entriesReport } from '#shared/rollup/report.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import { uuidOf } from '#tests/shared/ledger/make-entries.ts';

const DAY = '2026-06-30';

type Row = { readonly entry: string; readonly effects: string; readonly predicted: string; readonly cg: string };

async function tableOf(file: string): Promise<readonly Row[]> {
  const text = await readFile(file, 'utf8');
  const [, after = ''] = text.split('| entry | effects, kg | predicted, kg | CG x, m |\n');
  return (after.split('\n\n')[0] ?? '')
    .split('\n')
    .slice(1)
    .map((line) => line.split('|').map((cell) => cell.trim()))
    .map(([, entry = '', effects = '', predicted = '', cg = '']) => ({ entry, effects, predicted, cg }));
}

it('[L6] the worked example of DEVELOPERS.md is what the ledger makes of its entries', async () => {
  const rows = await tableOf('DEVELOPERS.md');
  expect(rows.length).toBeGreaterThan(12);
  const ledger = openLedger();
  for (const [at, { entry: words }] of rows.entries()) {
    const sent = { ...wordsOf(words), id: uuidOf(at), happenedOn: DAY, by: 'AB' };
    const newId = () => uuidOf(at, 7);
    const read = entryFromWords(sent, { ledger, day: DAY, by: 'AB', newId });
    if (!read.ok) throw new Error(`${words}: ${JSON.stringify(read.refusal)}`);
    const entry: Entry = read.value;
    expect(objectionsTo(entry, ledger, DAY)).toEqual([]);
    applyEntry(ledger, { seq: ledger.entries.length + 1, recordedAt: `${DAY}T12:00:00.000Z`, entry });
  }
  const said = entriesReport(ledger).map(({ effects, predictedKg, cgXM }, at) => ({
    entry: rows[at]?.entry ?? '',
    effects: effects
      .map(({ cause, isCorrection, massKg, momentXKgM }) => {
        const name = isCorrection ? `${cause}, corrected` : cause;
        return massKg === 0 ? `${name} ${signed(momentXKgM)} kg m` : `${name} ${signed(massKg)}`;
      })
      .join('; '),
    predicted: showFixed(predictedKg, 3),
    cg: cgXM === undefined ? '' : showFixed(cgXM, 4),
  }));
  expect(said).toEqual(rows);
});

function signed(value: number): string {
  return showFixed(value, 3, { sign: true });
}

/** `weighing: part W-1, gross 4.9 kg`: the kind, then each field with its words. A correction's replacement stands behind an arrow. */
function wordsOf(cell: string): Record<string, unknown> {
  const [own = '', replacement] = cell.split(' → ');
  const [kind = '', fields = ''] = own.split(': ');
  return {
    ...fieldsOf(fields),
    kind,
    ...(replacement === undefined ? {} : { replacement: replacement === 'nothing' ? null : fieldsOf(replacement) }),
  };
}

const NAMES = [
  'number',
  'name',
  'group',
  'assembly',
  'quantity',
  'process',
  'part',
  'estimate',
  'later',
  'flash',
  'finish',
  'allowance',
  'later allowance',
  'gross',
  'tare',
  'condition',
  'x',
  'not yet in',
  'reason',
  'entry',
  'cause',
  'first load',
  'first station',
  'second load',
  'second station',
];

function fieldsOf(text: string): Record<string, string> {
  return Object.fromEntries(
    text.split(', ').map((field) => {
      const name = NAMES.filter((one) => field.startsWith(`${one} `)).sort((a, b) => b.length - a.length)[0];
      if (name === undefined) throw new Error(`no field is named in "${field}"`);
      return [name, field.slice(name.length + 1)];
    }),
  );
}
