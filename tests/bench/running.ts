/**
 * The headline of all entries at once, of the folded ledger, and after one more weighing, against a spreadsheet engine that holds the same
 * table: built from nothing, and after one more weighing. The spreadsheet has a row for each part with its predicted mass, moments along
 * three axes, variances and flag, and sums of all of them, by group too. Both are given what they read: entries, and rows.
 */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { HyperFormula, type RawCellContent } from 'hyperformula';
import { bulkHeadline } from '#shared/bulk/bulk-headline.ts';
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import { applyEntry, foldEntries, type Ledger } from '#shared/ledger/fold.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { asRecorded, makeEntries } from './make-chain.ts';
import { line, medianMs } from './median.ts';

const GROUPS = ['wing', 'tail', 'body', 'propulsion'];
const MORE = 200;
const SIZES = [1_000, 10_000, 100_000];

export async function benchRunning(): Promise<string> {
  const lines = [`Headline of all entries, and after one more weighing\n`];
  const edits: string[] = [];
  for (const size of SIZES) {
    const sheet = await benchSheet(size);
    const build = { name: 'the spreadsheet built', ms: sheet.buildMs };
    for (const weighings of [0, size / 2]) lines.push(await benchWhole(size, weighings, build));
    const oneMs = await oneMoreMs(size);
    const name = `${shown(size)} parts, one more weighing to the new headline`;
    edits.push(
      `${name.padEnd(58)} ${(oneMs * 1000).toFixed(0).padStart(9)} µs   ${(sheet.editMs / oneMs).toFixed(0).padStart(7)} times as fast as the spreadsheet after one edit (${sheet.editMs.toFixed(1)} ms)\n`,
    );
  }
  return [...lines, ...edits].join('');
}

async function benchSheet(size: number): Promise<{ readonly buildMs: number; readonly editMs: number }> {
  const rows = sheetOf(size);
  let sheet: HyperFormula | undefined;
  const buildMs = await medianMs(3, () => {
    sheet?.destroy();
    sheet = HyperFormula.buildFromArray(rows, { licenseKey: 'gpl-v3', maxRows: 200_000 });
  });
  let edit = 0;
  const editMs = await medianMs(9, () => {
    edit += 1;
    sheet?.setCellContents({ sheet: 0, row: edit * 7, col: 2 }, [[0.5 + edit / 100]]);
  });
  sheet?.destroy();
  return { buildMs, editMs };
}

/** From the entries of a whole chain to its headline: at once, and by folding. */
async function benchWhole(size: number, weighings: number, build: { name: string; ms: number }): Promise<string> {
  const before = heapBytes();
  const entries = asRecorded(makeEntries(size, weighings));
  const ofEntries = heapBytes() - before;
  let bulk: ReturnType<typeof bulkHeadline>;
  const bulkMs = await medianMs(7, () => {
    bulk = bulkHeadline(entries);
  });
  const ofBulk = heapBytes() - before - ofEntries;
  let folded: Ledger | undefined;
  const foldMs = await medianMs(3, () => {
    folded = undefined;
    folded = foldEntries(entries);
    headlineReport(folded);
  });
  const ofFold = heapBytes() - before - ofEntries - ofBulk;
  if (folded === undefined || JSON.stringify(headlineReport(folded)) !== JSON.stringify(bulk?.headline))
    throw new Error('both have one headline');
  const of = `${shown(size)} parts, ${shown(entries.length)} entries`;
  const each = (bytes: number) =>
    `${(Math.max(0, bytes) / size / 1024).toFixed(2)} kB a part, ${(Math.max(0, bytes) / entries.length / 1024).toFixed(2)} kB an entry`;
  return [
    line(`${of}, headline at once`, bulkMs, build),
    `${''.padEnd(58)} ${(build.ms / bulkMs).toFixed(1).padStart(9)} times as fast as ${build.name}\n`,
    line(`${of}, folded`, foldMs, build),
    `${''.padEnd(58)} heap: the entries ${each(ofEntries)}; at once nothing that stays (${each(ofBulk)}); folded ${each(ofFold)} more\n`,
  ].join('');
}

async function oneMoreMs(size: number): Promise<number> {
  const recorded = asRecorded(makeEntries(size, MORE));
  const more: readonly RecordedEntry[] = recorded.slice(-MORE);
  const ledger = foldEntries(recorded.slice(0, -MORE));
  headlineReport(ledger);
  const allMs = await medianMs(1, () => {
    for (const entry of more) {
      applyEntry(ledger, entry);
      headlineReport(ledger);
    }
  });
  return allMs / MORE;
}

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

/** What is held after everything that nobody holds has gone. */
function heapBytes(): number {
  collect();
  const { heapUsed, external } = process.memoryUsage();
  return heapUsed + external;
}

function shown(count: number): string {
  return count.toLocaleString('en-GB');
}

/** Group, allowance, weighed, estimate, stations, standard uncertainty; then what follows from them, and the sums in the last rows. */
function sheetOf(size: number): RawCellContent[][] {
  const rows: RawCellContent[][] = [];
  for (let at = 0; at < size; at += 1) {
    const r = at + 1;
    rows.push([
      GROUPS[at % GROUPS.length] ?? '',
      0.24,
      at % 2 === 0 ? 0.4 + (at % 97) / 51 : null,
      0.4 + (at % 97) / 50,
      (at % 80) / 10,
      0.1,
      0.5,
      0.03,
      `=IF(ISBLANK(C${r}),D${r}*(1+B${r}),C${r})`,
      `=I${r}*E${r}`,
      `=I${r}*F${r}`,
      `=I${r}*G${r}`,
      `=(IF(ISBLANK(C${r}),D${r}*H${r},0.003))^2`,
      `=M${r}*E${r}^2`,
      `=IF(ISBLANK(C${r}),0,IF(ABS(C${r}-D${r})>0.06*D${r},1,0))`,
    ]);
  }
  const sum = (column: string) => `=SUM(${column}1:${column}${size})`;
  rows.push([null, null, null, null, null, null, null, null, ...['I', 'J', 'K', 'L', 'M', 'N', 'O'].map(sum)]);
  const total = size + 1;
  rows.push([`=J${total}/I${total}`, `=K${total}/I${total}`, `=L${total}/I${total}`, `=SQRT(M${total})`]);
  for (const group of GROUPS) rows.push([group, `=SUMIF(A1:A${size},"${group}",I1:I${size})`]);
  return rows;
}
