/**
 * The server's backups (rule Z5): made one at a time, by the schedule and when somebody asks, into one folder. The schedule looks at what is in
 * the folder, so it neither forgets nor repeats one when the server is started anew.
 */
import { basename, join } from 'node:path';
import type { Kysely } from 'kysely';
import { noteAct } from '#db/audit/acts.ts';
import { backupName, keepNewest, listBackups } from '#db/backup/folder.ts';
import type { BackupReport } from '#db/backup/write-backup.ts';
import type { Database } from '#db/database.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import type { KeptBackup } from '#shared/contract/backup.ts';
import { say } from '#shared/words/say.ts';
import { makeBackupInThread } from './backup-thread.ts';

export type BackupPlan = {
  readonly folder: string;
  /** Hours from one backup of the schedule to the next; none are made where it is undefined. */
  readonly everyHours: number | undefined;
  /** How many of the schedule's backups are kept. */
  readonly keep: number;
};

/** Why the schedule's last backup was not made. */
export type BackupFailure = { readonly at: Date; readonly words: string; readonly remedy: string };

const HOUR_MS = 60 * 60 * 1000;
/** What failed is tried again sooner than the next one is due. */
const AGAIN_AFTER_MS = 15 * 60 * 1000;
const LOOK_EVERY_MS = 60 * 1000;

type Given = BackupPlan & {
  readonly db: Kysely<Database>;
  readonly now: () => Date;
  readonly err: { write(text: string): unknown };
};

export class Backups {
  readonly #given: Given;
  readonly #stopping = new AbortController();
  #queue: Promise<unknown> = Promise.resolve();
  #failure: BackupFailure | undefined;
  #timer: NodeJS.Timeout | undefined;
  #underWay = 0;

  constructor(given: Given) {
    this.#given = given;
  }

  get plan(): BackupPlan {
    return this.#given;
  }

  get failure(): BackupFailure | undefined {
    return this.#failure;
  }

  get isMaking(): boolean {
    return this.#underWay > 0;
  }

  list(): Promise<readonly KeptBackup[]> {
    return listBackups(this.#given.folder);
  }

  /** Throws `StoreRefusal` where it cannot be made. */
  make(why: 'asked' | 'scheduled'): Promise<BackupReport> {
    this.#underWay += 1;
    const turn = this.#queue.then(async () => {
      const at = this.#given.now();
      const to = join(this.#given.folder, backupName(at, why));
      return makeBackupInThread(this.#given.db, { to, at, signal: this.#stopping.signal });
    });
    const ended = turn.finally(() => {
      this.#underWay -= 1;
    });
    this.#queue = ended.catch(() => undefined);
    return ended;
  }

  /** Begins to look every minute whether a backup is due; the first look is at once. */
  keepSchedule(): void {
    if (this.#given.everyHours === undefined) return;
    const look = () => void this.makeDue();
    this.#timer = setInterval(look, LOOK_EVERY_MS);
    this.#timer.unref();
    look();
  }

  /** Makes the schedule's backup where one is due, and takes old ones away. Never throws: what goes wrong is told in log and health. */
  async makeDue(): Promise<void> {
    const { folder, everyHours, keep, now, err } = this.#given;
    if (everyHours === undefined || this.isMaking || this.#stopping.signal.aborted) return;
    try {
      if (!(await this.#isDue(everyHours))) return;
      const { path } = await this.make('scheduled');
      await noteAct(this.#given.db, { kind: 'backup made', detail: { file: basename(path), why: 'schedule' } });
      await keepNewest(folder, keep, now());
      if (this.#failure !== undefined) err.write(`${say`The scheduled backup has been made again.`}\n`);
      this.#failure = undefined;
    } catch (error) {
      if (this.#stopping.signal.aborted) return;
      this.#failure = { at: now(), ...told(error) };
      // In every language: whoever watches the log looks for these two words.
      err.write(`BACKUP FAILED: ${this.#failure.words} ${this.#failure.remedy}\n`);
    }
  }

  async #isDue(everyHours: number): Promise<boolean> {
    const nowMs = this.#given.now().getTime();
    if (
      this.#failure !== undefined &&
      Math.abs(nowMs - this.#failure.at.getTime()) < Math.min(AGAIN_AFTER_MS, everyHours * HOUR_MS)
    )
      return false;
    // What was made while the clock was ahead tells nothing of when the next is due.
    const last = (await this.list()).find(({ why, madeAt }) => why === 'scheduled' && Date.parse(madeAt) <= nowMs);
    return last === undefined || nowMs - Date.parse(last.madeAt) >= everyHours * HOUR_MS;
  }

  /** Gives up what is being made. */
  close(): void {
    clearInterval(this.#timer);
    this.#stopping.abort();
  }
}

function told(error: unknown): { readonly words: string; readonly remedy: string } {
  if (error instanceof StoreRefusal) return { words: error.words, remedy: error.remedy };
  const words = error instanceof Error ? (error.stack ?? error.message) : String(error);
  return { words, remedy: 'It is tried again.' };
}
