/** Who may come in where: every door with every role, and every kind of entry. */
import { expect, it } from 'vitest';
import { ROLE_FIELD } from '#api/door.ts';
import { mayAs, PeopleList, ROLES, type Role } from '#shared/contract/people.ts';
import { KINDS as STATED_KINDS } from '#shared/words/fields.ts';
import { aircraftIn, newId, partsIn, pointersOf, problemOf, record, shopOn } from '#tests/api/door-shop.ts';
import { ON_WHEELS } from '#tests/shared/aircraft-weighing/make-weighings.ts';
import { METRIC } from '#tests/shared/loading/limits-words.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

/** Written out here, so that a door cannot change who may come in without this test being changed as well. */
const DOORS: Readonly<Record<string, 'public' | Role>> = {
  'GET /api/health': 'public',
  'GET /api/ready': 'public',
  'GET /api/session': 'public',
  'POST /api/first-run': 'public',
  'POST /api/sign-in': 'public',
  'POST /api/sign-out': 'public',
  'POST /api/password': 'viewer',
  'GET /api/tablet': 'public',
  'POST /api/tablet/touch': 'viewer',
  'POST /api/pin-sign-in': 'public',
  'POST /api/pin': 'viewer',
  'GET /api/tablets': 'lead',
  'POST /api/tablets': 'lead',
  'PATCH /api/tablets/{tabletId}': 'lead',
  'POST /api/tablets/{tabletId}/take-away': 'lead',
  'GET /api/people': 'lead',
  'POST /api/people': 'lead',
  'PATCH /api/people/{personId}': 'lead',
  'GET /api/acts': 'lead',
  'GET /api/aircraft': 'viewer',
  'POST /api/aircraft': 'lead',
  'POST /api/demonstration': 'lead',
  'POST /api/archives': 'lead',
  'GET /api/backups': 'lead',
  'POST /api/backups': 'lead',
  'GET /api/backups/{name}': 'lead',
  'GET /api/aircraft/{aircraftId}/access': 'lead',
  'POST /api/aircraft/{aircraftId}/access': 'lead',
  'GET /api/aircraft/{aircraftId}/archive': 'lead',
  'GET /api/aircraft/{aircraftId}/parts/{partId}/photos': 'viewer',
  'POST /api/aircraft/{aircraftId}/parts/{partId}/photos': 'crew',
  'GET /api/aircraft/{aircraftId}/photos/{photoId}': 'viewer',
  'POST /api/aircraft/{aircraftId}/photos/{photoId}/removal': 'engineer',
  'GET /api/aircraft/{aircraftId}': 'viewer',
  'GET /api/aircraft/{aircraftId}/entries': 'viewer',
  'GET /api/aircraft/{aircraftId}/history': 'viewer',
  'GET /api/aircraft/{aircraftId}/parts': 'viewer',
  'GET /api/aircraft/{aircraftId}/parts/{partId}': 'viewer',
  'GET /api/aircraft/{aircraftId}/parts-list': 'viewer',
  'GET /api/aircraft/{aircraftId}/breakdown/{key}': 'viewer',
  'GET /api/aircraft/{aircraftId}/groups': 'viewer',
  'GET /api/aircraft/{aircraftId}/drift': 'viewer',
  'GET /api/aircraft/{aircraftId}/split/{key}': 'viewer',
  'GET /api/aircraft/{aircraftId}/pairs': 'viewer',
  'GET /api/aircraft/{aircraftId}/scales': 'viewer',
  'GET /api/aircraft/{aircraftId}/set-up': 'viewer',
  'GET /api/aircraft/{aircraftId}/lay-up-accuracy': 'viewer',
  'GET /api/aircraft/{aircraftId}/bridge': 'viewer',
  'GET /api/aircraft/{aircraftId}/open': 'viewer',
  'GET /api/aircraft/{aircraftId}/where': 'viewer',
  'GET /api/aircraft/{aircraftId}/forecast': 'viewer',
  'GET /api/aircraft/{aircraftId}/loading': 'viewer',
  'GET /api/aircraft/{aircraftId}/forecast/days': 'viewer',
  'GET /api/aircraft/{aircraftId}/forecast/groups': 'viewer',
  'GET /api/aircraft/{aircraftId}/forecast/next': 'viewer',
  'GET /api/aircraft/{aircraftId}/releases': 'viewer',
  'POST /api/aircraft/{aircraftId}/loading/ballast': 'viewer',
  'POST /api/aircraft/{aircraftId}/what-if': 'viewer',
  'POST /api/aircraft/{aircraftId}/what-if/ballast': 'viewer',
  'GET /api/aircraft/{aircraftId}/aircraft-weighings': 'viewer',
  'POST /api/aircraft/{aircraftId}/aircraft-weighings/draft': 'crew',
  'POST /api/aircraft/{aircraftId}/aircraft-weighings/draft/drop': 'engineer',
  'POST /api/aircraft/{aircraftId}/aircraft-weighings/reconcile': 'viewer',
  'GET /api/aircraft/{aircraftId}/proposals': 'viewer',
  'POST /api/aircraft/{aircraftId}/proposals': 'engineer',
  'POST /api/aircraft/{aircraftId}/proposals/{proposalId}/revisions': 'engineer',
  'GET /api/aircraft/{aircraftId}/briefs': 'viewer',
  'GET /api/aircraft/{aircraftId}/briefs/{briefId}': 'viewer',
  'GET /api/aircraft/{aircraftId}/briefs/{briefId}/file': 'viewer',
  'POST /api/aircraft/{aircraftId}/briefs': 'engineer',
  'POST /api/aircraft/{aircraftId}/briefs/{briefId}/statements': 'engineer',
  'POST /api/aircraft/{aircraftId}/entries': 'crew',
  'GET /api/aircraft/{aircraftId}/verify': 'lead',
  'GET /api/aircraft/{aircraftId}/checkpoint': 'lead',
  'GET /api/aircraft/{aircraftId}/entries/copy': 'crew',
  'POST /api/aircraft/{aircraftId}/weighing-preview': 'crew',
  'POST /api/aircraft/{aircraftId}/import-preview': 'crew',
  'POST /api/aircraft/{aircraftId}/import': 'crew',
  'GET /api/live': 'viewer',
};

