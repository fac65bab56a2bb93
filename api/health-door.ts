/**
 * The doors for whoever watches the server. Health: it answers, so does its database, and the scheduled backups are made (rule Z5). Ready:
 * requests may be sent its way (rule Y1).
 */
import { createRoute, z } from '@hono/zod-openapi';
import { sql } from 'kysely';
import { type DoorApp, type DoorContext, json, needs, REFUSED } from './door.ts';
import { Problem } from './problem/problem.ts';

/** That backups fail is no reason to start the server anew: it is told beside its answering. */
const Health = z.object({ ok: z.literal(true), backups: z.enum(['not scheduled', 'made', 'failing']) });

const health = createRoute({
  method: 'get',
  path: '/api/health',
  summary: 'Whether the server and its database answer, and whether scheduled backups are made',
  ...needs('public'),
  responses: { 200: json(Health, 'Both answer'), ...REFUSED },
});

const Ready = z.object({ ready: z.literal(true) });

const ready = createRoute({
  method: 'get',
  path: '/api/ready',
  summary:
    'Whether requests may be sent here: the database answers and has its tables, and the server is not being stopped',
  ...needs('public'),
  responses: { 200: json(Ready, 'They may'), ...REFUSED },
});

/** A proxy that asks has other servers to turn to. */
const MOST_MS = 2_000;

export function healthDoor(app: DoorApp): void {
  app.openapi(health, async (c) => {
    const { db, backups } = c.get('services');
    await sql`select 1`.execute(db);
    const isScheduled = backups.plan.everyHours !== undefined;
    const standing = !isScheduled ? 'not scheduled' : backups.failure === undefined ? 'made' : 'failing';
    return c.json({ ok: true, backups: standing } as const, 200);
  });

  app.openapi(ready, async (c) => {
    const { standing } = c.get('services');
    if (!standing.isStopping) await databaseAnswers(c);
    // Also where that began while it answered.
    if (standing.isStopping) throw new Problem('stopping', { retryAfterS: 1 });
    return c.json({ ready: true } as const, 200);
  });
}

/** Asked of a table: a server listens only once its tables are those of its version. */
async function databaseAnswers(c: DoorContext): Promise<void> {
  const { db, store } = c.get('services');
  const asked = db.selectFrom('aircraft').select('id').limit(1).execute();
  // The embedded database is in this very process, and may be busy with a list or a backup: there is no other to turn to.
  if (store.engine !== 'postgres') return void (await asked);
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    const away = new Problem('database-away', { cause: `no answer in ${MOST_MS / 1000} s`, retryAfterS: 2 });
    timer = setTimeout(() => reject(away), MOST_MS);
  });
  await Promise.race([asked, late]).finally(() => clearTimeout(timer));
  asked.catch(() => undefined);
}
