/** A shop with something in it: aircraft of several kinds, people of every role, and what a sender may know of all that. */
import { randomUUID } from 'node:crypto';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { zipArchive } from '#db/archive/zip.ts';
import { createDemonstration } from '#db/demo/create-demonstration.ts';
import type { Store } from '#db/engine/open-store.ts';
import { makePerson } from '#db/people/change-people.ts';
import { hashPassword } from '#db/people/password.ts';
import { setPin } from '#db/people/pin.ts';
import { startSession, tokenHash } from '#db/people/session.ts';
import { makeTablet } from '#db/people/tablet.ts';
import { PartsReport } from '#shared/contract/aircraft.ts';
import type { Access, Role } from '#shared/contract/people.ts';
import { aircraftIn, openShop, PASSWORD, record, type Shop } from '#tests/api/door-shop.ts';
import { pngOf } from '#tests/api/photo/make-pictures.ts';
import { filesOf, requestOf } from '#tests/db/archive/carried.ts';
import { everyKind } from '#tests/shared/archive/every-kind.ts';
import { METRIC } from '#tests/shared/loading/limits-words.ts';

export const PIN = '2468';
const NAMES = ['W-104', 'W-105', 'W-106', 'T-200', 'T-201', 'B-300', 'SPARE'];

/** Something that can be named again. `revision` is the one that the sender has seen. */
export type Stated = { readonly aircraftId: string; readonly id: string; revision: number };
export type Part = { readonly id: string; readonly number: string };

export class World {
  readonly shop: Shop;
  /** One that is worked on, an invented one with a long story, one just begun, and one that hardly anybody may see. */
  readonly aircraft: { small: string; demo: string; bare: string; hidden: string } = {
    ...{ small: '', demo: '', bare: '', hidden: '' },
  };
  readonly parts = new Map<string, readonly Part[]>();
  readonly headSeq = new Map<string, number>();
  readonly proposals: Stated[] = [];
  readonly briefs: Stated[] = [];
  readonly photos: { readonly aircraftId: string; readonly id: string }[] = [];
  readonly drafts = new Map<string, { readonly id: string; version: number }>();
  readonly tablets: string[] = [];
  readonly people: string[] = [];
  readonly backups: string[] = [];
  readonly picture = pngOf(6, 4);
  readonly #actors = new Map<string, string>();
  #passwordHash = '';
  #pinHash = '';
  #tablet = { id: '', token: '' };
  #count = 0;

  private constructor(shop: Shop) {
    this.shop = shop;
  }

  static open(store: Store): World {
    return new World(
      openShop(store, {
        createDemonstration: (db, stamp) => createDemonstration(db, stamp),
        checkpointKeyFile: join(tmpdir(), `tarebook-fuzz-${randomUUID()}.pem`),
      }),
    );
  }

  /** After the first account is there. */
  async fill(): Promise<void> {
    this.#passwordHash = await hashPassword(PASSWORD);
    this.#pinHash = await hashPassword(PIN);
    const { cookie } = await this.person('lead');
    await this.#makeTablet(cookie);
    this.aircraft.small = await aircraftIn(this.shop, cookie);
    this.aircraft.bare = await aircraftIn(this.shop, cookie);
    this.aircraft.hidden = await aircraftIn(this.shop, cookie);
    const { small } = this.aircraft;
    const say = (words: object) => record(this.shop, cookie, small, { ...words });
    for (const [at, number] of NAMES.entries()) {
      const process = at % 2 === 0 ? 'prepreg' : 'machined';
      await say({ kind: 'part added', number, group: at < 3 ? 'wing' : 'tail', quantity: '2', process });
      if (number !== 'SPARE') await say({ kind: 'estimate', part: number, estimate: '4 kg', x: '2.5 m', y: '0 m' });
    }
    await say({ kind: 'part added', number: 'FIN', group: 'tail', process: 'bonding' });
    for (const number of ['FIN-1', 'FIN-2']) {
      await say({ kind: 'part added', number, group: 'tail', assembly: 'FIN', process: 'prepreg' });
      await say({ kind: 'estimate', part: number, estimate: '3 kg', x: '5.5 m', y: '0 m' });
      await say({ kind: 'weighing', part: number, gross: '3.3 kg', condition: 'finished' });
    }
    await say({ kind: 'scale', scale: 'Bench', capacity: '30 kg', resolution: '10 g' });
    await say({ kind: 'targets', 'empty mass': '60 kg', 'cg forward': '2 m', 'cg aft': '4 m', groups: { wing: '' } });
    await say({ kind: 'loading', limits: METRIC });
    for (let count = 0; count < 2; count += 1) this.people.push((await this.person('crew')).id);
  }

