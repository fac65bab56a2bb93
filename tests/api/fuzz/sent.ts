/** What is sent to the doors whose schema alone does not make a request that is taken: words, lists, files, secrets and ids that are there. */
import { ImportPreview } from '#shared/contract/import.ts';
import { PASSWORD } from '#tests/api/door-shop.ts';
import type { Draw } from './draw.ts';
import { entryWords } from './entry-words.ts';
import { PIN, type World } from './world.ts';

/** `cookie`: of a person made for this request. `bytes` go as they are, as `type`. */
export type Sending = {
  readonly path?: Readonly<Record<string, string>>;
  readonly query?: Readonly<Record<string, string>>;
  readonly body?: unknown;
  readonly bytes?: Uint8Array;
  readonly type?: string;
  readonly cookie?: string;
};

export type Asked = { readonly world: World; readonly draw: Draw; readonly aircraftId: string };
type Send = (asked: Asked) => Sending | Promise<Sending>;

const OF = '/api/aircraft/{aircraftId}';

export const SENT: Readonly<Record<string, Send>> = {
  'POST /api/sign-in': async ({ world }) => {
    const { name } = await world.person('crew');
    return { body: { name, password: PASSWORD }, cookie: '' };
  },
  'POST /api/password': async ({ world, draw }) => {
    const { cookie } = await world.person('viewer');
    return { body: { current: PASSWORD, next: `${draw.word(12)} 7` }, cookie };
  },
  'POST /api/pin': async ({ world, draw }) => {
    const { cookie } = await world.person('crew');
    return { body: { password: PASSWORD, pin: draw.in100(70) ? `1${draw.int(3000, 9999)}` : null }, cookie };
  },
  'POST /api/pin-sign-in': async ({ world }) => {
    const { id } = await world.person('crew', 'all', true);
    return { body: { personId: id, pin: PIN }, cookie: world.tabletCookie };
  },
  'GET /api/tablet': ({ world }) => ({ cookie: world.tabletCookie }),
  'POST /api/aircraft': ({ draw }) => ({
    body: {
      ...{ name: `Study ${draw.word(12)}`, datum: 'the bow', mac: '1.2 m', lemac: `${draw.decimal(2, 4)} m` },
      ...{ massUnit: draw.of(['kg', 'lb']), lengthUnit: draw.of(['m', 'mm', 'in']) },
    },
  }),
  'POST /api/people': ({ draw }) => ({
    body: {
      ...{ name: `Somebody ${draw.word(12)}`, initials: draw.word(3), password: draw.word(12) },
      ...{ role: draw.of(['viewer', 'crew', 'engineer', 'lead']), aircraft: 'all' },
    },
  }),
  [`POST ${OF}/entries`]: (asked) => ({ body: { id: asked.draw.uuid(), ...wordsIn(asked) } }),
  [`POST ${OF}/weighing-preview`]: ({ world, draw, aircraftId }) => ({
    body: {
      ...{ part: partIn(world, draw, aircraftId).number, gross: `${draw.decimal(1, 9)} kg` },
      ...{ piece: '1', condition: draw.of(['as released', 'trimmed', 'finished']) },
    },
  }),
  [`POST ${OF}/loading/ballast`]: ({ draw }) => ({
    body: {
      places: [{ name: 'Tail', x: `${draw.decimal(4, 6)} m`, y: '0 m', most: draw.of(['', '20 kg']) }],
      aim: draw.of(['', 'Solo']),
    },
  }),
  [`POST ${OF}/what-if`]: (asked) => ({ body: { changes: changesIn(asked) } }),
  [`POST ${OF}/what-if/ballast`]: (asked) => ({
    body: { station: `${asked.draw.decimal(0.5, 6)} m`, changes: changesIn(asked) },
  }),
  [`POST ${OF}/proposals`]: (asked) => ({ body: { id: asked.draw.uuid(), ...proposalIn(asked) } }),
  [`POST ${OF}/proposals/{proposalId}/revisions`]: (asked) => {
    const { aircraftId, id, revision } = known(asked, asked.world.proposals);
    const state = asked.draw.of(['open', 'agreed', 'done', 'dropped']);
    const own = { ...asked, aircraftId };
    return {
      path: { aircraftId, proposalId: id },
      body: { id: asked.draw.uuid(), ...proposalIn(own), state, reason: 'talked about', after: revision },
    };
  },
  [`POST ${OF}/briefs`]: ({ draw }) => ({ body: { id: draw.uuid() } }),
  [`GET ${OF}/briefs/{briefId}`]: (asked) => ({ path: briefPath(asked) }),
  [`GET ${OF}/briefs/{briefId}/file`]: (asked) => ({ path: briefPath(asked) }),
  [`POST ${OF}/briefs/{briefId}/statements`]: (asked) => {
    const { draw } = asked;
    const { aircraftId, id, revision } = known(asked, asked.world.briefs);
    const said = draw.of([{ act: 'remark', remarks: { growth: draw.word() } }, { act: 'issue' }, { act: 'drop' }]);
    return { path: { aircraftId, briefId: id }, body: { id: draw.uuid(), after: revision, ...said } };
  },
  [`POST ${OF}/aircraft-weighings/draft`]: ({ world, draw, aircraftId }) => {
    const draft = world.drafts.get(aircraftId);
    const words = { reference: draw.word(), 'signed by': draw.word() };
    return { body: { id: draft?.id ?? draw.uuid(), after: draft?.version ?? 0, words } };
  },
  [`POST ${OF}/aircraft-weighings/reconcile`]: ({ draw }) => ({
    body: {
      ...{ happenedOn: draw.day(), notAboard: '', massKg: draw.int(30, 400), massStdKg: 0.1 },
      ...{ xM: Number(draw.decimal(1, 4)), xStdM: 0.002 },
    },
  }),
  [`POST ${OF}/import-preview`]: (asked) => ({ body: { lists: listsIn(asked) } }),
  [`POST ${OF}/import`]: async (asked) => {
    const { world, aircraftId } = asked;
    const { cookie } = await world.person('lead');
    const body = { lists: listsIn(asked) };
    const shown = await world.shop.call('POST', `/api/aircraft/${aircraftId}/import-preview`, { cookie, body });
    return { cookie, body: { ...body, digest: ImportPreview.parse(await shown.json()).digest } };
  },
  'POST /api/archives': ({ world, draw }) => ({
    ...{ bytes: world.archive(), type: 'application/zip' },
    query: draw.in100(50) ? { name: `Brought ${draw.word(12)}` } : {},
  }),
  [`POST ${OF}/parts/{partId}/photos`]: ({ world, draw }) => ({
    ...{ bytes: world.picture, type: 'image/png', query: { id: draw.uuid(), remark: draw.word() } },
  }),
  [`GET ${OF}/photos/{photoId}`]: (asked) => ({ path: photoPath(asked) }),
  [`POST ${OF}/photos/{photoId}/removal`]: (asked) => ({
    path: photoPath(asked),
    body: { reason: asked.draw.word() },
  }),
};

