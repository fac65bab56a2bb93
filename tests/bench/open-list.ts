/** What asks for all parts at once, at 100,000 of them: the open list and the findings, from nothing and after one more weighing. */
import { findingsReport } from '#shared/drift/report.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import type { Entry, EntryId } from '#shared/ledger/entry.ts';
import { applyEntry, foldEntries } from '#shared/ledger/fold.ts';
import { openList } from '#shared/rollup/open-list.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { dayAt, makeBuild, weighingAt } from './make-build.ts';
import { asRecorded } from './make-chain.ts';
import { line, medianMs } from './median.ts';

const PARTS = 100_000;
const DAYS = 500;
const RUNS = 7;

export async function benchOpenList(): Promise<string> {
  const recorded = asRecorded(makeBuild({ partCount: PARTS, weighingCount: PARTS / 2, dayCount: DAYS }));
  let ledger = foldEntries([]);
  const foldMs = await medianMs(1, () => {
    ledger = foldEntries(recorded);
  });
  headlineReport(ledger);
  forecastReport(ledger);
  const list = () => openList(ledger, { today: dayAt(DAYS + 1) });
  const firstMs = await medianMs(1, list);
  const itemCount = list().length;
  const [lists, findings]: [number[], number[]] = [[], []];
  for (let run = 0; run < RUNS; run += 1) {
    const id = `f0000000-0000-4000-8000-${run.toString(16).padStart(12, '0')}` as EntryId;
    const weighing = weighingAt(PARTS / 2 + run, { partCount: PARTS });
    const entry: Entry = { ...weighing, id, happenedOn: dayAt(DAYS + 1), by: 'AB' };
    applyEntry(ledger, { seq: ledger.entries.length + 1, recordedAt: '2026-10-01T00:00:00.000Z', entry });
    headlineReport(ledger);
    lists.push(await medianMs(1, list));
    findings.push(await medianMs(1, () => findingsReport(ledger)));
  }
  const middle = (each: number[]) => each.sort((a, b) => a - b)[RUNS >> 1] ?? 0;
  const fold = { name: 'folding the ledger', ms: foldMs };
  return [
    `Open list of ${PARTS.toLocaleString('en-GB')} parts, ${itemCount} items\n`,
    line('the first open list, after headline and forecast', firstMs, fold),
    line('the open list after one more weighing', middle(lists), fold),
    line('the findings beside it', middle(findings), fold),
  ].join('');
}
