/**
 * A copy of the database (a standby of its PostgreSQL server) that is read in bulk in its stead (rule Y6). Nothing depends on it: where it is away, behind,
 * or holds something else, whoever reads is told that there is nothing, and reads from the database itself.
 *
 * It is never believed by itself. What is read there is held against something small that the database says of the same.
 */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { say } from '#shared/words/say.ts';
import { sqlState } from './sql-state.ts';

/** What was not read there is not asked for there again for so long: each try could take as long as a connection may. */
const REST_MS = 60_000;

export class ReadCopy {
  readonly #db: Kysely<Database>;
  readonly #tell: (words: string) => void;
  readonly #restMs: number;
  #restsUntilMs = Number.NEGATIVE_INFINITY;
  #isLost = false;

  /** `tell`: is told when the copy is lost, and when it is back; not of each reader in between. */
  constructor(db: Kysely<Database>, tell: (words: string) => void, restMs = REST_MS) {
    this.#db = db;
    this.#tell = tell;
    this.#restMs = restMs;
  }

  /**
   * What `read` reads in the copy, where `isRight` finds that the database has the same. Undefined where it is not, where `read` says that it has not come
   * there yet, and where the copy cannot be read; what `isRight` throws is the database's and is thrown.
   */
  async read<Value>(
    read: (db: Kysely<Database>) => Promise<Value | undefined>,
    isRight: (value: Value) => Promise<boolean>,
  ): Promise<Value | undefined> {
    if (performance.now() < this.#restsUntilMs) return undefined;
    let value: Value | undefined;
    try {
      value = await read(this.#db);
    } catch (error) {
      this.#lose(say`The copy of the database cannot be read (${whyOf(error)}): all is read from the database itself.`);
      return undefined;
    }
    if (value === undefined) return undefined;
    if (await isRight(value)) {
      if (this.#isLost) this.#tell(say`The copy of the database is read again.`);
      this.#isLost = false;
      return value;
    }
    this.#lose(
      say`The copy of the database holds something else than the database, so it is not believed: all is read from the database itself.`,
    );
    return undefined;
  }

  #lose(words: string): void {
    this.#restsUntilMs = performance.now() + this.#restMs;
    if (!this.#isLost) this.#tell(words);
    this.#isLost = true;
  }
}

/** Some errors of connecting come with a code alone. */
function whyOf(error: unknown): string {
  const message = error instanceof Error ? error.message : String(error);
  return message === '' ? sqlState(error) : message;
}
