/**
 * The live lines: one per open page, each told of new entries on the aircraft its person may see. One listener feeds them all.
 *
 * A notice can be lost with the server that recorded, so at each heartbeat the heads of the ledgers are looked at as well.
 *
 * Before each message the session is looked up again, so that who has lost a right is told nothing more; a line whose session has
 * ended is closed, at the next heartbeat at the latest. A line is no use of a session: it does not keep one alive.
 */
import type { Kysely } from 'kysely';
import { sightsOf } from '#db/access/sight.ts';
import type { Database } from '#db/database.ts';
import type { EntryFeed, EntryNotice } from '#db/engine/entry-feed.ts';
import { listAircraft } from '#db/ledger/list-aircraft.ts';
import { personOfSession } from '#db/people/session.ts';
import type { LiveMessage } from '#shared/contract/aircraft.ts';
import type { AircraftId } from '#shared/ledger/entry.ts';
import { say } from '#shared/words/say.ts';

type Given = {
  readonly db: Kysely<Database>;
  readonly feed: EntryFeed;
  readonly now: () => Date;
  readonly err: { write(text: string): unknown };
  readonly heartbeatMs: number;
};

type Line = { readonly tokenHash: string; readonly controller: ReadableStreamDefaultController<Uint8Array> };

/** A page that reads nothing for this many messages is gone. */
const MOST_UNREAD = 200;
/** Of more aircraft than this it is quicker to ask about all. */
const MOST_NAMED = 100;
/** A browser shares one line among its pages; every line costs a look at its session for each new entry. */
const MOST_OF_SESSION = 20;

export class LiveLines {
  readonly #given: Given;
  readonly #lines = new Set<Line>();
  readonly #encoder = new TextEncoder();
  readonly #unsubscribe: () => void;
  readonly #heartbeat: NodeJS.Timeout;
  #told: Promise<void> = Promise.resolve();
  /** The last entry of each ledger that the pages know of; undefined while there is no page. */
  #heads: Map<string, number> | undefined;
  /** What has been heard and not yet been told, for a burst is told at once. `isAll`: anything may have changed. */
  #heard = { heads: new Map<string, number>(), isAll: false };
  #isClosed = false;

  constructor(given: Given) {
    this.#given = given;
    this.#unsubscribe = given.feed.subscribe((notice) => this.#hear(notice));
    this.#heartbeat = setInterval(() => this.recheck(), given.heartbeatMs);
    this.#heartbeat.unref();
  }

  /** Opens a line for a session. */
  open(tokenHash: string): ReadableStream<Uint8Array> {
    let line: Line | undefined;
    return new ReadableStream<Uint8Array>(
      {
        start: (controller) => {
          line = { tokenHash, controller };
          if (this.#isClosed) {
            controller.enqueue(this.#encoder.encode(farewell()));
            return controller.close();
          }
          const ofSession = [...this.#lines].filter((one) => one.tokenHash === tokenHash);
          const [oldest] = ofSession;
          if (oldest !== undefined && ofSession.length >= MOST_OF_SESSION) this.#close(oldest);
          this.#lines.add(line);
          this.#send(line, 'retry: 2000\n\n');
          this.#inOrder(async () => {
            this.#heads ??= await this.#everyHead();
          });
        },
        cancel: () => {
          if (line !== undefined) this.#lines.delete(line);
        },
      },
      { highWaterMark: MOST_UNREAD },
    );
  }

