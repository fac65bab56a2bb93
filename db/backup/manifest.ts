/** What a backup says of itself in its last member (rule Z1): the list of the others, and what was in the store. */
import { z } from 'zod';
import { canonicalHash } from '#db/archive/write-archive.ts';

/** Raised when an older program could not read the form. */
export const BACKUP_FORMAT = 1;
export const MANIFEST = 'manifest.json';
export const ABOUT = 'about.txt';

const sha256 = z.string().regex(/^[0-9a-f]{64}$/);

/** `sha256`: of the rows, each as JSON on a line of its own, in the order of their keys. */
export const TableFacts = z.strictObject({ name: z.string(), rows: z.int().min(0), sha256 });
export type TableFacts = z.infer<typeof TableFacts>;

/** `headline` is null where it could not be worked out; its `sha256` is that of the whole headline in canonical JSON (RFC 8785). */
export const AircraftFacts = z.strictObject({
  id: z.uuid(),
  name: z.string(),
  entryCount: z.int().min(0),
  headHash: sha256,
  headline: z.strictObject({ predictedKg: z.number(), cgXM: z.number().nullable(), sha256 }).nullable(),
});
export type AircraftFacts = z.infer<typeof AircraftFacts>;

export const Manifest = z.strictObject({
  format: z.literal(BACKUP_FORMAT),
  /** Of the program that made it. */
  version: z.string(),
  /** The steps by which the schema of the store had come about, in order. */
  schema: z.array(z.string()).min(1),
  /** ISO 8601, UTC. */
  madeAt: z.string(),
  tables: z.array(TableFacts),
  aircraft: z.array(AircraftFacts),
  members: z.array(z.strictObject({ name: z.string(), bytes: z.int().min(0), sha256 })),
  leftOut: z.array(z.string()),
  /** SHA-256 over all of the above in canonical JSON. */
  check: sha256,
});
export type Manifest = z.infer<typeof Manifest>;

export function manifestText(manifest: Omit<Manifest, 'check'>): string {
  return `${JSON.stringify({ ...manifest, check: canonicalHash(manifest) }, null, 2)}\n`;
}

/** Where a table's rows stand: `at` counts its members from 1. */
export function rowsMember(table: string, at: number): string {
  return `rows/${table}/${String(at).padStart(6, '0')}.jsonl.gz`;
}

export const ROWS_MEMBER = /^rows\/([a-z][a-z0-9_]{0,62})\/(\d{6})\.jsonl\.gz$/;

export const LEFT_OUT = ['live sessions: after a restore everybody signs in anew'];

export const ABOUT_TEXT = `This is a backup of a whole Tarebook: every aircraft with its entries, proposals, briefs and photos, and the people who may
come in, with their passwords as hashes. Keep it where only those can read it who may.

Restore it into a new data folder, or into an empty PostgreSQL database:

  tarebook restore --from <this file> --data <new folder>
  DATABASE_URL=postgres://... tarebook restore --from <this file>

It is a plain tar of gzip files, one row of a table on each line, as JSON. ${MANIFEST}, its last member, lists the others with their SHA-256,
and for each aircraft the number and the hash of its last entry, predicted mass and CG. A changed file is refused.
`;
