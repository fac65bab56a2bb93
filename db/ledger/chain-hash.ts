/**
 * The hash chain of one aircraft (L5), in TypeScript with Node's own SHA-256: independent of the SQL that writes it.
 * Pure.
 */
import { createHash } from 'node:crypto';

/** What the first entry names as the hash before it. Lower-case hexadecimal. */
export function genesisHash(aircraftId: string): string {
  return sha256(`tarebook\n${aircraftId}`);
}

/** The hash of one entry: SHA-256 over its aircraft, place, time of recording, the hash before it, and its text. */
export function entryHash(entry: {
  aircraftId: string;
  seq: number;
  recordedAt: string;
  prevHash: string;
  content: string;
}): string {
  return sha256(`${entry.aircraftId}\n${entry.seq}\n${entry.recordedAt}\n${entry.prevHash}\n${entry.content}`);
}

function sha256(text: string): string {
  return createHash('sha256').update(text, 'utf8').digest('hex');
}
