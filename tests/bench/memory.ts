/**
 * What a ledger takes in memory, with its headline and its forecast: measured in a process of its own after everything that is not kept has
 * been given back.
 */
import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { forecastReport } from '#shared/forecast/report.ts';
import { entryFromText, entryText } from '#shared/ledger/canonical.ts';
import { foldEntries } from '#shared/ledger/fold.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { makeBuild } from './make-build.ts';

const PARTS = 50_000;
const WEIGHED = 25_000;

export async function benchMemory(): Promise<string> {
  const run = promisify(execFile);
  const { stdout } = await run(process.execPath, ['--expose-gc', fileURLToPath(import.meta.url)]);
  return stdout;
}

function measure(): string {
  const texts = textsOfBuild();
  const held: unknown[] = [];
  const told = [`Memory of ${PARTS.toLocaleString('en-GB')} parts, half of them weighed\n`];
  let before = settled();
  const start = before;
  const textBytes = texts.reduce((sum, text) => sum + text.length, 0);
  const put = (name: string, make: () => unknown) => {
    held.push(make());
    const now = settled();
    told.push(lineOf(name, now - before));
    before = now;
  };
  const recorded = texts.map((text, at) => ({
    seq: at + 1,
    recordedAt: '2026-10-01T00:00:00.000Z',
    entry: entryFromText(text),
  }));
  const entriesBytes = settled() - before;
  told.push(lineOf('the entries as read', entriesBytes));
  before += entriesBytes;
  let ledger = foldEntries([]);
  put('the ledger folded, beside them', () => {
    ledger = foldEntries(recorded);
    return ledger;
  });
  put('its headline, and what it is carried on with', () => headlineReport(ledger));
  put('its forecast, and what it is carried on with', () => forecastReport(ledger));
  told.push(lineOf('all of it', before - start));
  told.push(
    `${''.padEnd(58)} ${((before - start) / textBytes).toFixed(1)} x the entries' texts, ${(textBytes / 1e6).toFixed(1)} MB\n`,
  );
  return held.length === 0 ? '' : told.join('');
}

/** By itself and as a database gives them, so that nothing but the texts is held, and no pieces that they were put together from. */
function textsOfBuild(): readonly string[] {
  const entries = makeBuild({ partCount: PARTS, weighingCount: WEIGHED, dayCount: 500 });
  return entries.map((entry) => Buffer.from(entryText(entry)).toString());
}

function lineOf(name: string, bytes: number): string {
  const each = (count: number) => `${Math.round(bytes / count)} bytes`.padStart(11);
  return `${name.padEnd(58)} ${(bytes / 1e6).toFixed(1).padStart(7)} MB ${each(PARTS)} a part ${each(2 * PARTS + WEIGHED)} an entry\n`;
}

function settled(): number {
  globalThis.gc?.();
  globalThis.gc?.();
  return process.memoryUsage().heapUsed + process.memoryUsage().arrayBuffers;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) process.stdout.write(measure());
