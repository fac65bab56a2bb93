/** The running ledger: folding a chain, and what one more entry costs as the ledger grows. */
import { entryFromText, entryText } from '#shared/ledger/canonical.ts';
import { applyEntry, foldEntries } from '#shared/ledger/fold.ts';
import { asRecorded, makeEntries } from './make-chain.ts';
import { line, medianMs } from './median.ts';

export async function benchFold(): Promise<string> {
  const recorded = asRecorded(makeEntries(8000, 4000));
  const texts = recorded.map(({ entry }) => entryText(entry));
  const parseMs = await medianMs(5, () => texts.map((text) => JSON.parse(text) as unknown));
  const readMs = await medianMs(5, () => texts.map(entryFromText));
  const foldMs = await medianMs(5, () => foldEntries(recorded));
  const parse = { name: 'JSON.parse of the same texts', ms: parseMs };

  const oneMore = (size: number) => {
    const ledger = foldEntries(recorded.slice(0, size));
    const tail = recorded.slice(size, size + 200);
    return medianMs(1, () => tail.forEach((entry) => void applyEntry(ledger, entry)));
  };
  const early = { name: 'after 1,000 entries', ms: await oneMore(1000) };
  const lateMs = await oneMore(15_000);
  return [
    `Ledger of ${recorded.length.toLocaleString('en-GB')} entries\n`,
    line('read every entry from its text (schema checked)', readMs, parse),
    line('fold all entries', foldMs, parse),
    line('200 more entries after 15,000', lateMs, early),
  ].join('');
}
