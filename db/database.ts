/**
 * The tables as Kysely sees them. Types only.
 *
 * Columns end in their unit (`mass_kg`). `entry` can be read and nothing else: rows enter it through the SQL function
 * `append_entries` alone (L1), so its insert and update types are `never`.
 */
import type { ColumnType } from 'kysely';
import type { Role } from '#shared/contract/people.ts';

/** Given by the database and never written by the app. */
type Stamped<T> = ColumnType<T, never, never>;
/** Written once, when the row is made. */
type Once<T> = ColumnType<T, T, never>;

export interface AircraftTable {
  id: Once<string>;
  name: Once<string>;
  /** The name folded for comparison: two aircraft whose names differ only in case or outer blanks are one name. */
  name_key: Once<string>;
  /** Sequence number of the last entry; 0 while there is none. */
  head_seq: Stamped<number>;
  /** Hash of the last entry; the genesis hash while there is none. */
  head_hash: Stamped<string>;
  /** ISO 8601, UTC, milliseconds. */
  created_at: Stamped<string>;
}

export interface EntryTable {
  aircraft_id: Stamped<string>;
  seq: Stamped<number>;
  id: Stamped<string>;
  kind: Stamped<string>;
  /** `YYYY-MM-DD`, read as text: a day has no time zone. */
  happened_on: Stamped<string>;
  /** ISO 8601, UTC, milliseconds, as text: exactly the characters that were hashed. */
  recorded_at: Stamped<string>;
  by_name: Stamped<string>;
  part_id: Stamped<string | null>;
  supersedes_id: Stamped<string | null>;
  mass_kg: Stamped<number | null>;
  prev_hash: Stamped<string>;
  hash: Stamped<string>;
  /** The canonical text as the client made it. This is the record; every other column is derived from it. */
  content: Stamped<string>;
}

export interface PersonTable {
  id: Once<string>;
  name: Once<string>;
  /** The name folded for comparison, as of an aircraft. */
  name_key: Once<string>;
  initials: Once<string>;
  role: Role;
  /** Sees every aircraft, also those to come; else those of `person_access`. */
  sees_all: boolean;
  is_active: ColumnType<boolean, never, boolean>;
  /** Argon2id with its parameters and salt, as one text. */
  password_hash: string;
  /** Kept as a password is; none where the person has no PIN. */
  pin_hash: ColumnType<string | null, never, string | null>;
  /** Wrong PINs in a row. */
  pin_wrong: ColumnType<number, never, number>;
  created_at: Stamped<Date>;
}

export interface PersonAccessTable {
  person_id: Once<string>;
  aircraft_id: Once<string>;
}

export interface SessionTable {
  /** SHA-256 of the token, hex. */
  token_hash: Once<string>;
  person_id: Once<string>;
  started_at: Once<Date>;
  last_seen_at: Date;
  /** Of a session begun on a tablet that several share. */
  tablet_id: ColumnType<string | null, string | null | undefined, string>;
  by_pin: ColumnType<boolean, boolean | undefined, never>;
}

export interface SharedTabletTable {
  id: Once<string>;
  name: string;
  /** SHA-256 of the token, hex. */
  token_hash: Once<string>;
  idle_minutes: number;
  made_by: Once<string>;
  made_at: Once<Date>;
  last_used_at: Date;
  last_address: string;
}

/** An aircraft that is closed to all but leads and the named. */
export interface ClosedAircraftTable {
  aircraft_id: Once<string>;
}

export interface ClosedAircraftPersonTable {
  aircraft_id: Once<string>;
  person_id: Once<string>;
  may_write: Once<boolean>;
}

/** What somebody did beside the ledgers. Rows are added and never changed. */
export interface ActTable {
  id: Once<string>;
  /** ISO 8601, UTC, microseconds. */
  done_at: Stamped<string>;
  kind: Once<string>;
  person_id: Once<string | null>;
  /** Who says so, where no account stands behind it: of the command. */
  by_name: Once<string | null>;
  about_person_id: Once<string | null>;
  aircraft_id: Once<string | null>;
  address: Once<string | null>;
  /** Facts by name, as JSON. */
  detail: Once<string>;
}