export function partIn(world: World, draw: Draw, aircraftId: string) {
  const parts = world.parts.get(aircraftId) ?? [];
  return parts.length === 0 ? { id: draw.uuid(), number: draw.word() } : draw.of(parts);
}

function wordsIn({ world, draw, aircraftId }: Asked) {
  const numbers = (world.parts.get(aircraftId) ?? []).map(({ number }) => number);
  return entryWords(draw, numbers, Math.max(2, world.headSeq.get(aircraftId) ?? 2));
}

function changesIn({ world, draw, aircraftId }: Asked): readonly object[] {
  const { number } = partIn(world, draw, aircraftId);
  return Array.from({ length: draw.int(1, 3) }, () =>
    draw.of<object>([
      { act: 'set mass', part: number, mass: `${draw.decimal(1, 5)} kg`, uncertainty: '0.1 kg' },
      { act: 'add mass', part: number, mass: `${draw.decimal(-0.5, 0.5)} kg` },
      { act: 'set arm', part: number, x: `${draw.decimal(1, 5)} m` },
      { act: 'move', part: number, x: `${draw.decimal(-0.5, 0.5)} m` },
      { act: 'add part', name: draw.word(), mass: '0.5 kg', x: '3 m' },
    ]),
  );
}

function proposalIn(asked: Asked): object {
  const { draw } = asked;
  return {
    ...{ title: draw.word(), owner: draw.word(), likelihood: `${draw.int(5, 95)} %`, due: draw.day() },
    ...(draw.in100(50) ? { saving: `${draw.decimal(0.1, 2)} kg` } : { changes: changesIn(asked).slice(0, 1) }),
  };
}

/** One of those that are there, or one that is not. */
function known<One extends { readonly aircraftId: string; readonly id: string }>(
  { draw, aircraftId }: Asked,
  list: readonly One[],
): { readonly aircraftId: string; readonly id: string; readonly revision?: number } {
  return list.length === 0 ? { aircraftId, id: draw.uuid(), revision: 1 } : draw.of(list);
}

function briefPath(asked: Asked) {
  const { aircraftId, id } = known(asked, asked.world.briefs);
  return { aircraftId, briefId: id };
}

function photoPath(asked: Asked) {
  const { aircraftId, id } = known(asked, asked.world.photos);
  return { aircraftId, photoId: id };
}

function listsIn({ world, draw, aircraftId }: Asked): object {
  const number = `L-${draw.word(8)}`;
  const parts = ['number,name,group,process,quantity,estimate,x', `${number},Skin,wing,prepreg,1,4.1 kg,2.2 m`];
  const weighings = ['part,gross,condition,date'];
  for (let rows = draw.int(1, 4); rows > 0; rows -= 1)
    weighings.push(`${partIn(world, draw, aircraftId).number},${draw.decimal(1, 9, 3)} kg,finished,${draw.day()}`);
  return draw.of<object>([
    { parts: { text: parts.join('\n') } },
    { weighings: { text: weighings.join('\n') } },
    { parts: { rows: parts.map((line, at) => [at + 1, line.split(',')]) } },
  ]);
}
