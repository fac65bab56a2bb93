/**
 * How far each ledger of a data folder had come when somebody was last told so, in a file beside the engine's. The engine's log ends where a
 * record cannot be read: one that was damaged after an end without order would be recovered up to there, verify, and lack what had been
 * acknowledged after. This file knows better.
 *
 * One line an aircraft, of a fixed length, overwritten in place. It is not brought to the disk each time: the entry is there before it, so
 * a power cut can only leave it behind, which accuses nobody. A line that cannot be read is passed over for the same reason.
 */
import { closeSync, existsSync, openSync, readFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { crc32 } from 'node:zlib';
import type { EntryNotice } from '#db/engine/entry-feed.ts';

export const acknowledgedName = 'acknowledged.txt';
const linePattern = /^([0-9a-f-]{36}) (\d{10}) ([0-9a-f]{8})$/;
const lineBytes = 36 + 1 + 10 + 1 + 8 + 1;

export class AcknowledgedHeads {
  readonly #path: string;
  readonly #heads = new Map<string, number>();
  /** Which line is whose. */
  readonly #places = new Map<string, number>();
  #file: number | undefined;

  constructor(folder: string) {
    this.#path = join(folder, acknowledgedName);
    const text = existsSync(this.#path) ? readFileSync(this.#path, 'latin1') : '';
    for (let place = 0; place * lineBytes < text.length; place += 1) {
      const line = text.slice(place * lineBytes, (place + 1) * lineBytes - 1);
      const [, aircraftId = '', seq = '', sum] = linePattern.exec(line) ?? [];
      // Whose the line was is not known any more: its place stays taken.
      if (sum !== sumOf(aircraftId, seq)) this.#places.set(`unreadable ${place}`, place);
      else {
        this.#places.set(aircraftId, place);
        this.#heads.set(aircraftId, Number(seq));
      }
    }
  }

  /** By aircraft, the number of the last entry that was acknowledged. */
  get heads(): ReadonlyMap<string, number> {
    return this.#heads;
  }

  readonly note = (notice: EntryNotice): void => {
    if (notice === undefined) return;
    const { aircraftId, seq } = notice;
    this.#heads.set(aircraftId, seq);
    const place = this.#places.get(aircraftId) ?? this.#places.size;
    this.#places.set(aircraftId, place);
    const digits = String(seq).padStart(10, '0');
    try {
      this.#file ??= openSync(this.#path, existsSync(this.#path) ? 'r+' : 'w+', 0o600);
      writeSync(this.#file, `${aircraftId} ${digits} ${sumOf(aircraftId, digits)}\n`, place * lineBytes, 'latin1');
    } catch {
      // A full disk: the line stays behind, and the entry is recorded all the same.
    }
  };

  close(): void {
    if (this.#file !== undefined) closeSync(this.#file);
    this.#file = undefined;
  }
}

function sumOf(aircraftId: string, seq: string): string {
  return crc32(`${aircraftId} ${seq}`).toString(16).padStart(8, '0');
}