describeOnBothEngines('roles', (engine) => {
  const shop = shopOn(engine);

  it('[N4] every door is in the list, with the role it has there', () => {
    const declared = shop().app.openAPIRegistry.definitions.flatMap((definition) =>
      definition.type === 'route'
        ? [[`${definition.route.method.toUpperCase()} ${definition.route.path}`, definition.route[ROLE_FIELD]]]
        : [],
    );
    expect(Object.fromEntries(declared)).toEqual(DOORS);
  });

  it('[N4] every door lets in the role it declares and those above, and nobody else', async () => {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    for (const [door, needed] of Object.entries(DOORS)) {
      const [method = '', path = ''] = door.split(' ');
      const address = path
        .replace('{aircraftId}', aircraftId)
        .replace('{personId}', newId())
        .replace('{key}', 'group')
        .replace('{partId}', newId())
        .replace('{photoId}', newId())
        .replace('{proposalId}', newId())
        .replace('{briefId}', newId())
        .replace('{tabletId}', newId());
      for (const role of [undefined, ...ROLES]) {
        const cookie = role === undefined ? undefined : (await shop().person(role)).cookie;
        const answer = await shop().call(method, address, { cookie });
        const code = await codeOf(answer);
        const expected =
          needed === 'public' || (role !== undefined && mayAs(role, needed))
            ? 'let in'
            : role === undefined
              ? 'not-signed-in'
              : 'not-allowed';
        expect({ door, role, is: ['not-signed-in', 'not-allowed'].includes(code) ? code : 'let in' }).toEqual({
          door,
          role,
          is: expected,
        });
      }
    }
  });

  const KINDS: readonly { kind: string; needed: Role; words: Record<string, unknown> }[] = [
    { kind: 'weighing', needed: 'crew', words: { part: 'T-200', gross: '4.1 kg', condition: 'finished' } },
    { kind: 'note', needed: 'crew', words: { text: 'seen' } },
    { kind: 'scale', needed: 'lead', words: { scale: 'bench', capacity: '10 kg', resolution: '10 g' } },
    { kind: 'check weight', needed: 'crew', words: { scale: 'bench', reference: '5 kg', shown: '5.00 kg' } },
    { kind: 'material', needed: 'engineer', words: { name: 'Slow epoxy', is: 'resin', density: '1.15 g/cm³' } },
    { kind: 'part added', needed: 'engineer', words: { number: 'NEW', group: 'wing' } },
    { kind: 'estimate', needed: 'engineer', words: { part: 'T-200', estimate: '4.2 kg' } },
    { kind: 'arm measured', needed: 'engineer', words: { part: 'T-200', x: '2 m' } },
    { kind: 'piece withdrawn', needed: 'engineer', words: { part: 'W-104', piece: '1', reason: 'scrapped' } },
    { kind: 'piece installed', needed: 'engineer', words: { part: 'W-104', piece: '2' } },
    {
      kind: 'disposition',
      needed: 'engineer',
      words: { part: 'T-200', piece: '1', decision: 'accepted', inspection: 'tapped, sound' },
    },
    { kind: 'process cause', needed: 'engineer', words: { process: 'prepreg', release: '6', cause: 'dry' } },
    { kind: 'aircraft weighing', needed: 'lead', words: { weighed: ON_WHEELS, 'signed by': 'A. Signer' } },
    { kind: 'part added', needed: 'engineer', words: { number: 'RIB', group: 'wing', assembly: 'NEW' } },
    {
      kind: 'assembly weighing',
      needed: 'crew',
      words: { part: 'NEW', gross: '1 kg', condition: 'finished', 'not yet in': 'none' },
    },
    { kind: 'part removed', needed: 'engineer', words: { part: 'RIB', reason: 'not needed' } },
    { kind: 'part removed', needed: 'engineer', words: { part: 'NEW', reason: 'not needed' } },
    { kind: 'targets', needed: 'lead', words: { 'empty mass': '50 kg', reason: 'first' } },
    { kind: 'allowances', needed: 'lead', words: { 'bought estimated': '12 %' } },
    { kind: 'loading', needed: 'lead', words: { limits: METRIC } },
    { kind: 'aircraft', needed: 'lead', words: { name: 'Same', datum: 'the bow' } },
    { kind: 'datum moved', needed: 'lead', words: { shift: '0.1 m', datum: 'ahead', reason: 'clearer' } },
  ];

  it('[N4] every kind of entry is in that list', () => {
    expect([...new Set(KINDS.map(({ kind }) => kind))].sort()).toEqual([...STATED_KINDS].sort());
  });

  it('[N4] every kind of entry is taken from its role and refused to the one below', async () => {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, aircraftId);
    for (const { kind, needed, words } of KINDS) {
      const below = ROLES[ROLES.indexOf(needed) - 1] ?? 'viewer';
      const refused = await shop().call('POST', `/api/aircraft/${aircraftId}/entries`, {
        cookie: (await shop().person(below)).cookie,
        body: { id: newId(), kind, ...words },
      });
      await problemOf(refused, 403, 'not-allowed');
      await record(shop(), (await shop().person(needed)).cookie, aircraftId, { kind, ...words });
    }
  });

  it('[N4] correcting takes an engineer, and a lead where it is a lead’s entry', async () => {
    const [lead, engineer, crew] = [
      await shop().person('lead'),
      await shop().person('engineer'),
      await shop().person('crew'),
    ];
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, aircraftId);
    const weighing = await record(shop(), crew.cookie, aircraftId, {
      kind: 'weighing',
      part: 'T-200',
      gross: '4.1 kg',
      condition: 'finished',
    });
    const targets = await record(shop(), lead.cookie, aircraftId, { kind: 'targets', 'empty mass': '50 kg' });
    const correction = (seq: number) => ({ kind: 'correction', entry: seq, reason: 'misread', replacement: null });
    const attempt = (cookie: string, seq: number) =>
      shop().call('POST', `/api/aircraft/${aircraftId}/entries`, { cookie, body: { id: newId(), ...correction(seq) } });
    await problemOf(await attempt(crew.cookie, weighing.entry.seq), 403, 'not-allowed');
    await problemOf(await attempt(engineer.cookie, targets.entry.seq), 403, 'not-allowed');
    await record(shop(), engineer.cookie, aircraftId, correction(weighing.entry.seq));
    await record(shop(), lead.cookie, aircraftId, correction(targets.entry.seq));
  });

  it('[N12] a lead lets people in, and the last one stays', async () => {
    const lead = await shop().person('lead');
    const add = (body: object) => shop().call('POST', '/api/people', { cookie: lead.cookie, body });
    const one = { name: `Kim ${newId()}`, initials: 'KI', role: 'crew', aircraft: [newId()], password: 'ten letters' };
    expect((await add(one)).status).toBe(201);
    await problemOf(await add({ ...one, name: one.name.toUpperCase() }), 409, 'name-taken');
    const report = await problemOf(await add({ ...one, role: 'owner', initials: '', extra: 1 }), 400, 'input-refused');
    expect(pointersOf(report)).toEqual(['/extra', '/initials', '/role']);
    const { people } = PeopleList.parse(
      await (await shop().call('GET', '/api/people', { cookie: lead.cookie })).json(),
    );
    expect(people.find(({ name }) => name === one.name)).toMatchObject({ role: 'crew', aircraft: one.aircraft });
    expect(JSON.stringify(people)).not.toContain('argon2');
    const demote = (id: string, body: object) =>
      shop().call('PATCH', `/api/people/${id}`, { cookie: lead.cookie, body });
    for (const person of people)
      if (person.role === 'lead' && person.id !== lead.person.id) await demote(person.id, { role: 'viewer' });
    await problemOf(await demote(lead.person.id, { role: 'engineer' }), 409, 'last-lead');
    await problemOf(await demote(lead.person.id, { isActive: false }), 409, 'last-lead');
    await problemOf(await demote(newId(), { isActive: false }), 404, 'not-found');
    await problemOf(await demote('not-an-id', { isActive: false }), 404, 'not-found');
  });
  it('[N2] a lead sets a new password for another, whose sessions end; never the own one by this way, nor anybody else', async () => {
    const [lead, crew, engineer] = [
      await shop().person('lead'),
      await shop().person('crew'),
      await shop().person('engineer'),
    ];
    const set = (by: string, id: string, password: string) =>
      shop().call('PATCH', `/api/people/${id}`, { cookie: by, body: { password } });
    await problemOf(await set(lead.cookie, lead.person.id, 'taken over by a guest'), 409, 'own-password');
    await problemOf(await set(engineer.cookie, crew.person.id, 'taken over by a guest'), 403, 'not-allowed');
    await problemOf(await set(lead.cookie, crew.person.id, 'short'), 400, 'input-refused');
    const signIn = (password: string) =>
      shop().call('POST', '/api/sign-in', { body: { name: crew.person.name, password } });
    expect((await set(lead.cookie, crew.person.id, 'a password for a new start')).status).toBe(200);
    await problemOf(await shop().call('GET', '/api/aircraft', { cookie: crew.cookie }), 401, 'not-signed-in');
    expect((await signIn('a password for a new start')).status).toBe(200);
  });
});

/** The code of a refusal. A live line that was let in is ended unread. */
async function codeOf(answer: Response): Promise<string> {
  if (answer.headers.get('content-type')?.startsWith('text/event-stream')) {
    await answer.body?.cancel();
    return '';
  }
  if (!answer.headers.get('content-type')?.includes('json')) return '';
  const body: unknown = await answer.json();
  return typeof body === 'object' && body !== null && 'code' in body ? String(body.code) : '';
}