/** One row once the first account has been made. */
export interface FirstRunTable {
  done: Once<true>;
  person_id: Once<string>;
}

export interface InventedAircraftTable {
  aircraft_id: Once<string>;
}

/** Rows are added and never changed: the latest revision of a proposal is in force. */
export interface ProposalRevisionTable {
  aircraft_id: Once<string>;
  proposal_id: Once<string>;
  revision: Once<number>;
  id: Once<string>;
  by_name: Once<string>;
  /** ISO 8601, UTC, milliseconds. */
  recorded_at: Stamped<string>;
  /** What the client sent, in canonical JSON. */
  sent: Once<string>;
  /** What was made of it, as JSON. */
  content: Once<string>;
}

/** What is being weighed: written over with every change, gone once it is signed. */
export interface AircraftWeighingDraftTable {
  aircraft_id: Once<string>;
  id: Once<string>;
  version: number;
  by_name: string;
  /** ISO 8601, UTC, milliseconds. */
  changed_at: Stamped<string>;
  /** As JSON. */
  content: string;
}

/** Kept as it was made. */
export interface BriefTable {
  aircraft_id: Once<string>;
  brief_id: Once<string>;
  from_seq: Once<number>;
  to_seq: Once<number>;
  by_name: Once<string>;
  /** ISO 8601, UTC, milliseconds. */
  recorded_at: Stamped<string>;
  /** What the client sent, in canonical JSON. */
  sent: Once<string>;
  /** In canonical JSON. */
  content: Once<string>;
}

/** What was said of a brief, row upon row: the last one is in force, and after an issue or a drop there is none. */
export interface BriefStatementTable {
  aircraft_id: Once<string>;
  brief_id: Once<string>;
  revision: Once<number>;
  id: Once<string>;
  act: Once<string>;
  by_name: Once<string>;
  recorded_at: Stamped<string>;
  sent: Once<string>;
  /** In canonical JSON; of an issue or a drop, those that stood. */
  remarks: Once<string>;
  /** Of an issue: its number, and the SHA-256 over content, a line feed and remarks. */
  issue_number: Stamped<number | null>;
  hash: Stamped<string | null>;
}

/** Came in with the whole chain that it had elsewhere: up to this entry the moments of recording are those of another store. */
export interface BroughtAircraftTable {
  aircraft_id: Once<string>;
  by_name: Once<string>;
  /** ISO 8601, UTC, milliseconds. */
  brought_at: Stamped<string>;
  entry_count: Once<number>;
  head_hash: Once<string>;
}

/** A JPEG that the server has made itself, without anything about where and on what it was taken. */
export interface PhotoTable {
  aircraft_id: Once<string>;
  id: Once<string>;
  part_id: Once<string | null>;
  entry_id: Once<string | null>;
  by_name: Once<string>;
  /** ISO 8601, UTC, milliseconds. */
  recorded_at: Stamped<string>;
  remark: Once<string | null>;
  width_px: Once<number>;
  height_px: Once<number>;
  /** Of `bytes`. */
  sha256: Once<string>;
  bytes: Once<Uint8Array>;
  small_bytes: Once<Uint8Array>;
}

export interface PhotoRemovalTable {
  aircraft_id: Once<string>;
  photo_id: Once<string>;
  by_name: Once<string>;
  /** ISO 8601, UTC, milliseconds. */
  recorded_at: Stamped<string>;
  reason: Once<string>;
}

export interface Database {
  aircraft: AircraftTable;
  entry: EntryTable;
  person: PersonTable;
  person_access: PersonAccessTable;
  session: SessionTable;
  shared_tablet: SharedTabletTable;
  first_run: FirstRunTable;
  closed_aircraft: ClosedAircraftTable;
  closed_aircraft_person: ClosedAircraftPersonTable;
  act: ActTable;
  invented_aircraft: InventedAircraftTable;
  proposal_revision: ProposalRevisionTable;
  aircraft_weighing_draft: AircraftWeighingDraftTable;
  brief: BriefTable;
  brief_statement: BriefStatementTable;
  brought_aircraft: BroughtAircraftTable;
  photo: PhotoTable;
  photo_removal: PhotoRemovalTable;
}
