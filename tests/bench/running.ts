/**
 * The headline that follows the ledger, against a spreadsheet engine that holds the same table: built from nothing, and after one more
 * weighing. The spreadsheet has a row for each part with its predicted mass, moments along three axes, variances and flag, and sums of
 * all of them, by group too.
 */
import { HyperFormula, type RawCellContent } from 'hyperformula';
import { applyEntry, foldEntries } from '#shared/ledger/fold.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { asRecorded, makeEntries } from './make-chain.ts';
import { line, medianMs } from './median.ts';

const GROUPS = ['wing', 'tail', 'body', 'propulsion'];
const MORE = 200;

export async function benchRunning(): Promise<string> {
  const sizes = [1_000, 10_000, 100_000];
  const lines = [`Headline after one more weighing, and of a ledger read anew\n`];
  const edits: { size: number; ms: number }[] = [];
  const ones: { size: number; ms: number }[] = [];
  for (const size of sizes) {
    const rows = sheetOf(size);
    let sheet: HyperFormula | undefined;
    const buildMs = await medianMs(1, () => {
      sheet = HyperFormula.buildFromArray(rows, { licenseKey: 'gpl-v3', maxRows: 200_000 });
    });
    const build = { name: 'the spreadsheet built', ms: buildMs };
    let edit = 0;
    const editMs = await medianMs(9, () => {
      edit += 1;
      sheet?.setCellContents({ sheet: 0, row: edit * 7, col: 2 }, [[0.5 + edit / 100]]);
    });
    sheet?.destroy();
    edits.push({ size, ms: editMs });

    const recorded = asRecorded(makeEntries(size, MORE));
    const [base, more] = [recorded.slice(0, -MORE), recorded.slice(-MORE)];
    let ledger = foldEntries([]);
    const wholeMs = await medianMs(3, () => {
      ledger = foldEntries(base);
      headlineReport(ledger);
    });
    const before = process.memoryUsage().heapUsed;
    const allMs = await medianMs(1, () => {
      for (const entry of more) {
        applyEntry(ledger, entry);
        headlineReport(ledger);
      }
    });
    ones.push({ size, ms: allMs / MORE });
    const name = size.toLocaleString('en-GB');
    lines.push(
      line(`${name} parts, ${base.length.toLocaleString('en-GB')} entries to the first headline`, wholeMs, build),
    );
    lines.push(
      `${''.padEnd(58)} ${(before / size / 1024).toFixed(2)} kB of heap a part, all its entries and figures with it\n`,
    );
  }
  for (const [at, one] of ones.entries()) {
    const edit = edits[at];
    if (edit === undefined) continue;
    const name = `${one.size.toLocaleString('en-GB')} parts, one more weighing to the new headline`;
    lines.push(
      `${name.padEnd(58)} ${(one.ms * 1000).toFixed(0).padStart(9)} µs   ${(edit.ms / one.ms).toFixed(0).padStart(7)} times as fast as the spreadsheet after one edit (${edit.ms.toFixed(1)} ms)\n`,
    );
  }
  return lines.join('');
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
