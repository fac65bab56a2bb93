/**
 * Requests to every door of the document, drawn from a seed, and what is wrong with the replies: a fault of the server, none in time, one that
 * the document does not know, somebody let in who may not, or a refusal that left something changed.
 */
import { setTimeout as sleep } from 'node:timers/promises';
import { sql } from 'kysely';
import { type Door, doorsOf, letsIn } from './document.ts';
import { Draw } from './draw.ts';
import { MEANINGS, type Meaning, type Request, requestFor } from './request.ts';
import type { World } from './world.ts';

/** No door takes longer, on a machine that does other things as well. */
const LONGEST_MS = 30_000;
/** Doors that cost a key derivation, a thread or the whole store are asked less often. */
const DEAR = /sign-in|password|pin$|people|archive|backups|demonstration|first-run/;
/** The server may say that it is busy, in these words. */
const MAY_WAIT = ['busy', 'photos-busy', 'reading-ledger'];

export type Tally = { asked: number; taken: number; readonly statuses: Map<number, number>; longestMs: number };
export type Fuzzed = { readonly faults: readonly string[]; readonly doors: ReadonlyMap<string, Tally> };

type Run = {
  readonly world: World;
  readonly draw: Draw;
  readonly doors: Map<string, Tally>;
  readonly faults: string[];
};

export async function fuzz(world: World, given: { readonly seed: number; readonly requests: number }): Promise<Fuzzed> {
  const draw = new Draw(given.seed);
  const document = await (await world.shop.call('GET', '/api/openapi.json')).json();
  const doors = doorsOf(document);
  const run: Run = { world, draw, doors: new Map(), faults: [] };
  for (const { name } of doors) run.doors.set(name, { asked: 0, taken: 0, statuses: new Map(), longestMs: 0 });
  await beginShop(run, doors);
  const order = doors.flatMap((door) => (DEAR.test(door.path) ? [door] : Array.from({ length: 8 }, () => door)));
  // Once each as it is meant, those first that make what others ask for.
  for (const door of [...doors].sort((a, b) => rank(a) - rank(b))) await one(run, door, 'well');
  for (let count = doors.length + 2; count < given.requests; count += 1)
    await one(run, draw.of(order), draw.of([...MEANINGS, 'odd', 'well'] as const));
  return { faults: run.faults, doors: run.doors };
}

const RANKS: readonly RegExp[] = [/^POST .*(\/briefs|\/proposals|\/photos|\/tablets)$/, /^P(OST|ATCH)/, /^GET/];
/** What is removed is shown no more. */
const rank = ({ name }: Door) =>
  /removal$|take-away$/.test(name) ? 9 : RANKS.findIndex((pattern) => pattern.test(name));

/** The first account and the invented aircraft, through their doors. */
async function beginShop({ world, doors, faults }: Run, all: readonly Door[]): Promise<void> {
  const { shop } = world;
  const taken = async (name: string, call: object) => {
    const answer = await shop.call('POST', name.slice(5), call);
    const text = await answer.text();
    faults.push(...(all.find((door) => door.name === name)?.faultsOf(answer, text) ?? []));
    count(doors, name, answer.status, 0);
    if (answer.status !== 201) throw new Error(`${name}: ${text}`);
    return JSON.parse(text) as { id?: string };
  };
  shop.services.firstRunCode.show();
  const code = /\w{4}-\w{4}/.exec(shop.printed.join(''))?.[0];
  const first = { code, name: 'First of all', initials: 'FA', password: 'a long enough one' };
  await taken('POST /api/first-run', { body: first });
  await world.fill();
  const { cookie } = await world.person('lead');
  world.aircraft.demo = (await taken('POST /api/demonstration', { cookie })).id ?? '';
}