  /** Somebody new who is signed in. */
  async person(
    role: Role,
    access: Access = 'all',
    byPin = false,
  ): Promise<{ id: string; name: string; cookie: string }> {
    const { db } = this.shop.services;
    this.#count += 1;
    const name = `Person ${this.#count} ${randomUUID()}`;
    const initials = `P${this.#count}`;
    const made = await makePerson(db, { name, initials, role, aircraft: access, passwordHash: this.#passwordHash });
    if (!made.ok) throw new Error(made.refusal);
    const { id } = made.person;
    if (byPin) await setPin(db, id, { passwordHash: this.#passwordHash, pinHash: this.#pinHash });
    return { id, name, cookie: await this.session(id, byPin) };
  }

  /** A new session of a person, as the header says it. */
  async session(id: string, byPin = false): Promise<string> {
    const begun = byPin ? { tabletId: this.#tablet.id, byPin } : {};
    return `tarebook=${await startSession(this.shop.services.db, id, this.shop.services.now(), begun)}`;
  }

  get tabletCookie(): string {
    return `tarebook-tablet=${this.#tablet.token}`;
  }

  /** What the parts are by now, and how far the ledger goes. */
  async look(aircraftId: string): Promise<void> {
    const { cookie } = await this.person('lead');
    const answer = await this.shop.call('GET', `/api/aircraft/${aircraftId}/parts`, { cookie });
    const { seq, parts } = PartsReport.parse(await answer.json());
    this.headSeq.set(aircraftId, seq);
    this.parts.set(
      aircraftId,
      parts.map(({ partId, number }) => ({ id: partId, number })),
    );
  }

  /** Somebody of that role: one who may see all aircraft, the one that is worked on, or none. */
  async as(role: Role, sees: 'all' | 'some' | 'none' = 'all'): Promise<string> {
    const key = `${role} ${sees}`;
    const access: Access = sees === 'all' ? 'all' : sees === 'some' ? [this.aircraft.small] : [];
    const id = this.#actors.get(key) ?? (await this.person(role, access)).id;
    this.#actors.set(key, id);
    return this.session(id);
  }

  /** What an answer tells that can be asked for again. */
  async learn(door: string, path: string, told: Readonly<Record<string, unknown>>): Promise<void> {
    const aircraftId = /^\/api\/aircraft\/([^/]+)/.exec(path)?.[1] ?? '';
    const revised = (list: Stated[], id: unknown) => {
      const known = list.find((one) => one.id === id);
      const revision = Number(told['revision']);
      if (known === undefined) list.push({ aircraftId, id: String(id), revision });
      else known.revision = revision;
    };
    if (door.startsWith('POST') && told['proposalId'] !== undefined) revised(this.proposals, told['proposalId']);
    if (door.startsWith('POST') && told['briefId'] !== undefined) revised(this.briefs, told['briefId']);
    if (door === 'POST /api/people') this.people.push(String(told['id']));
    if (door === 'POST /api/backups') this.backups.splice(0, 10, String(told['name']));
    if (door.endsWith('/entries') && door.startsWith('POST')) await this.look(aircraftId);
    if (door.endsWith('/photos') && door.startsWith('POST'))
      for (const { id } of (told['photos'] ?? []) as { id: string }[]) this.photos.push({ aircraftId, id });
    if (door.endsWith('/removal')) {
      const at = this.photos.findIndex(({ id }) => path.includes(id));
      if (at >= 0) this.photos.splice(at, 1);
    }
    if (door === 'POST /api/tablets')
      for (const { id } of (told['tablets'] ?? []) as { id: string }[])
        if (id !== this.#tablet.id) this.tablets.push(id);
    const draft = told['draft'] as { id: string; version: number } | undefined;
    if (draft !== undefined) this.drafts.set(aircraftId, draft);
    else if (told['isGone'] === true) this.drafts.delete(aircraftId);
  }

  /** The ZIP of a small aircraft that is not here. */
  archive(): Uint8Array {
    const id = randomUUID();
    return zipArchive(
      filesOf(requestOf(everyKind().entries, { id, name: `Study ${id}`, isInvented: false })),
      this.shop.services.now(),
    );
  }

  async #makeTablet(cookie: string): Promise<void> {
    const { db, now } = this.shop.services;
    const { id } = await this.person('lead');
    const sessionHash = tokenHash(cookie.replace('tarebook=', ''));
    const given = { name: 'By the scale', idleMinutes: 60, madeBy: id, sessionHash };
    const token = await makeTablet(db, { ...given, address: '192.168.1.20', before: undefined }, now());
    const row = await db.selectFrom('shared_tablet').select('id').executeTakeFirstOrThrow();
    this.#tablet = { id: row.id, token };
  }
}
