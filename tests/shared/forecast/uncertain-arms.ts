/** A chain with stations that are known to some centimetres: random chains and the demonstration state few. */
import type { RecordedEntry } from '#shared/ledger/entry.ts';

export function withUncertainArms(entries: readonly RecordedEntry[]): readonly RecordedEntry[] {
  return entries.map((recorded): RecordedEntry => {
    const { seq, entry } = recorded;
    const armStdM = (seq % 4) / 50;
    if (entry.kind !== 'estimate' && entry.kind !== 'arm measured' && entry.kind !== 'assembly weighing')
      return recorded;
    return { ...recorded, entry: { ...entry, armStdM } };
  });
}
