/** The process of the story that runs rich, on the product's own charts (rules D4, G1), and the same story without it. */
import { describe, expect, it } from 'vitest';
import { RESIN_RICH } from '#db/demo/part-row.ts';
import { processDrifts } from '#shared/drift/process-drift.ts';
import type { Entry, StatementOf } from '#shared/ledger/entry.ts';
import { entriesOn, ledgerOf, TODAY } from './story.ts';

const FIRST_RICH = 'H-15';
const entries = entriesOn(TODAY);

/** As it would have gone if the process had stayed as it was: the rich pieces without the share that made them so. */
function withoutTheRun(): readonly Entry[] {
  const parts = entries.filter((entry) => entry.kind === 'part added');
  const infused = new Set(parts.flatMap(({ process, partId }) => (process === RESIN_RICH.process ? [partId] : [])));
  const firstRich = parts.find(({ number }) => number === FIRST_RICH)?.partId;
  const begins = entries.find((entry) => entry.kind === 'weighing' && entry.partId === firstRich)?.happenedOn ?? '';
  const mouldedKg = (partId: string) => {
    const estimates = entries.filter(
      (entry): entry is Extract<Entry, StatementOf<'estimate'>> => entry.kind === 'estimate' && entry.partId === partId,
    );
    const last = estimates.at(-1);
    return (last?.massKg ?? 0) - (last?.laterKg ?? 0);
  };
  // Pieces made before the run and weighed again during it were not rich.
  const seen = new Set<string>();
  return entries.map((entry) => {
    if (entry.kind !== 'weighing' || !infused.has(entry.partId)) return entry;
    const key = `${entry.partId} ${entry.pieces}`;
    if (entry.happenedOn < begins) seen.add(key);
    if (seen.has(key)) return entry;
    const lessKg = RESIN_RICH.by * mouldedKg(entry.partId) * entry.pieces.length;
    return { ...entry, netKg: entry.netKg - lessKg };
  });
}

describe('the process that runs rich', () => {
  const reports = processDrifts(ledgerOf(entries));

  it('[D4] is called, and no other is, at a part at most five releases after it began', () => {
    expect(reports.filter(({ signal }) => signal !== undefined).map(({ process }) => process)).toEqual([
      'resin-infused',
    ]);
    const [rich] = reports;
    const at = (part: string | undefined) => rich?.points.findIndex((point) => point.part === part) ?? -1;
    expect(rich?.signal).toMatchObject({ direction: 'heavy', began: { part: FIRST_RICH } });
    expect(at(rich?.signal?.part)).toBeGreaterThanOrEqual(at(FIRST_RICH));
    expect(at(rich?.signal?.part) - at(FIRST_RICH)).toBeLessThanOrEqual(5);
  });

  it('[D4] is not called with the run taken out of the story', () => {
    const steady = processDrifts(ledgerOf(withoutTheRun()));
    expect(steady.flatMap(({ process, signal }) => (signal === undefined ? [] : [process]))).toEqual([]);
    const points = steady.find(({ process }) => process === 'resin-infused')?.points ?? [];
    const mean = points.reduce((sum, { differenceFraction }) => sum + differenceFraction, 0) / points.length;
    expect(points).toHaveLength(reports[0]?.points.length ?? 0);
    expect(Math.abs(mean)).toBeLessThan(0.03);
  });
});