async function one(run: Run, door: Door, meaning: Meaning): Promise<void> {
  const { world, draw, faults } = run;
  // Tries are slowed down by name and address, and the clock stands still otherwise.
  world.shop.later(2_000);
  const number = [...run.doors.values()].reduce((sum, { asked }) => sum + asked, 0);
  const request = await requestFor(door, world, draw, meaning);
  const address = `10.${draw.int(0, 255)}.${draw.int(0, 255)}.${draw.int(1, 254)}`;
  const told = (fault: string) => faults.push(`${number} ${meaning} ${said(request)}: ${fault}`);
  const before = await stands(world);
  const logged = world.shop.logged.length;
  const began = performance.now();
  const answer = await Promise.race([ask(world, request, address), sleep(LONGEST_MS, undefined)]);
  if (answer === undefined) return void told('no answer in time');
  const { reply, text } = answer;
  const isTaken = reply.status < 300;
  count(run.doors, door.name, reply.status, performance.now() - began);
  for (const line of world.shop.logged.slice(logged)) told(line.slice(0, 600));
  if (performance.now() - began > LONGEST_MS) told('took too long');
  if (reply.status >= 500 && !mayWait(text)) told(`${reply.status} ${text.slice(0, 300)}`);
  if (request.method === door.method) for (const fault of door.faultsOf(reply, text)) told(fault);
  if (isTaken && request.isRoleDrawn && !letsIn(door, request.role)) told(`let in as ${request.role ?? 'nobody'}`);
  if (!isTaken) {
    const after = await stands(world);
    if (after !== before) told(`${reply.status}, and yet something changed: ${before} became ${after}`);
  } else if (reply.headers.get('content-type')?.startsWith('application/json') === true)
    await world.learn(door.name, request.path, JSON.parse(text));
}

async function ask(world: World, { method, path, headers, body }: Request, remoteAddress: string) {
  const socket = { remoteAddress, remotePort: 1, remoteFamily: 'IPv4' };
  const init = { method, headers, body: method === 'GET' || body === undefined ? null : (body as string) };
  const reply = await world.shop.app.request(path, init, { incoming: { socket } });
  // The live line has no end: one look at it is enough.
  if (reply.headers.get('content-type')?.startsWith('text/event-stream') !== true)
    return { reply, text: await reply.text() };
  await reply.body?.cancel();
  return { reply, text: '' };
}

function count(doors: Run['doors'], name: string, status: number, ms: number): void {
  const tally = doors.get(name);
  if (tally === undefined) throw new Error(`${name} is not in the document`);
  tally.asked += 1;
  if (status < 300) tally.taken += 1;
  tally.statuses.set(status, (tally.statuses.get(status) ?? 0) + 1);
  tally.longestMs = Math.max(tally.longestMs, ms);
}

function mayWait(text: string): boolean {
  return MAY_WAIT.some((code) => text.includes(`"code":"${code}"`));
}

/** Every head, and what stands beside the ledger. Sessions, and tries of a PIN, are not what anybody recorded. */
async function stands({ shop }: World): Promise<string> {
  const beside = ['brief', 'brief_statement', 'brought_aircraft', 'entry', 'first_run', 'invented_aircraft'];
  const more = ['person_access', 'photo', 'photo_removal', 'proposal_revision', 'shared_tablet'];
  const counts = sql.join([...beside, ...more].map((table) => sql`(select count(*) from ${sql.table(table)})::int`));
  const { rows } = await sql<object>`
    select array[${counts}] as counts,
      (select md5(string_agg(concat_ws(' ', id, head_seq, head_hash), ' ' order by id)) from aircraft) as heads,
      (select md5(string_agg(concat_ws(' ', aircraft_id, id, version), ' ' order by aircraft_id)) from aircraft_weighing_draft) as drafts,
      (select md5(string_agg(concat_ws(' ', id, name, role, is_active, password_hash, pin_hash), ' ' order by id)) from person)
        as people`.execute(shop.services.db);
  return JSON.stringify(rows);
}

function said({ method, path, headers, body, role }: Request): string {
  const text = body === undefined ? '' : typeof body === 'string' ? body : `${body.length} bytes`;
  const { Cookie: _, ...others } = headers;
  return `${role ?? 'nobody'} ${method} ${path.slice(0, 400)} ${JSON.stringify(others)} ${text.slice(0, 1_500)}`;
}
