/** A chain of invented entries for the benchmarks: parts with an estimate each, then weighings, one in thirty of which is out of line. */
import type { Entry, EntryId, PartId, RecordedEntry } from '#shared/ledger/entry.ts';

export function makeEntries(partCount: number, weighingCount: number): readonly Entry[] {
  const entries: Entry[] = [];
  const stamp = (at: number, day: number) => ({
    id: idOf('e', at) as EntryId,
    happenedOn: `2026-${String(1 + (day % 9)).padStart(2, '0')}-${String(1 + (day % 28)).padStart(2, '0')}`,
    by: 'AB',
  });
  for (let at = 0; at < partCount; at += 1) {
    const partId = idOf('a', at) as PartId;
    const group = ['wing', 'tail', 'body', 'propulsion'][at % 4] ?? 'wing';
    entries.push({
      ...{ kind: 'part added', partId, number: `P-${at}`, name: `part ${at}`, group, quantity: 1, process: 'prepreg' },
      ...stamp(entries.length, 0),
    });
    entries.push({
      ...{ kind: 'estimate', partId, massKg: massKgOf(at), xM: (at % 80) / 10, yM: 0, zM: 0.5 },
      ...{
        evidence: 'estimated',
        growth: 0.24,
        laterGrowth: 0.24,
        growthFrom: 'shop default',
        flashKg: 0.01,
        laterKg: 0.05,
      },
      ...{ typed: {} },
      ...stamp(entries.length, 0),
    });
  }
  for (let at = 0; at < weighingCount; at += 1) {
    const netKg = (massKgOf(at % partCount) - 0.05) * (at % 30 === 7 ? 1.12 : 0.98 + (at % 11) / 200);
    entries.push({
      ...{ kind: 'weighing', partId: idOf('a', at % partCount) as PartId, pieces: [1], condition: 'trimmed' },
      ...{ readings: [{ grossKg: netKg, tareKg: 0, typed: {} }], netKg },
      ...{ grossResolutionKg: 0.01, tareResolutionKg: 0, resolutionFrom: 'stated' },
      ...stamp(entries.length, at),
    });
  }
  return entries;
}

export function asRecorded(entries: readonly Entry[]): readonly RecordedEntry[] {
  return entries.map((entry, at) => ({ seq: at + 1, recordedAt: '2026-10-01T00:00:00.000Z', entry }));
}

function massKgOf(at: number): number {
  return 0.4 + (at % 97) / 50;
}

function idOf(kind: 'a' | 'e', at: number): string {
  return `${kind}0000000-0000-4000-8000-${at.toString(16).padStart(12, '0')}`;
}
