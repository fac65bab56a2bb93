/**
 * One aircraft that several clients write to at once, as tablets and their network do: they send an entry twice, again after no answer, again much later,
 * with other content, and hang up in the middle of an answer. Keeps book of what was acknowledged, and holds the ledger against that.
 */
import { randomUUID } from 'node:crypto';
import { connect } from 'node:net';
import { expect } from 'vitest';
import { openStore, type StorePlace } from '#db/engine/open-store.ts';
import { CopyReport, VerifyReport } from '#shared/contract/aircraft.ts';
import { foldEntries } from '#shared/ledger/fold.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { aircraftIn, openShop, partsIn } from '#tests/api/door-shop.ts';
import type { Chance } from '#tests/support/chance.ts';

type Body = Readonly<Record<string, unknown>> & { readonly id: string };
type Said = { readonly status: number; readonly text: string };

/** A new aircraft with parts in the store at `place`, and a lead who is signed in. */
export async function makeShop(place: StorePlace): Promise<{ aircraftId: string; cookie: string }> {
  const store = await openStore(place);
  const shop = openShop(store);
  try {
    const { cookie } = await shop.person('lead');
    const aircraftId = await aircraftIn(shop, cookie);
    await partsIn(shop, cookie, aircraftId);
    return { aircraftId, cookie };
  } finally {
    shop.close();
    await store.close();
  }
}

export class ShopUnderLoad {
  /** By id: under which number it was acknowledged. */
  readonly acknowledged = new Map<string, { readonly seq: number; readonly body: Body }>();
  /** Sent, and not answered yet. */
  readonly waiting = new Map<string, Body>();
  /** How often each refusal of the server as a whole was met, by its code. */
  readonly refusals = new Map<string, number>();
  /** What must not be. */
  readonly wrong: string[] = [];
  /** The longest that an answer took. */
  longestMs = 0;
  readonly #path: string;
  readonly #cookie: string;
  readonly #chance: Chance;
  #clients: Promise<unknown>[] = [];
  #goesOn = false;
  #wake: () => void = () => undefined;

  constructor(shop: { aircraftId: string; cookie: string }, chance: Chance) {
    this.#path = `/api/aircraft/${shop.aircraftId}`;
    this.#cookie = shop.cookie;
    this.#chance = chance;
  }

