/** One request, drawn: who sends it, and whether it is meant well or odd somewhere. */
import { ROLES, type Role } from '#shared/contract/people.ts';
import { type Door, letsIn, type Place } from './document.ts';
import type { Draw } from './draw.ts';
import { brokenJson, oddly, oddText } from './odd.ts';
import { partIn, SENT, type Sending } from './sent.ts';
import { drawnFor } from './values.ts';
import type { World } from './world.ts';

export const MEANINGS = ['well', 'odd', 'anybody'] as const;
/** `well`: by somebody who may, as the document and the words say. `anybody`: by whomever, well or odd. */
export type Meaning = (typeof MEANINGS)[number];

export type Request = {
  readonly method: string;
  readonly path: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string | Uint8Array | undefined;
  /** Of who sends; undefined for nobody, and for a person who came with the request. */
  readonly role: Role | undefined;
  readonly isRoleDrawn: boolean;
};

type Sender = { readonly role: Role | undefined; readonly cookie: string };

export async function requestFor(door: Door, world: World, draw: Draw, meaning: Meaning): Promise<Request> {
  const aircraftId = aircraftFor(door, world, draw);
  if (world.headSeq.get(aircraftId) === undefined) await world.look(aircraftId);
  const given: Sending = (await SENT[door.name]?.({ world, draw, aircraftId })) ?? {};
  const isOdd = meaning === 'odd' || (meaning === 'anybody' && draw.in100(50));
  // A request is odd in its address, in its body, or in what it says of itself.
  const oddAt = isOdd ? draw.of(['address', 'body', 'body', 'body', 'bytes', 'heading'] as const) : undefined;
  const isRoleDrawn = given.cookie === undefined || meaning === 'anybody';
  const sender = isRoleDrawn ? await senderFor(door, world, draw, meaning) : { role: undefined, cookie: given.cookie };
  const address = addressFor(door, { world, draw, aircraftId, given, isOdd: oddAt === 'address' });
  const said = bodyFor(door, draw, given, oddAt);
  const headers: Record<string, string> = {
    ...(sender.cookie === undefined || sender.cookie === '' ? {} : { Cookie: sender.cookie }),
    ...(door.method === 'GET' ? {} : { 'Content-Type': given.type ?? 'application/json' }),
    ...(oddAt === 'heading' ? oddHeading(draw) : {}),
  };
  return {
    method:
      oddAt === 'heading' && draw.in100(10) ? draw.of(['PUT', 'DELETE', 'PATCH', 'POST', 'OPTIONS']) : door.method,
    path: address,
    headers,
    ...{ body: said, role: sender.role, isRoleDrawn },
  };
}

async function senderFor(door: Door, world: World, draw: Draw, meaning: Meaning): Promise<Sender> {
  if (meaning !== 'anybody') {
    const mayCome = ROLES.filter((role) => letsIn(door, role));
    // Which entries and lists a role may record is more than the document says.
    const role = door.method !== 'GET' && draw.in100(70) ? 'lead' : draw.of(mayCome);
    return { role, cookie: await world.as(role) };
  }
  const role = draw.of([undefined, ...ROLES]);
  if (role === undefined)
    return { role, cookie: draw.of(['', 'tarebook=x', `tarebook=${draw.uuid()}`, 'tarebook=%00']) };
  return { role, cookie: await world.as(role, draw.of(['all', 'some', 'none'])) };
}

function aircraftFor(door: Door, world: World, draw: Draw): string {
  const { small, demo, bare, hidden } = world.aircraft;
  // What is about a part needs one.
  if (/\{partId\}|\/ballast$|\/import$/.test(door.path)) return draw.of([small, small, demo]);
  return draw.of(door.method === 'GET' ? [small, small, demo, bare, hidden] : [small, small, small, small, demo, bare]);
}

type Addressed = {
  readonly world: World;
  readonly draw: Draw;
  readonly aircraftId: string;
  readonly given: Sending;
  readonly isOdd: boolean;
};