  /** Looks every session up again and closes the lines of those that have ended; tells what nobody has told. */
  recheck(): void {
    this.#inOrder(async () => {
      for (const line of [...this.#lines])
        if ((await this.#personOf(line)) === undefined) this.#close(line);
        else this.#send(line, ': still here\n\n');
      if (this.#lines.size === 0) {
        this.#heads = undefined;
        return;
      }
      // Where they could not be read when the first page came, all are told.
      this.#heads ??= new Map();
      const known = this.#heads;
      const missed = [...(await this.#everyHead())].filter(([aircraftId, seq]) => seq > (known.get(aircraftId) ?? 0));
      await this.#tell(new Map(missed));
    });
  }

  get count(): number {
    return this.#lines.size;
  }

  /** Tells every page that this server stops, and closes its line: the page opens another, at another server where there is one. */
  leave(): void {
    for (const line of [...this.#lines]) this.#send(line, farewell());
    this.close();
  }

  close(): void {
    this.#isClosed = true;
    this.#unsubscribe();
    clearInterval(this.#heartbeat);
    for (const line of [...this.#lines]) this.#close(line);
  }

  #hear(notice: EntryNotice): void {
    if (this.#lines.size === 0) return;
    const isFirst = this.#heard.heads.size === 0 && !this.#heard.isAll;
    if (notice === undefined) this.#heard.isAll = true;
    // Servers tell after their commits, so not always in the order of the ledger.
    else raise(this.#heard.heads, notice.aircraftId, notice.seq);
    if (!isFirst) return;
    this.#inOrder(async () => {
      const { heads, isAll } = this.#heard;
      this.#heard = { heads: new Map(), isAll: false };
      await this.#tell(isAll ? await this.#everyHead() : heads);
    });
  }

  async #tell(heard: ReadonlyMap<string, number>): Promise<void> {
    if (heard.size === 0) return;
    // A notice may come after a heartbeat that found the same, and more. It is told all the same, since it may be about something beside the ledger.
    const known = this.#heads;
    const heads = new Map([...heard].map(([id, seq]) => [id, Math.max(seq, known?.get(id) ?? 0)]));
    for (const line of [...this.#lines]) {
      const person = await this.#personOf(line);
      if (person === undefined) {
        this.#close(line);
        continue;
      }
      const sight = await sightsOf(this.#given.db, person, heads.size > MOST_NAMED ? undefined : [...heads.keys()]);
      const messages = [...heads].filter(([aircraftId]) => sight(aircraftId) !== undefined);
      // In one piece: a page that reads is not gone because much has happened at once.
      if (messages.length > 0) this.#send(line, messages.map(messageText).join(''));
    }
    // Not before: what could not be told is found again at the next heartbeat.
    if (this.#heads !== undefined) for (const [aircraftId, seq] of heads) raise(this.#heads, aircraftId, seq);
  }

  async #everyHead(): Promise<Map<string, number>> {
    return new Map((await listAircraft(this.#given.db)).map(({ id, headSeq }) => [id, headSeq]));
  }

  #personOf(line: Line) {
    return personOfSession(this.#given.db, line.tokenHash, this.#given.now(), false);
  }

  #send(line: Line, text: string): void {
    if (!this.#lines.has(line)) return;
    if ((line.controller.desiredSize ?? 0) <= 0) this.#close(line);
    else line.controller.enqueue(this.#encoder.encode(text));
  }

  #close(line: Line): void {
    if (!this.#lines.delete(line)) return;
    line.controller.close();
  }

  #inOrder(work: () => Promise<void>): void {
    if (this.#isClosed) return;
    this.#told = this.#told.then(work).catch((error: unknown) => {
      if (!this.#isClosed) this.#given.err.write(`${say`The live line missed a message: ${String(error)}`}\n`);
    });
  }
}

function raise(heads: Map<string, number>, aircraftId: string, seq: number): void {
  heads.set(aircraftId, Math.max(seq, heads.get(aircraftId) ?? 0));
}

function messageText([aircraftId, seq]: readonly [string, number]): string {
  const message: LiveMessage = { aircraftId: aircraftId as AircraftId, seq };
  return `data: ${JSON.stringify(message)}\n\n`;
}

/** Not all pages come back in the same moment. */
function farewell(): string {
  return `retry: ${500 + Math.floor(Math.random() * 1_500)}\nevent: leaving\ndata: this server stops\n\n`;
}
