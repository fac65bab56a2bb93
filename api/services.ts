/** What the doors work with, made once by the server or by a test. */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import type { Store } from '#db/engine/open-store.ts';
import { LiveLedgers } from '#db/record/live-ledgers.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { ArchiveWork } from './archive/archive-work.ts';
import { type BackupPlan, Backups } from './backup/backups.ts';
import { ListReader } from './import/list-reader.ts';
import { LiveLines } from './live/live-lines.ts';
import type { RequestFacts } from './log/log.ts';
import { FirstRunCode } from './people/first-run-code.ts';
import { Throttle } from './people/throttle.ts';
import { PhotoWork } from './photo/remake.ts';

export type CreateDemonstration = (
  db: Kysely<Database>,
  stamp: { readonly by: string; readonly today: string },
) => Promise<{ readonly ok: true; readonly aircraftId: string } | { readonly ok: false; readonly refusal: Refusal }>;

/** Is told what the server does, and may only look: the log and the figures for a monitor. */
export type Watch = {
  request(facts: RequestFacts): void;
  /** Entries that were not there before. */
  recorded(entries: number): void;
};

/** Where the server stands, for whoever sends requests its way. */
export type Standing = { isStopping: boolean };

/** What surrounds the server; a test gives others. */
export type Surroundings = {
  readonly store: Store;
  readonly now: () => Date;
  /** Where words for the person at the server go, and where faults are logged. */
  readonly out: { write(text: string): unknown };
  readonly err: { write(text: string): unknown };
  /** Served under TLS: cookies carry `Secure` and the prefix that binds them to this host. */
  readonly isSecure: boolean;
  /** Told to stand behind a proxy: then the address of a request is the one that the proxy says. */
  readonly isBehindProxy?: boolean;
  /** Browsers are told to ask over https alone from now on. */
  readonly isHttpsAlone?: boolean;
  /** The folder of the built browser app. */
  readonly clientFolder: string;
  readonly createDemonstration: CreateDemonstration;
  readonly backupPlan: BackupPlan;
  /** The local authority's certificate (PEM) where this server's own is made by one. */
  readonly trust?: string | undefined;
  /** Where the key of the shop is kept that signs checkpoints; made there with the first. */
  readonly checkpointKeyFile?: string | undefined;
  readonly watch?: Watch;
  readonly heartbeatMs?: number;
  /** How long a reader waits for a ledger that is being read before it is told how far that has come. */
  readonly patienceMs?: number;
};

export type Services = Surroundings & {
  readonly db: Kysely<Database>;
  readonly ledgers: LiveLedgers;
  readonly lines: LiveLines;
  readonly listReader: ListReader;
  readonly archives: ArchiveWork;
  readonly backups: Backups;
  readonly photos: PhotoWork;
  readonly firstRunCode: FirstRunCode;
  readonly throttle: Throttle;
  readonly watch: Watch;
  readonly standing: Standing;
  /** Ends every live line, the threads that read lists and pack aircraft, and a backup that is being made. The store is the caller's to close. */
  readonly stop: () => void;
};

export function makeServices(given: Surroundings): Services {
  const { db, feed } = given.store;
  const lines = new LiveLines({ db, feed, now: given.now, err: given.err, heartbeatMs: given.heartbeatMs ?? 20_000 });
  const listReader = new ListReader(db);
  const archives = new ArchiveWork();
  const photos = new PhotoWork();
  const watch = given.watch ?? { request: () => undefined, recorded: () => undefined };
  const backups = new Backups({ ...given.backupPlan, db, now: given.now, err: given.err });
  return {
    ...given,
    db,
    ledgers: new LiveLedgers(db, {
      ...(given.patienceMs === undefined ? {} : { patienceMs: given.patienceMs }),
      onRecorded: () => watch.recorded(1),
      tell: feed.tell,
      copy: given.store.copy,
    }),
    watch,
    standing: { isStopping: false },
    lines,
    firstRunCode: new FirstRunCode(given.out),
    throttle: new Throttle(),
    listReader,
    archives,
    photos,
    backups,
    stop: () => {
      lines.close();
      listReader.close();
      archives.close();
      photos.close();
      backups.close();
    },
  };
}
