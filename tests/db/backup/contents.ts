/** Every row of every table as the driver reads it, for comparing two stores without the code that backs them up. */
import { type Kysely, sql } from 'kysely';
import type { Database } from '#db/database.ts';

/** Without sessions, which end, and without the number of a transaction of the other database. */
export async function contentsOf(db: Kysely<Database>): Promise<Map<string, readonly Record<string, unknown>[]>> {
  const tables = await sql<{ name: string }>`
    select tablename::text as name from pg_tables
    where schemaname = 'public' and tablename not like 'kysely_%' and tablename <> 'session' order by 1`.execute(db);
  const contents = new Map<string, readonly Record<string, unknown>[]>();
  for (const { name } of tables.rows) {
    const { rows } = await sql<Record<string, unknown>>`select * from ${sql.id('public', name)}`.execute(db);
    const told = rows.map(({ began_in: _, ...row }) => row);
    contents.set(
      name,
      told.sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1)),
    );
  }
  return contents;
}
