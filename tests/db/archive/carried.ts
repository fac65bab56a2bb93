/** Chains as they are carried, for tests: hashed in TypeScript, without a database. */

import type { ArchiveFiles, ArchiveProblem } from '#db/archive/archive.ts';
import { readArchive } from '#db/archive/read-archive.ts';
import type { WriteRequest } from '#db/archive/write-archive.ts';
import { canonicalHash, sha256Of, writeArchive } from '#db/archive/write-archive.ts';
import { entryHash, genesisHash } from '#db/ledger/chain-hash.ts';
import type { ChainedText } from '#shared/archive/entry-tables.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import type { RecordedEntry } from '#shared/ledger/entry.ts';

export const TODAY = '2026-06-30';
const AIRCRAFT = { id: '6f1c2f0e-0c0f-4a53-9a8e-0d2a4a1f9b11', name: 'Dabchick study', isInvented: false };

export function hashed(aircraftId: string, entries: readonly RecordedEntry[]): readonly ChainedText[] {
  let prevHash = genesisHash(aircraftId);
  return entries.map(({ seq, recordedAt, entry }) => {
    const content = entryText(entry);
    const hash = entryHash({ aircraftId, seq, recordedAt, prevHash, content });
    prevHash = hash;
    return { seq, recordedAt, hash, content };
  });
}

export function requestOf(recorded: readonly RecordedEntry[], aircraft = AIRCRAFT): WriteRequest {
  const entries = hashed(aircraft.id, recorded);
  return {
    ...{ aircraft, entries, proposals: [], briefs: [], briefStatements: [], photos: [] },
    headHash: entries.at(-1)?.hash ?? genesisHash(aircraft.id),
    ...{ exportedAt: '2026-06-30T12:00:00.000Z', exportedBy: 'Ann' },
  };
}

export function filesOf(request: WriteRequest): Map<string, Uint8Array> {
  const written = writeArchive(request);
  if (!written.ok) throw new Error(JSON.stringify(written.problems));
  return new Map(written.value);
}

/** `file:line:column code facts` of everything that is found. */
export function foundIn(files: ArchiveFiles): readonly string[] {
  const read = readArchive(files, { today: TODAY });
  return read.ok ? [] : read.problems.map(told);
}

export function told({ file, line, column, refusal }: ArchiveProblem): string {
  const { code, ...facts } = refusal;
  return [`${file}:${line}:${column}`, code, ...Object.values(facts)].join(' ');
}

export const textOf = (bytes: Uint8Array | undefined) => new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
export const bytesOf = (text: string) => new TextEncoder().encode(text);

/** The files with one of them changed and the manifest written anew, as somebody would who knows how: every list fits. */
export function forged(files: ArchiveFiles, name: string, change: (text: string) => string): Map<string, Uint8Array> {
  const changed = new Map(files);
  changed.set(name, bytesOf(change(textOf(files.get(name)))));
  return relisted(changed);
}

export function relisted(files: ArchiveFiles, change: (manifest: Record<string, unknown>) => void = () => undefined) {
  const { check: _, ...manifest } = JSON.parse(textOf(files.get('manifest.json')));
  manifest.files = manifest.files
    .filter(({ name }: { name: string }) => files.has(name))
    .map((file: { name: string }) => {
      const bytes = files.get(file.name) ?? new Uint8Array();
      return { ...file, bytes: bytes.length, sha256: sha256Of(bytes) };
    });
  change(manifest);
  const all = new Map(files);
  all.set('manifest.json', bytesOf(JSON.stringify({ ...manifest, check: canonicalHash(manifest) })));
  return all;
}