  /** So many clients write to these servers until `end`. */
  begin(clients: number, addresses: readonly string[]): void {
    this.#goesOn = true;
    this.#clients = Array.from({ length: clients }, async (_, at) => {
      for (let turn = at; this.#goesOn; turn += 1) await this.#act(addresses[turn % addresses.length] ?? '');
    });
  }

  async end(): Promise<void> {
    this.#goesOn = false;
    await Promise.all(this.#clients);
  }

  /** Waits until so many more are acknowledged. */
  async untilMore(count: number): Promise<void> {
    const wanted = this.acknowledged.size + count;
    while (this.acknowledged.size < wanted && this.wrong.length === 0)
      await new Promise<void>((resolve) => {
        this.#wake = resolve;
      });
  }

  /** Sends all that got no answer once more: each is there, or goes in now. */
  async sendWaiting(address: string): Promise<void> {
    for (const body of this.waiting.values()) await this.#send(address, body);
    expect([...this.waiting.keys()]).toEqual([]);
  }

  /**
   * Nothing acknowledged is lost, nothing is there twice or in other words than were sent, the chain verifies, and the headline as the server
   * carries it on is, to the last bit, the one made of the entries anew. While nobody writes.
   */
  async check(address: string, told: string): Promise<void> {
    expect(this.wrong, told).toEqual([]);
    const entries: CopyReport['entries'] = [];
    for (let last = -1; entries.length !== last; ) {
      const page = CopyReport.parse(await this.#read(address, `/entries/copy?after=${entries.length}`));
      entries.push(...page.entries);
      last = page.seq;
    }
    expect(
      entries.map(({ seq }) => seq),
      told,
    ).toEqual(entries.map((_, at) => at + 1));
    expect(new Set(entries.map(({ entry }) => entry.id)).size, told).toBe(entries.length);
    const lost = [...this.acknowledged].filter(([id, { seq }]) => entries[seq - 1]?.entry.id !== id);
    expect(lost, told).toEqual([]);
    const sent = new Map([...this.waiting, ...[...this.acknowledged].map(([id, { body }]) => [id, body] as const)]);
    const other = entries.filter(({ entry }) => {
      const text = sent.get(entry.id)?.['text'];
      return text !== undefined && (entry.kind !== 'note' || entry.text !== text);
    });
    expect(other, told).toEqual([]);
    expect(VerifyReport.parse(await this.#read(address, '/verify')), told).toMatchObject({
      ok: true,
      entryCount: entries.length,
    });
    const { headline } = (await this.#read(address, '')) as { headline: unknown };
    expect(headline, told).toEqual(JSON.parse(JSON.stringify(headlineReport(foldEntries(entries)))));
  }

  async #act(address: string): Promise<void> {
    const chance = this.#chance.uniform();
    const known = [...this.acknowledged.values()];
    const old = known[Math.floor(this.#chance.uniform() * known.length)];
    const [unanswered] = this.waiting.values();
    if (chance < 0.15 && unanswered !== undefined) await this.#send(address, unanswered);
    else if (chance < 0.2 && old !== undefined) await this.#send(address, old.body);
    else if (chance < 0.25 && old !== undefined) await this.#sendOther(address, old.body);
    else if (chance < 0.32) {
      const twice = this.#newBody();
      await Promise.all([this.#send(address, twice), this.#send(address, twice)]);
    } else if (chance < 0.4) await this.#hangUp(address, this.#newBody());
    else await this.#send(address, this.#newBody());
  }

  #newBody(): Body {
    const id = randomUUID();
    if (this.#chance.uniform() < 0.2) return { id, kind: 'note', text: `said ${this.#chance.uniform()}` };
    const piece = String(1 + Math.floor(this.#chance.uniform() * 4));
    const gross = `${(3 + 2 * this.#chance.uniform()).toFixed(3)} kg`;
    return { id, kind: 'weighing', part: 'W-104', piece, gross, condition: 'finished' };
  }

  async #send(address: string, body: Body): Promise<void> {
    if (!this.acknowledged.has(body.id)) this.waiting.set(body.id, body);
    const said = await this.#call(address, 'POST', '/entries', body);
    if (said === undefined) return this.#pause();
    if (said.status >= 500) {
      const { code } = JSON.parse(said.text) as { code: string };
      this.refusals.set(code, (this.refusals.get(code) ?? 0) + 1);
      return this.#pause();
    }
    if (said.status !== 200 && said.status !== 201) return this.#note(`${said.status} ${said.text}`);
    const { seq } = (JSON.parse(said.text) as { entry: { seq: number } }).entry;
    const before = this.acknowledged.get(body.id);
    if (before === undefined) this.acknowledged.set(body.id, { seq, body });
    else if (before.seq !== seq) this.#note(`${body.id} was entry ${before.seq} and is ${seq}`);
    this.waiting.delete(body.id);
    this.#wake();
  }

  /** The id of what is recorded, with other content: to be refused. */
  async #sendOther(address: string, { id }: Body): Promise<void> {
    const said = await this.#call(address, 'POST', '/entries', { id, kind: 'note', text: 'other than it was' });
    if (said === undefined || said.status >= 500) return this.#pause();
    if (said.status !== 409 || !said.text.includes('entry-id-reused'))
      this.#note(`an id was taken twice: ${said.status} ${said.text}`);
  }

  /** Sends it whole and is gone before, or in the middle of, the answer. */
  #hangUp(address: string, body: Body): Promise<void> {
    this.waiting.set(body.id, body);
    const text = JSON.stringify(body);
    const { hostname, port } = new URL(address);
    const head = `POST ${this.#path}/entries HTTP/1.1\r\nHost: ${hostname}:${port}\r\nCookie: ${this.#cookie}\r\nContent-Type: application/json\r\nContent-Length: ${Buffer.byteLength(text)}\r\n\r\n`;
    const waits = this.#chance.uniform() < 0.5;
    return new Promise((resolve) => {
      const socket = connect(Number(port), hostname, () => {
        socket.write(head + text, () => {
          if (!waits) socket.destroy();
        });
      });
      socket.once('data', () => socket.destroy());
      socket.once('error', () => undefined);
      socket.once('close', () => resolve());
    });
  }

  async #call(address: string, method: string, path: string, body?: Body): Promise<Said | undefined> {
    const beganMs = performance.now();
    try {
      const answer = await fetch(`${address}${this.#path}${path}`, {
        method,
        headers: { Cookie: this.#cookie, 'Content-Type': 'application/json' },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      });
      return { status: answer.status, text: await answer.text() };
    } catch {
      return undefined;
    } finally {
      this.longestMs = Math.max(this.longestMs, performance.now() - beganMs);
    }
  }

  /** An answer that must come; a ledger that is still being read is asked for again. */
  async #read(address: string, path: string): Promise<unknown> {
    for (;;) {
      const said = await this.#call(address, 'GET', path);
      if (said?.status === 200) return JSON.parse(said.text);
      if (said?.status !== 503) throw new Error(`GET ${path}: ${said?.status} ${said?.text}`);
      await this.#pause();
    }
  }

  #note(what: string): void {
    this.wrong.push(what);
    this.#wake();
  }

  #pause(): Promise<void> {
    return new Promise((resolve) => setTimeout(resolve, 50));
  }
}
