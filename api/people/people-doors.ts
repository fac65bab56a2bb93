/** The doors through which a lead lets people in, changes what they may do, and shuts them out. */
import { createRoute, z } from '@hono/zod-openapi';
import type { Kysely } from 'kysely';
import { noteHere } from '#api/audit/note.ts';
import { type DoorApp, type DoorContext, json, jsonBody, needs, personAt, REFUSED } from '#api/door.ts';
import type { HttpProblemCode } from '#api/problem/http-problems.ts';
import { Problem } from '#api/problem/problem.ts';
import type { NewAct } from '#db/audit/acts.ts';
import type { Database } from '#db/database.ts';
import { changePerson, makePerson, type PersonRefusal } from '#db/people/change-people.ts';
import { hashPassword } from '#db/people/password.ts';
import { listPeople } from '#db/people/person.ts';
import { PeopleList, Person, PersonChange, PersonId, PersonRequest } from '#shared/contract/people.ts';

const list = createRoute({
  method: 'get',
  path: '/api/people',
  summary: 'Everybody who has an account',
  ...needs('lead'),
  responses: { 200: json(PeopleList, 'The people, by name'), ...REFUSED },
});

const add = createRoute({
  method: 'post',
  path: '/api/people',
  summary: 'Make an account for somebody',
  ...needs('lead'),
  request: jsonBody(PersonRequest),
  responses: { 201: json(Person, 'The new person'), ...REFUSED },
});

const change = createRoute({
  method: 'patch',
  path: '/api/people/{personId}',
  summary: 'Change role, access, password, or whether somebody is active',
  ...needs('lead'),
  request: { params: z.object({ personId: z.string() }), ...jsonBody(PersonChange) },
  responses: { 200: json(Person, 'The person as changed'), ...REFUSED },
});

export function peopleDoors(app: DoorApp): void {
  app.openapi(list, async (c) => c.json({ people: await listPeople(c.get('services').db) }, 200));

  app.openapi(add, async (c) => {
    const { password, ...given } = c.req.valid('json');
    const stated = { ...given, passwordHash: await hashPassword(password) };
    const answer = await makePerson(c.get('services').db, stated, (tx, { id, role }) =>
      noteHere(c, { kind: 'account made', aboutPersonId: id, detail: { role } }, tx),
    );
    if (!answer.ok) throw new Problem(PROBLEMS[answer.refusal]);
    return c.json(answer.person, 201);
  });

  app.openapi(change, async (c) => {
    const { db, lines } = c.get('services');
    const id = PersonId.safeParse(c.req.valid('param').personId);
    if (!id.success) throw new Problem('not-found');
    const { password, ...changes } = c.req.valid('json');
    // Who found a lead's screen open must not be able to take the account over.
    if (password !== undefined && id.data === personAt(c).id) throw new Problem('own-password');
    const passwordHash = password === undefined ? undefined : await hashPassword(password);
    const along = (tx: Kysely<Database>) =>
      noteChanges(c, { about: id.data, changes, isReset: password !== undefined }, tx);
    const answer = await changePerson(db, id.data, { ...changes, passwordHash }, { along });
    if (!answer.ok) throw new Problem(PROBLEMS[answer.refusal]);
    lines.recheck();
    return c.json(answer.person, 200);
  });
}

/** What was stated of somebody's account, each an act of its own. */
async function noteChanges(
  c: DoorContext,
  {
    about,
    changes,
    isReset,
  }: { about: string; changes: Omit<z.infer<typeof PersonChange>, 'password'>; isReset: boolean },
  tx: Kysely<Database>,
): Promise<void> {
  const { role, aircraft, isActive } = changes;
  const note = (act: Pick<NewAct, 'kind' | 'detail'>) => noteHere(c, { ...act, aboutPersonId: about }, tx);
  if (role !== undefined) await note({ kind: 'role changed', detail: { role } });
  if (aircraft !== undefined)
    await note({
      kind: 'aircraft of an account changed',
      detail: { aircraft: aircraft === 'all' ? 'all' : String(aircraft.length) },
    });
  if (isActive !== undefined) await note({ kind: isActive ? 'account opened' : 'account closed' });
  if (isReset) await note({ kind: 'password set by a lead' });
}

const PROBLEMS: Readonly<Record<PersonRefusal, HttpProblemCode>> = {
  'name-taken': 'name-taken',
  'first-run-done': 'first-run-done',
  'last-lead': 'last-lead',
  'no-such-person': 'not-found',
  'password-changed': 'password-wrong',
};
