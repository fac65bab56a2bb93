/** The door for whoever watches the server: it answers, so does its database, and the scheduled backups are made (rule Z5). */
import { createRoute, z } from '@hono/zod-openapi';
import { sql } from 'kysely';
import { type DoorApp, json, needs, REFUSED } from './door.ts';

/** That backups fail is no reason to start the server anew: it is told beside its answering. */
const Health = z.object({ ok: z.literal(true), backups: z.enum(['not scheduled', 'made', 'failing']) });

const health = createRoute({
  method: 'get',
  path: '/api/health',
  summary: 'Whether the server and its database answer, and whether scheduled backups are made',
  ...needs('public'),
  responses: { 200: json(Health, 'Both answer'), ...REFUSED },
});

export function healthDoor(app: DoorApp): void {
  app.openapi(health, async (c) => {
    const { db, backups } = c.get('services');
    await sql`select 1`.execute(db);
    const isScheduled = backups.plan.everyHours !== undefined;
    const standing = !isScheduled ? 'not scheduled' : backups.failure === undefined ? 'made' : 'failing';
    return c.json({ ok: true, backups: standing } as const, 200);
  });
}
