/**
 * The plans of every query that the server asks often, at a million entries in a hundred aircraft: the functions of the product are called, and
 * PostgreSQL itself tells how it carried their statements out, those inside `append_entries` among them. The rows are made by one statement and are
 * no chain that could be verified. `TAREBOOK_BENCH_DATABASE_URL`: an empty database to fill instead, as a superuser.
 */
import { randomUUID } from 'node:crypto';
import { Kysely, PostgresDialect } from 'kysely';
import pg from 'pg';
import type { Database } from '#db/database.ts';
import { takeOnAppRole } from '#db/engine/app-role.ts';
import { columnParsers } from '#db/engine/column-parsers.ts';
import { openStore } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { entryHash } from '#db/ledger/entry-hash.ts';
import { findAircraft, listAircraft } from '#db/ledger/list-aircraft.ts';
import { readEntries } from '#db/ledger/read.ts';
import { makePerson } from '#db/people/change-people.ts';
import { sessionOf, startSession, tokenHash } from '#db/people/session.ts';
import { listRevisions } from '#db/proposal/proposals.ts';
import { startServer } from '#tests/support/postgres-server.ts';

const AIRCRAFT = 100;
const ENTRIES = 10_000;

export async function benchPlans(): Promise<string> {
  const given = process.env['TAREBOOK_BENCH_DATABASE_URL'];
  const server = given === undefined ? await startServer() : { url: given, stop: async () => undefined };
  try {
    await (await openStore({ kind: 'postgres', url: server.url })).close();
    const seconds = await fill(server.url);
    return [
      `Plans at ${(AIRCRAFT * ENTRIES).toLocaleString('en-GB')} entries of ${AIRCRAFT} aircraft (made in ${seconds.toFixed(0)} s)\n`,
      ...(await plansOf(server.url)),
    ].join('\n');
  } finally {
    await server.stop();
  }
}

/** As the owner of the tables, past the function that makes chains; the aircraft's guard is off for as long as that takes. */
async function fill(url: string): Promise<number> {
  const began = performance.now();
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  await client.query(`insert into aircraft (id, name, name_key)
    select gen_random_uuid(), 'Invented ' || n, 'invented ' || n from generate_series(1, ${AIRCRAFT}) n`);
  await client.query(`insert into entry (aircraft_id, seq, id, kind, happened_on, recorded_at, by_name, part_id, mass_kg, prev_hash, hash, content)
    select a.id, n, gen_random_uuid(), 'weighing', date '2026-01-01' + n / 50, '2026-01-01T00:00:00.000Z', 'AB',
      md5((n % 3000)::text)::uuid, n % 7, repeat(md5((n - 1)::text), 2), repeat(md5(n::text), 2),
      '{"text":"' || repeat(md5(n::text), 10) || '"}'
    from aircraft a, generate_series(1, ${ENTRIES}) n`);
  await client.query('alter table aircraft disable trigger aircraft_guarded');
  await client.query(`update aircraft set head_seq = ${ENTRIES}, head_hash = repeat(md5('${ENTRIES}'), 2)`);
  await client.query('alter table aircraft enable always trigger aircraft_guarded');
  await client.query('vacuum analyze');
  await client.end();
  return (performance.now() - began) / 1000;
}

/** A plan is told as a notice by the connection that carried it out. */
const EXPLAIN = [
  "load 'auto_explain'",
  'set auto_explain.log_min_duration = 0',
  'set auto_explain.log_analyze = on',
  'set auto_explain.log_buffers = on',
  'set auto_explain.log_nested_statements = on',
  'set auto_explain.log_level = notice',
];

async function plansOf(url: string): Promise<readonly string[]> {
  let told: string[] = [];
  const pool = new pg.Pool({
    connectionString: url,
    max: 1,
    types: columnParsers,
    onConnect: async (client) => {
      for (const statement of EXPLAIN) await client.query(statement);
      await takeOnAppRole(client);
    },
  });
  pool.on('connect', (client) => client.on('notice', ({ message = '' }) => told.push(message)));
  const db = new Kysely<Database>({ dialect: new PostgresDialect({ pool }) });
  const aircraftId = (await listAircraft(db))[50]?.id ?? '';
  const token = await aSession(db);
  const [id, note] = [randomUUID(), randomUUID()];
  const contentOf = (entry: string) =>
    JSON.stringify({ by: 'AB', happenedOn: '2026-05-01', id: entry, kind: 'note', text: 'x' });
  const first = (entries: AsyncIterable<unknown>) => entries[Symbol.asyncIterator]().next();
  const asked: Readonly<Record<string, () => Promise<unknown>>> = {
    'every request: whose session': () => sessionOf(db, tokenHash(token), new Date(), true),
    'every request: the aircraft of the path': () => findAircraft(db, aircraftId),
    'the list of aircraft': () => listAircraft(db),
    'before every answer: what came since the last entry known': () =>
      first(readEntries(db, { aircraftId, afterSeq: ENTRIES - 3 })),
    'after a start: a page of a ledger that is read': () => first(readEntries(db, { aircraftId, afterSeq: 4_000 })),
    'an entry’s hash': () => entryHash(db, aircraftId, 7_777),
    'an entry is recorded': () => appendEntries(db, { aircraftId, contents: [contentOf(id)], expectedSeq: ENTRIES }),
    'the same entry again': () => appendEntries(db, { aircraftId, contents: [contentOf(id)] }),
    'an entry on a ledger that has moved on': () =>
      appendEntries(db, { aircraftId, contents: [contentOf(note)], expectedSeq: ENTRIES }),
    'proposals of an aircraft': () => listRevisions(db, aircraftId),
  };
  const lines: string[] = [];
  try {
    for (const [name, ask] of Object.entries(asked)) {
      // The second time: without what a connection does once.
      if (!name.includes('record') && !name.includes('again')) await ask();
      told = [];
      await ask();
      lines.push(`${name}\n${told.map(shown).join('')}`);
    }
  } finally {
    await db.destroy();
  }
  return lines;
}

async function aSession(db: Kysely<Database>): Promise<string> {
  const who = { name: 'Ann', initials: 'AN', role: 'lead', aircraft: 'all', passwordHash: 'none' } as const;
  const made = await makePerson(db, who);
  if (!made.ok) throw new Error(made.refusal);
  return startSession(db, made.person.id, new Date());
}

/** Time and nodes; the statement itself stands in the code, and what is estimated says nothing here. */
function shown(plan: string): string {
  const [, ms = ''] = /^duration: ([\d.]+) ms/.exec(plan) ?? [];
  const nodes = plan
    .split('\n')
    .filter((line) => /\(actual |^\s*(Index Cond|Filter|Buffers):/.test(line))
    .map((line) => `      ${line.replace(/\(cost=[^)]*\) /, '').slice(0, 150)}`);
  return `    ${ms} ms\n${nodes.join('\n')}\n`;
}