function addressFor(door: Door, asked: Addressed): string {
  const { draw, given, isOdd } = asked;
  const oddly = (text: string) => (isOdd && draw.in100(50) ? encoded(oddInAddress(asked)) : encodeURIComponent(text));
  const aircraftId = given.path?.['aircraftId'] ?? asked.aircraftId;
  const path = door.path.replaceAll(/\{(\w+)\}/g, (_, name: string) =>
    oddly(name === 'aircraftId' ? aircraftId : (given.path?.[name] ?? idFor(name, door, { ...asked, aircraftId }))),
  );
  const query = door.places
    .filter((place) => place.in === 'query')
    .flatMap((place) => {
      const own = given.query?.[place.name];
      // An entry of the very part is more than a sender guesses.
      const isLeftOut = place.required !== true && (place.name === 'entry' ? !isOdd : !draw.in100(35));
      if (own === undefined && isLeftOut) return [];
      const value = own ?? queryFor(place, { ...asked, aircraftId });
      return [[place.name, oddly(value)], ...(isOdd && draw.in100(10) ? [[place.name, oddly(value)]] : [])];
    });
  if (isOdd && draw.in100(15)) query.push([encoded(oddText(draw)), encoded(oddText(draw))]);
  return `${path}${query.length === 0 ? '' : `?${query.map(([name, value]) => `${name}=${value}`).join('&')}`}`;
}

/** An id of something else, or no id at all. */
function oddInAddress({ world, draw }: Addressed): string {
  const { small, demo, hidden } = world.aircraft;
  const others = [...world.people, ...world.briefs.map(({ id }) => id), partIn(world, draw, demo).id];
  return draw.in100(40) ? draw.of([small, demo, hidden, draw.uuid(), ...others]) : oddText(draw);
}

function idFor(name: string, door: Door, { world, draw, aircraftId }: Addressed): string {
  const known: Readonly<Record<string, () => string | undefined>> = {
    partId: () => partIn(world, draw, aircraftId).id,
    personId: () => draw.of(world.people),
    tabletId: () => (world.tablets.length === 0 ? undefined : draw.of(world.tablets)),
    name: () => (world.backups.length === 0 ? undefined : draw.of(world.backups)),
  };
  const schema = door.places.find((place) => place.in === 'path' && place.name === name)?.schema ?? {};
  return known[name]?.() ?? String(drawnFor('enum' in schema ? schema : { type: 'string', format: 'uuid' }, draw));
}

const SEQS = ['asKnownAt', 'before', 'after', 'fromEntry', 'toEntry'];

function queryFor({ name, schema }: Place, { world, draw, aircraftId, isOdd }: Addressed): string {
  if (SEQS.includes(name)) {
    const head = world.headSeq.get(aircraftId) ?? 1;
    return String(isOdd ? draw.of([0, -1, head + 1, 1e9, 2 ** 31, 2 ** 53]) : draw.int(1, Math.max(1, head)));
  }
  if (name === 'search' && draw.in100(50)) return draw.of(['W-', 'kg', 'prepreg']);
  return String(drawnFor(schema, draw));
}

function bodyFor(door: Door, draw: Draw, given: Sending, oddAt: string | undefined): string | Uint8Array | undefined {
  if (door.method === 'GET') return undefined;
  if (given.bytes !== undefined)
    return oddAt === 'body' || oddAt === 'bytes' ? damaged(given.bytes, draw) : given.bytes;
  const body = given.body ?? (door.sent === undefined ? {} : drawnFor(door.sent, draw));
  if (oddAt === 'bytes') return brokenJson(body, draw);
  return JSON.stringify(oddAt === 'body' ? oddly(body, draw) : body);
}

function damaged(bytes: Uint8Array, draw: Draw): Uint8Array {
  const at = draw.int(0, bytes.length - 1);
  const changed = Uint8Array.from(bytes);
  changed[at] = (changed[at] ?? 0) ^ draw.int(1, 255);
  return draw.of([changed, changed, bytes.slice(0, at), new Uint8Array(), Uint8Array.from([...bytes, ...bytes])]);
}

function oddHeading(draw: Draw): Readonly<Record<string, string>> {
  return draw.of<Readonly<Record<string, string>>>([
    {
      'Content-Type': draw.of([
        'text/plain',
        'application/jsonp',
        'multipart/form-data; boundary=x',
        '',
        'x'.repeat(999),
      ]),
    },
    { 'Content-Type': 'application/json; charset=utf-16' },
    { Origin: draw.of(['https://elsewhere.example', 'null', 'http://localhost:1']) },
    { 'Sec-Fetch-Site': 'cross-site' },
    { 'Tarebook-Person': draw.uuid() },
    { Cookie: 'tarebook=%E0%A4%A; tarebook=x; =; tarebook-tablet=%' },
    { Accept: 'image/png', 'Accept-Encoding': 'x, *;q=0', 'Accept-Language': '\u00ff' },
    { 'Content-Length': draw.of(['0', '-1', '99999999999', 'x']) },
    { 'If-None-Match': '*', Range: 'bytes=5-1' },
  ]);
}

const encoded = (text: string) => {
  // What no text can be is sent as bytes that are no UTF-8.
  const whole = text.toWellFormed();
  return whole === text ? encodeURIComponent(text).slice(0, 3_000) : '%ED%A0%80';
};
