/** A server without a socket for tests: its app, people of every role, a clock that can be set, and what it printed. */
import { randomUUID } from 'node:crypto';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect } from 'vitest';
import { makeApp } from '#api/app.ts';
import type { DoorApp } from '#api/door.ts';
import { makeServices, type Services, type Surroundings } from '#api/services.ts';
import type { Store } from '#db/engine/open-store.ts';
import { makePerson } from '#db/people/change-people.ts';
import { hashPassword } from '#db/people/password.ts';
import { startSession } from '#db/people/session.ts';
import { ProblemReport } from '#shared/contract/aircraft.ts';
import type { Access, Person, Role } from '#shared/contract/people.ts';
import type { TestEngine } from '#tests/support/engines.ts';

export const PASSWORD = 'a long enough password';

export type Call = {
  readonly body?: unknown;
  /** A cookie header's value. */
  readonly cookie?: string | undefined;
  readonly headers?: Readonly<Record<string, string>>;
  readonly address?: string;
};

export type Shop = {
  readonly app: DoorApp;
  readonly services: Services;
  readonly printed: string[];
  readonly logged: string[];
  /** Moves the shop's clock. */
  later(ms: number): void;
  call(method: string, path: string, call?: Call): Promise<Response>;
  /** A new person who is signed in; `cookie` goes into a call. */
  person(role: Role, aircraft?: Access): Promise<{ person: Person; cookie: string; initials: string }>;
  close(): void;
};

let hash: Promise<string> | undefined;
let people = 0;

export function openShop(store: Store, given: Partial<Surroundings> = {}): Shop {
  // Stands still but for `later`: a slow machine must not change what a test sees.
  let nowMs = Date.now();
  const printed: string[] = [];
  const logged: string[] = [];
  const services = makeServices({
    store,
    now: () => new Date(nowMs),
    out: { write: (text) => printed.push(text) },
    err: { write: (text) => logged.push(text) },
    isSecure: false,
    clientFolder: join(tmpdir(), 'tarebook-no-such-build'),
    backupPlan: { folder: join(tmpdir(), `tarebook-backups-${randomUUID()}`), everyHours: undefined, keep: 3 },
    createDemonstration: () => Promise.reject(new Error('this shop has no demonstration')),
    ...given,
  });
  const app = makeApp(services);
  return {
    app,
    services,
    printed,
    logged,
    later: (ms) => {
      nowMs += ms;
    },
    call: (method, path, call = {}) => ask(app, method, path, call),
    async person(role, aircraft = 'all') {
      hash ??= hashPassword(PASSWORD);
      people += 1;
      const initials = `P${people}`;
      const name = `Person ${people} ${randomUUID()}`;
      const made = await makePerson(store.db, { name, initials, role, aircraft, passwordHash: await hash });
      if (!made.ok) throw new Error(made.refusal);
      const token = await startSession(store.db, made.person.id, services.now());
      return { person: made.person, cookie: `tarebook=${token}`, initials };
    },
    close: () => services.stop(),
  };
}

/** A shop on a test engine, for a block of tests. */
export function shopOn(engine: TestEngine, given: Partial<Surroundings> = {}): () => Shop {
  let shop: Shop | undefined;
  beforeAll(() => {
    shop = openShop(engine.store(), given);
  });
  afterAll(() => shop?.close());
  return () => {
    if (shop === undefined) throw new Error('the shop opens in beforeAll');
    return shop;
  };
}

async function ask(app: DoorApp, method: string, path: string, call: Call): Promise<Response> {
  const changes = method !== 'GET' && method !== 'HEAD';
  const headers = {
    ...(changes ? { 'Content-Type': 'application/json' } : {}),
    ...(call.cookie === undefined ? {} : { Cookie: call.cookie }),
    ...call.headers,
  };
  const isAsItIs = typeof call.body === 'string' || call.body instanceof Uint8Array;
  const body = !changes ? null : isAsItIs ? (call.body as string) : JSON.stringify(call.body ?? {});
  const socket = { remoteAddress: call.address ?? '192.168.1.20', remotePort: 1, remoteFamily: 'IPv4' };
  return await app.request(path, { method, headers, body }, { incoming: { socket } });
}

/** The problem of an answer, which must be one of this status and code. */
export async function problemOf(response: Response, status: number, code: string): Promise<ProblemReport> {
  const text = await response.text();
  expect({ status: response.status, text }).toMatchObject({ status, text: expect.stringContaining(`"${code}"`) });
  expect(response.headers.get('content-type')).toBe('application/problem+json');
  const report = ProblemReport.parse(JSON.parse(text));
  expect(report).toMatchObject({ code, status });
  expect(report.remedy).not.toBe('');
  return report;
}

/** The pointers of a refused body, in order. */
export function pointersOf(report: ProblemReport): readonly string[] {
  return (report.problems ?? []).map(({ pointer }) => pointer).sort();
}

/** The session cookie that an answer sets, to be sent again. */
export function cookieOf(response: Response): string {
  return (response.headers.get('set-cookie') ?? '').split(';')[0] ?? '';
}

export const newId = () => randomUUID();

const METRIC_UNITS = { massUnit: 'kg', lengthUnit: 'm' };

/** An aircraft with its first entry, through the door. */
export async function aircraftIn(shop: Shop, cookie: string, units: object = METRIC_UNITS): Promise<string> {
  const answer = await shop.call('POST', '/api/aircraft', {
    cookie,
    body: {
      name: `Test ${randomUUID()}`,
      datum: 'the bow',
      mac: '1.25 m',
      lemac: '3.15 m',
      ...units,
    },
  });
  expect(answer.status).toBe(201);
  return ((await answer.json()) as { id: string }).id;
}

/** Records one entry, which must be taken. */
export async function record(shop: Shop, cookie: string, aircraftId: string, entry: Record<string, unknown>) {
  const answer = await shop.call('POST', `/api/aircraft/${aircraftId}/entries`, {
    cookie,
    body: { id: randomUUID(), ...entry },
  });
  const text = await answer.text();
  expect({ status: answer.status, text }).toMatchObject({ status: 201 });
  return JSON.parse(text) as {
    replayed: boolean;
    entry: { seq: number; entry: Record<string, unknown> };
    headline: { predictedKg: number };
  };
}

/** A part of four pieces and a part of one, each with an estimate. */
export async function partsIn(shop: Shop, cookie: string, aircraftId: string): Promise<void> {
  for (const [number, quantity] of [
    ['W-104', '4'],
    ['T-200', '1'],
  ] as const) {
    await record(shop, cookie, aircraftId, {
      kind: 'part added',
      number,
      name: `Part ${number}`,
      group: 'wing',
      quantity,
      process: 'prepreg',
    });
    await record(shop, cookie, aircraftId, {
      kind: 'estimate',
      part: number,
      estimate: '4.00 kg',
      x: '2.5 m',
      allowance: '10 %',
    });
  }
}
