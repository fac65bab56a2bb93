/** An aircraft as the queries of this folder give it, and the key its name is compared by. */
import type { Selectable } from 'kysely';
import type { AircraftTable } from '#db/database.ts';

export type Aircraft = {
  id: string;
  name: string;
  /** Sequence number of its last entry; 0 while there is none. */
  headSeq: number;
  headHash: string;
  /** ISO 8601, UTC, milliseconds. */
  createdAt: string;
};

export const aircraftColumns = ['id', 'name', 'head_seq', 'head_hash', 'created_at'] as const;

export function toAircraft(row: Pick<Selectable<AircraftTable>, (typeof aircraftColumns)[number]>): Aircraft {
  return {
    id: row.id,
    name: row.name,
    headSeq: row.head_seq,
    headHash: row.head_hash,
    createdAt: row.created_at,
  };
}

/** Folds a name for comparison. Done here and not in SQL, where collation C would lower-case plain letters only. */
export function nameKey(name: string): string {
  return name.trim().normalize('NFC').toLowerCase();
}
